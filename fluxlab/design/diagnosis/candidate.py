"""A change that a cause asks for, before it is judged on the recipe that it is for."""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.report_types import Mend
from fluxlab.materials.flux_types import Component

Mender = Callable[[Figures], Mend | None]

MORE = 1.2  # a fifth more or less of a flux: judgement, enough to be seen in the slag


@dataclass(frozen=True, slots=True)
class Candidate:
    """How a change is made, and where no figure of the recipe shows that it helps, why it does.

    Without `unseen` a change is offered only where it makes its cause less likely.
    """

    mender: Mender
    unseen: str = ""


def now(f: Figures, component: Component) -> float:
    """What the recipe has of a flux [g]."""
    return next((line.grams for line in f.report.lines if line.flux == component.uid), 0.0)


def fix(f: Figures, component: Component | None, grams: float) -> Mend | None:
    """Fix a flux at a weight [g], if it is on the shelf and the weight is another than now."""
    if component is None or not isfinite(grams):
        return None
    weight, before = max(0.0, round(grams, 1)), now(f, component)
    if abs(weight - before) < 0.05:
        return None
    return Mend(f"{component.name} {before:.1f} → {weight:.1f} g", "fix_weight", (component.uid, weight))
