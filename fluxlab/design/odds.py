"""Chances as plain answers and as words."""

from math import sqrt

from fluxlab.design.plain_types import Answer

SURE_ENOUGH, EVEN = 0.9, 0.5
"""Chances from which an answer is yes and close; judgement."""
_NOISE = 1e-6
"""A recipe that stands on its limit is even, on whichever side of it the last digit falls."""


def by_chance(chance: float, samples: int = 0) -> Answer:
    """The plain answer for a chance [0..1], reckoned or counted over so many `samples`.

    Counted over a thousand ores a recipe that stands on its limit comes out even give or take the error of the count,
    and twice that error is no reason to call it less. What is sure has to be counted in full.
    """
    if chance + _NOISE >= SURE_ENOUGH:
        return "yes"
    noise = 2.0 * sqrt(EVEN * (1.0 - EVEN) / samples) if samples > 0 else _NOISE
    return "close" if chance + noise >= EVEN else "no"


def percent_of(chance: float) -> str:
    """A chance in percent, never rounded up to all nor down to none: "> 99 %"."""
    if chance >= 1.0 or chance <= 0.0:
        return f"{100.0 * chance:.0f} %"
    return "> 99 %" if chance > 0.99 else "< 1 %" if chance < 0.01 else f"{100.0 * chance:.0f} %"
