"""Head-room that a charge needs while it swells and foams, a design check by judgement."""

from collections.abc import Iterable
from dataclasses import dataclass

from fluxlab import resources
from fluxlab.fusion.tables import Table


@dataclass(frozen=True, slots=True)
class Swelling:
    """One component of the loose charge: its loose volume [cm3] and its foam factor [-]."""

    loose_volume: float
    swell: float


def foam_volume(parts: Iterable[Swelling], packing: float = 1.0) -> float:
    """Volume that the charge needs while it swells [cm3].

    The mixed volume times the foam factors weighted by loose volume; `packing` [-] is how much less the mixed powder
    takes than its parts do apart.
    """
    return packing * sum(part.loose_volume * part.swell for part in parts)


def ore_swell(
    carbonate_share: float, dioxide_share: float, ferric_share: float, with_carbon: bool, data: Table | None = None
) -> float:
    """Foam factor of the ore itself [-], from its carbonate, manganese dioxide and ferric oxide as mass fractions.

    Rises in a straight line to the full factor where the ore is rich in them; ferric oxide foams only beside a reducer.
    """
    row = (data or resources.toml("fusion/foam.toml"))["swell"]
    quiet: float = row["quiet"]
    gassy = min((carbonate_share + dioxide_share) / row["rich"], 1.0) * (row["carbonate"] - quiet)
    ferric = min(ferric_share / row["rich"], 1.0) * (row["ferric"] - quiet) if with_carbon else 0.0
    return float(quiet + max(gassy, ferric))


def foam_index(
    viscosity: float, density: float, tension: float = 0.28, bubble: float = 5.0, data: Table | None = None
) -> float:
    """Seconds of gas that a foam holds: its height over the speed of the gas [s].

    `viscosity` [Pa s], `density` of the slag [g/cm3], surface `tension` [N/m], `bubble` diameter [mm]. From memory,
    Zhang and Fruehan 1995; tried for slags up to about 1 Pa s.
    """
    row = (data or resources.toml("fusion/foam.toml"))["index"]
    top: float = row["factor"] * viscosity ** row["viscosity_power"]
    below: float = tension ** row["tension_power"] * density * 1e3 * (bubble * 1e-3) ** row["bubble_power"]
    return top / below if below > 0.0 else 0.0
