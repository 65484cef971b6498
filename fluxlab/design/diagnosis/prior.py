"""How likely a cause is by the figures of this recipe, before anything was seen.

Each prior is odds: 1 neither for nor against, above 1 likely. The figure at which odds turn, and how far, is judgement.
"""

from collections.abc import Callable
from dataclasses import dataclass

from fluxlab.design.diagnosis.figures import Figures


@dataclass(frozen=True, slots=True)
class Prior:
    """Odds [-], and why in a sentence without a full stop."""

    odds: float
    why: str


Rule = Callable[[Figures], Prior]
LEAST, MOST = 0.05, 5.0


def ramp(value: float, low: float, high: float, least: float = LEAST, most: float = MOST) -> float:
    """Odds that go from `least` at `low` to `most` at `high`, in equal steps of their logarithm."""
    way = min(max((value - low) / (high - low), 0.0), 1.0)
    return float(least * (most / least) ** way)
