"""How likely a cause is by the figures of this recipe, before anything was seen.

Each prior is odds: 1 neither for nor against, above 1 likely. The figure at which odds turn, and how far, is judgement.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log

from fluxlab.design.diagnosis.figures import Figures

LEAST, MOST = 0.05, 5.0
"""Odds of a cause that the recipe speaks against with all that it has, the same for every cause; and the highest."""


@dataclass(frozen=True, slots=True)
class Odds:
    """Odds [-], and their logarithm as it would be if no figure had an end at which it stops counting.

    The second tells which way a change goes where the first stands at an end.
    """

    value: float
    lean: float

    def __mul__(self, other: "Odds | float") -> "Odds":
        by = as_odds(other)
        return Odds(self.value * by.value, self.lean + by.lean)


@dataclass(frozen=True, slots=True)
class Prior:
    """Odds [-], why in a sentence without a full stop, and the odds' logarithm without ends."""

    odds: float
    why: str
    lean: float


Rule = Callable[[Figures], Prior]


NEUTRAL = Odds(1.0, 0.0)


def likelier(one: Odds, other: Odds) -> Odds:
    """The higher of two odds [-]."""
    return max(one, other, key=lambda odds: (odds.value, odds.lean))


def as_odds(odds: Odds | float) -> Odds:
    """Odds that no figure moves [-]."""
    return odds if isinstance(odds, Odds) else Odds(odds, log(odds))


def told(odds: Odds | float, why: str) -> Prior:
    """A prior of these odds [-], kept between the ends that hold for every cause, with what makes them."""
    found = as_odds(odds)
    return Prior(min(max(found.value, LEAST), MOST), why, found.lean)


def ramp(value: float, low: float, high: float, least: float = LEAST, most: float = MOST) -> Odds:
    """Odds that go from `least` at `low` to `most` at `high`, in equal steps of their logarithm."""
    way, whole = (value - low) / (high - low), log(most / least)
    return Odds(least * exp(whole * min(max(way, 0.0), 1.0)), log(least) + whole * way)
