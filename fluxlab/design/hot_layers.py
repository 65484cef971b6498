"""Where metal, speiss and matte stand under the slag, for the drawings of pot and mould."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fluxlab import resources
from fluxlab.design.button_words import expected_button
from fluxlab.design.pot_types import MetalRow, PotReport
from fluxlab.design.report_types import Report
from fluxlab.fusion.bullion import bullion_data
from fluxlab.slag.metals import METALS, liquid_metal_volume
from fluxlab.vessel.profile import Profile

_THIN = 0.05
"""A layer of less than this [g] is no layer."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: its mass [g], and where it begins and ends over the lowest point [mm]."""

    mass: float
    low: float
    top: float

    @property
    def height(self) -> float:
        """How thick it lies [mm]."""
        return self.top - self.low


@dataclass(frozen=True, slots=True)
class HotLayers:
    """Metal at the bottom, speiss on it, matte on that; a layer that is not expected has no mass and no height."""

    metal: Layer
    speiss: Layer
    matte: Layer


def hot_layers(report: Report, profile: Profile, surface: float) -> HotLayers | None:
    """Layers by mass and level [g, mm] under a melt whose surface stands at `surface` [mm].

    None where it is not known what happens in the pot. The surface is that of the report: what comes down as metal and
    matte was counted there as slag.
    """
    if report.pot is None:
        return None
    at = report.work.recipe.pour_temperature
    metal, button = _metal_masses(report.pot), expected_button(report.pot)
    table = resources.toml("layers.toml")
    volume = 0.0
    bounds = [0.0]
    layers = []
    for mass, more in (
        (0.0 if button is None else button.value, _metal_volume(metal, at, table["other_metals"]["shrink"])),
        _of(report.pot.sulphur.speiss.value, table["speiss"]),
        _of(report.pot.sulphur.matte.value, table["matte"]),
    ):
        volume += more
        bounds.append(min(profile.level(volume), max(surface, 0.0)))
        layers.append(Layer(mass, bounds[-2], bounds[-1]))
    return HotLayers(*layers)


def _metal_masses(pot: PotReport) -> Mapping[str, float]:
    """The button by metals [g]; traces that have no row count with them."""
    button = expected_button(pot)
    rows: tuple[MetalRow, ...] = () if button is None else pot.button.metals
    told = sum(row.grams.value for row in rows)
    whole = button.value / told if button is not None and told > 0.0 else 1.0
    return {row.symbol: whole * row.grams.value for row in rows}


def _of(mass: float, row: Mapping[str, Any]) -> tuple[float, float]:
    return (mass, mass / row["density"]) if mass >= _THIN else (0.0, 0.0)


def _metal_volume(masses: Mapping[str, float], at: float, shrink: float) -> float:
    """Volume of the liquid metal [cm3], each adding its own."""
    solid: Mapping[str, Any] = bullion_data()["density"]
    told = liquid_metal_volume({s: g for s, g in masses.items() if s in METALS}, at).volume.value
    others = [g / (shrink * float(solid[s])) for s, g in masses.items() if s not in METALS and s in solid]
    return float(told + sum(others))
