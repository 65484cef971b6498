"""How a charge that does not fit at once is fed: how much now, how much later, how many melts."""

import math
from dataclasses import dataclass

from fluxlab.issue import Issue, error, warning
from fluxlab.vessel.profile import Profile

# judgement: more feeds than this take longer than the pot and the silver should stand at heat
MOST_STAGES = 8
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Charge:
    """A mixed charge (ore and flux) to be fed: mass [g], loose and molten volume of a gram of it [cm3/g].

    `metal_volume` [cm3] is the liquid metal that the whole charge leaves, in proportion to what has been fed.
    """

    mass: float
    loose_per_gram: float
    melt_per_gram: float
    metal_volume: float = 0.0

    @property
    def molten_per_gram(self) -> float:
        """Slag and metal that a gram of charge leaves in the pot [cm3/g]."""
        return self.melt_per_gram + (self.metal_volume / self.mass if self.mass > 0.0 else 0.0)

    @property
    def molten_volume(self) -> float:
        """Slag and metal that the whole charge leaves [cm3]."""
        return self.mass * self.molten_per_gram


@dataclass(frozen=True, slots=True)
class Feed:
    """One feed: mass [g], its loose volume [cm3] and how far below the rim the heap then stands [mm]."""

    mass: float
    volume: float
    from_rim: float


@dataclass(frozen=True, slots=True)
class FeedPlan:
    """The feeds of one melt, how many equal melts the charge takes (0 = unknown) and what stands in the way."""

    feeds: tuple[Feed, ...]
    melts: int
    issues: tuple[Issue, ...] = ()


def plan_feeds(
    profile: Profile, charge: Charge, fill_limit: float, melt_limit: float = 0.5, most_stages: int = MOST_STAGES
) -> FeedPlan:
    """Feeds [g] of a charge so that no heap passes `fill_limit` and no quiet melt `melt_limit`, fractions of the brim.

    Each feed fills what the melt of the earlier ones leaves free below the limit. Where one melt cannot take the
    charge, it is divided into the fewest equal melts that can, with a warning that says so.
    """
    room = fill_limit * profile.brim
    if not (charge.mass > 0.0 and charge.loose_per_gram > 0.0 and charge.molten_per_gram >= 0.0 and room > 0.0):
        unknown = error("fill", "The volume of the charge is not known.", "Check masses, densities and the fill limit.")
        return FeedPlan((), 0, (unknown,))
    by_feeds = _most_in_stages(room, charge.loose_per_gram, charge.molten_per_gram, most_stages)
    by_melt = _most_molten(melt_limit * profile.brim, charge.molten_per_gram)
    one_melt = min(by_feeds, by_melt)
    melts = max(1, math.ceil(charge.mass / one_melt * (1.0 - _ROUNDING)))
    feeds = _feeds(profile, charge, charge.mass / melts, room)
    if melts == 1:
        return FeedPlan(feeds, 1)
    if by_melt < by_feeds:
        reason = f"more would stand above {melt_limit:.0%} of the pot once molten"
    else:
        reason = f"more would take over {most_stages} feeds"
    sentence = f"One melt takes at most {one_melt:.0f} g of the {charge.mass:.0f} g of mixed charge: {reason}."
    remedy = f"Make {melts} melts of {charge.mass / melts:.0f} g each, or take a larger pot."
    return FeedPlan(feeds, melts, (warning("fill", sentence, remedy),))


def _most_in_stages(room: float, loose: float, molten: float, stages: int) -> float:
    # feed k fills room - molten*(fed so far), a geometric row that sums to room/molten*(1 - (1 - molten/loose)^k)
    ratio = molten / loose
    if ratio >= 1.0:
        return room / loose
    if ratio < _ROUNDING:
        return stages * room / loose
    return room / molten * (1.0 - (1.0 - ratio) ** stages)


def _most_molten(room: float, molten: float) -> float:
    return room / molten if molten > 0.0 else math.inf


def _feeds(profile: Profile, charge: Charge, mass: float, room: float) -> tuple[Feed, ...]:
    feeds: list[Feed] = []
    fed = 0.0
    while mass - fed > _ROUNDING * mass:
        molten = fed * charge.molten_per_gram
        volume = min(room - molten, (mass - fed) * charge.loose_per_gram)
        lot = volume / charge.loose_per_gram
        feeds.append(Feed(lot, volume, profile.depth - profile.level(molten + volume)))
        fed += lot
    return tuple(feeds)
