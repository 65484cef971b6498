"""What comes down under the slag by mass and volume: metal, speiss and matte."""

from collections.abc import Mapping

from fluxlab.design.button_words import expected_button
from fluxlab.design.layer_volume import layer_volume, metal_volume
from fluxlab.design.pot_types import MetalRow, PotReport

_THIN = 0.05
"""A layer of less than this [g] is no layer."""


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
