"""Steps and contours of the slag map: the turn from warm to cool lies at the operator's own limit."""

from math import log10

from fluxlab.gui.charts.fluid_words import plain_limit

PARTS = (0.2, 0.3, 0.6, 1.0, 2.0, 4.0)
"""Contours as multiples of the limit. Seven steps lie between and beyond them: four pour, three are too stiff."""
WITHOUT_LIMIT = 2.0
"""Where the colours turn when no viscosity target is set [Pa s]."""


def levels(limit: float | None) -> tuple[float, ...]:
    """Contours as log10 of the viscosity [Pa s], rising."""
    turn = limit if limit is not None and limit > 0.0 else WITHOUT_LIMIT
    return tuple(log10(part * turn) for part in PARTS)


def level_words(level: float) -> str:
    """A contour's figure: "0.2", "1.0", "4"."""
    value = float(f"{10.0**level:.2g}")
    words = plain_limit(value)
    return words[:-2] if value > 1.0 and words[-2:] in (".0", ",0") else words
