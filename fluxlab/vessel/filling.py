"""How high a pot or mould stands full: heap, melt, metal under slag, freeboard."""

from dataclasses import dataclass

from fluxlab.vessel.profile import Profile


@dataclass(frozen=True, slots=True)
class Stand:
    """How high a volume stands: volume and what is over the brim [cm3], fraction of the brim [-], heights [mm].

    `level` is above the lowest point, `from_rim` below the rim. An over-full vessel has `over` above zero, a fraction
    above one and a negative `from_rim`.
    """

    volume: float
    fraction: float
    level: float
    from_rim: float
    over: float


@dataclass(frozen=True, slots=True)
class Marks:
    """Heights at which half and two thirds of the brimful stand [mm]."""

    half: float
    two_thirds: float


@dataclass(frozen=True, slots=True)
class Layers:
    """Metal with slag on it: where the metal ends, where the whole ends, slag thickness over the metal [mm]."""

    metal: Stand
    whole: Stand
    cover: float

    @property
    def freeboard(self) -> float:
        """Free wall above the slag [mm]; negative when it runs over."""
        return self.whole.from_rim


def stand(profile: Profile, volume: float) -> Stand:
    """How high a volume [cm3] stands, its surface taken as flat [mm, cm3, -]."""
    level = profile.level(volume)
    over = max(volume - profile.brim, 0.0)
    return Stand(volume, volume / profile.brim, level, profile.depth - level, over)


def marks(profile: Profile) -> Marks:
    """Heights of the half and two-thirds marks, by volume [mm]."""
    return Marks(profile.level(profile.brim / 2.0), profile.level(profile.brim * 2.0 / 3.0))


def layers(profile: Profile, metal_volume: float, slag_volume: float) -> Layers:
    """Metal [cm3] at the bottom and slag [cm3] on it, in a quiet pot or in the mould [mm, cm3]."""
    metal = stand(profile, metal_volume)
    whole = stand(profile, metal_volume + slag_volume)
    return Layers(metal, whole, whole.level - metal.level)


def slag_for_cover(profile: Profile, metal_volume: float, cover: float) -> float:
    """Slag volume that stands the given height [mm] over a metal volume [cm3] in this vessel [cm3]."""
    return profile.volume(profile.level(metal_volume) + cover) - metal_volume
