"""Which figures of a row stand apart from the others."""

from collections.abc import Sequence
from math import log
from statistics import median

from fluxlab.learn.measured import Measured

LEAST = 4
"""Fewer figures than this cannot tell which of them is odd; judgement."""
APART = 3.5
"""Modified z beyond which a figure stands apart: B. Iglewicz and D. Hoaglin, How to Detect and Handle Outliers, 1993
(from memory)."""
_TO_SIGMA = 0.6745  # median absolute deviation of a normal distribution, in standard deviations: computed


def modified_z(values: Sequence[float], least_spread: float = 0.0) -> list[float]:
    """How far each value stands from the median, in standard deviations estimated from the median deviation [-].

    `least_spread` is the standard deviation below which the spread is not believed.
    """
    middle = median(values)
    spread = max(median(abs(value - middle) for value in values), _TO_SIGMA * least_spread)
    return [_TO_SIGMA * (value - middle) / spread if spread > 0.0 else 0.0 for value in values]


def standing_apart(row: Sequence[Measured]) -> tuple[int, ...]:
    """Places in a row of figures that stand apart from the others; none in a row of fewer than four.

    No spread smaller than the figures' own errors is believed, so that good agreement accuses nobody.
    """
    if len(row) < LEAST:
        return ()
    far = modified_z([log(each.value) for each in row], median(each.own for each in row))
    return tuple(place for place, z in enumerate(far) if abs(z) > APART)
