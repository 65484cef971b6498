"""Where metal, speiss and matte stand under the slag, for the drawings of pot and mould."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluxlab.design.button_words import expected_button
from fluxlab.design.layer_volume import layer_volume, metal_volume
from fluxlab.design.pot_types import MetalRow, PotReport
from fluxlab.design.report_types import Report
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
    volume = 0.0
    bounds = [0.0]
    layers = []
    for mass, more in predicted(report.pot, report.work.recipe.pour_temperature):
        volume += more
        bounds.append(min(profile.level(volume), max(surface, 0.0)))
        layers.append(Layer(mass, bounds[-2], bounds[-1]))
    return HotLayers(*layers)


def predicted(pot: PotReport, at: float) -> tuple[tuple[float, float], ...]:
    """Mass and volume [g, cm3] of metal, speiss and matte at a temperature [degC], in the order they lie."""
    button = expected_button(pot)
    return (
        (0.0 if button is None else button.value, metal_volume(metal_masses(pot), at)),
        _of(pot.sulphur.speiss.value, "speiss"),
        _of(pot.sulphur.matte.value, "matte"),
    )


def metal_masses(pot: PotReport) -> Mapping[str, float]:
    """The button by metals [g]; traces that have no row count with them."""
    button = expected_button(pot)
    rows: tuple[MetalRow, ...] = () if button is None else pot.button.metals
    told = sum(row.grams.value for row in rows)
    whole = button.value / told if button is not None and told > 0.0 else 1.0
    return {row.symbol: whole * row.grams.value for row in rows}


def _of(mass: float, layer: str) -> tuple[float, float]:
    return (mass, layer_volume(layer, mass)) if mass >= _THIN else (0.0, 0.0)
