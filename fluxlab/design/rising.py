"""How high a charge rises on its way to the pour: first as a swelling heap, still solid, then as foam on its melt."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.design.pot_types import PotGasReport
from fluxlab.design.report_types import FillReport

SWELL_LIMIT = 0.9
"""Part of the brim that a swelling heap may take, judgement."""
SEEN = 0.5
"""Foam lower than this [mm] is told as none."""


@dataclass(frozen=True, slots=True)
class Rise:
    """The higher of swelling heap and foam: which of the two, how far below the rim [mm], and in words."""

    kind: Literal["heap", "foam"]
    from_rim: float
    words: str


def highest_rise(fill: FillReport, gas: PotGasReport | None) -> Rise:
    """How high the charge stands at its worst before the pour."""
    heap = Rise("heap", fill.swollen_from_rim, f"swells to {100.0 * fill.swollen_fraction:.0f} %")
    over = foam_of(gas)
    if gas is None or gas.free is None or over is None or gas.free - over >= heap.from_rim:
        return heap
    return Rise("foam", gas.free - over, f"foams {over:.0f} mm, {gas.free:.0f} mm are free")


def foam_of(gas: PotGasReport | None) -> float | None:
    """Foam on the melt [mm]; None where it is not known or not worth telling."""
    return gas.foam if gas is not None and gas.foam is not None and gas.foam >= SEEN else None
