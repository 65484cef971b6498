"""Head-room that a charge needs: as a heap that swells while it comes up to heat, and as foam once it is molten.

The swelling is a design check by judgement; the foam goes by the index of the molten slag (`gas_timing`).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from fluxlab import resources
from fluxlab.fusion.tables import Table


@dataclass(frozen=True, slots=True)
class Swelling:
    """One component of the loose charge: its loose volume [cm3] and its swell factor [-]."""

    loose_volume: float
    swell: float


def swollen_volume(parts: Iterable[Swelling], packing: float = 1.0) -> float:
    """Volume of the heap at its highest, before it melts [cm3].

    The mixed volume times the swell factors weighted by loose volume; `packing` [-] is how much less the mixed powder
    takes than its parts do apart.
    """
    return packing * sum(part.loose_volume * part.swell for part in parts)


def ore_swell(
    carbonate_share: float, dioxide_share: float, ferric_share: float, with_carbon: bool, data: Table | None = None
) -> float:
    """Swell factor of the ore itself [-], from its carbonate, manganese dioxide and ferric oxide as mass fractions.

    Rises in a straight line to the full factor where the ore is rich in them; ferric oxide only beside a reducer.
    """
    row = (data or resources.toml("fusion/foam.toml"))["swell"]
    quiet: float = row["quiet"]
    gassy = min((carbonate_share + dioxide_share) / row["rich"], 1.0) * (row["carbonate"] - quiet)
    ferric = min(ferric_share / row["rich"], 1.0) * (row["ferric"] - quiet) if with_carbon else 0.0
    return float(quiet + max(gassy, ferric))


def feeds_for_foam(foam: float, free: float, feeds: int, most: int) -> int:
    """Fewest equal feeds whose foam stays below the rim; 0 if more than `most` would be wanted.

    `foam` [mm] is that of each of so many `feeds`, `free` [mm] the height above the melt: foam goes with the gas.
    """
    if foam <= free:
        return feeds
    wanted = ceil(feeds * foam / free - 1e-9) if free > 0.0 else 0
    return wanted if wanted <= most else 0


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
