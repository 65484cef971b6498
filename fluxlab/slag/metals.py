"""Densities of the metals under the slag."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isnan
from types import MappingProxyType

from fluxlab import resources
from fluxlab.issue import Issue, note
from fluxlab.materials.estimate import Estimate


@dataclass(frozen=True, slots=True)
class Metal:
    """One metal: liquid density [g/cm3] at the melting point [degC], its fall [g/cm3 per degC], where the table ends
    [degC], density of the solid [g/cm3].
    """

    name: str
    melting_point: float
    density: float
    fall: float
    tabled_to: float
    solid: float


METALS: Mapping[str, Metal] = MappingProxyType(
    {symbol: Metal(**row) for symbol, row in resources.toml("metals.toml").items() if symbol != "source"}
)
"""The metals by symbol: silver, gold, lead, copper."""

# judgement: the table's own straight line, and the same line carried on past its end or below the freezing point
HOTTEST = 3000.0
"""The line of a density is not carried on beyond this [degC]; judgement."""
_WITHIN = 0.01
_BEYOND = 0.03


@dataclass(frozen=True, slots=True)
class MetalVolume:
    """Volume of the liquid metal [cm3] and what makes it doubtful."""

    volume: Estimate
    issues: tuple[Issue, ...]


def liquid_density(metal: str, temperature: float) -> float:
    """Density of a liquid metal at a temperature [degC] [g/cm3]; raises KeyError for a metal that is not in `METALS`.

    Below absolute zero and above `HOTTEST` the line is held, and what is no number counts as the melting point: a
    density below nothing would stop everything that fills a pot.
    Source: CRC Handbook, density of molten elements.
    """
    row = METALS[metal]
    held = row.melting_point if isnan(temperature) else min(max(temperature, -273.15), HOTTEST)
    return row.density - row.fall * (held - row.melting_point)


def solid_density(metal: str) -> float:
    """Density of a solid metal at room temperature [g/cm3]; raises KeyError for a metal that is not in `METALS`."""
    return METALS[metal].solid


def liquid_metal_volume(masses: Mapping[str, float], temperature: float) -> MetalVolume:
    """Volume of metals [g] as one liquid at a temperature [degC], each adding its own [cm3].

    Below its melting point a metal is taken as dissolved in the others, its line carried on.
    """
    value = spread = 0.0
    issues: list[Issue] = []
    for metal, mass in masses.items():
        volume = mass / liquid_density(metal, temperature)
        row = METALS[metal]
        tabled = row.melting_point <= temperature <= row.tabled_to
        value += volume
        spread += volume * (_WITHIN if tabled else _BEYOND)
        if mass > 0.0 and not tabled:
            issues.append(
                note(
                    "fill",
                    f"The density of liquid {row.name} is tabled from {row.melting_point:.0f} to"
                    f" {row.tabled_to:.0f} °C; its line is carried on to {temperature:.0f} °C.",
                )
            )
    return MetalVolume(Estimate(value, value - spread, value + spread), tuple(issues))
