"""Chances as plain answers and as words."""

from fluxlab.design.plain_types import Answer

SURE_ENOUGH, EVEN = 0.9, 0.5
"""Chances from which an answer is yes and close; judgement."""
_NOISE = 1e-6
"""A recipe that stands on its limit is even, on whichever side of it the last digit falls."""


def by_chance(chance: float) -> Answer:
    """The plain answer for a chance [0..1]."""
    even = chance + _NOISE
    return "yes" if even >= SURE_ENOUGH else "close" if even >= EVEN else "no"


def percent_of(chance: float) -> str:
    """A chance in percent, never rounded up to all nor down to none: "> 99 %"."""
    if chance >= 1.0 or chance <= 0.0:
        return f"{100.0 * chance:.0f} %"
    return "> 99 %" if chance > 0.99 else "< 1 %" if chance < 0.01 else f"{100.0 * chance:.0f} %"
