"""Head-room that a charge needs while it swells and foams, a design check by judgement."""

from collections.abc import Iterable
from dataclasses import dataclass

from fluxlab import resources
from fluxlab.fusion.tables import Table

FOAM_LIMIT = 0.90
"""Part of the brim that the swollen charge may reach [-]; judgement."""

QUIET_SWELL = 1.1
"""Foam factor of what gives hardly any gas [-]; judgement."""
CARBONATE_SWELL = 2.0
"""Foam factor of a carbonate or manganese-dioxide gangue [-]; judgement."""
FERRIC_SWELL = 1.5
"""Foam factor of a calcine rich in ferric oxide beside carbon [-]; judgement."""
# judgement: half of the charge is what makes a gangue "carbonate" or a calcine "rich in ferric oxide"
_RICH = 0.5


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


def ore_swell(carbonate_share: float, dioxide_share: float, ferric_share: float, with_carbon: bool) -> float:
    """Foam factor of the ore itself [-], from its carbonate, manganese dioxide and ferric oxide as mass fractions.

    Rises in a straight line to the full factor at half of the ore; ferric oxide foams only beside a reducer.
    """
    gassy = min((carbonate_share + dioxide_share) / _RICH, 1.0) * (CARBONATE_SWELL - QUIET_SWELL)
    ferric = min(ferric_share / _RICH, 1.0) * (FERRIC_SWELL - QUIET_SWELL) if with_carbon else 0.0
    return QUIET_SWELL + max(gassy, ferric)


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
