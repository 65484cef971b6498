"""The priors of all causes, by key; a cause without a rule is judged by what was seen alone."""

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.prior import Prior, Rule, told
from fluxlab.design.diagnosis.prior_fire import FIRE
from fluxlab.design.diagnosis.prior_metal import METAL
from fluxlab.design.diagnosis.prior_slag import SLAG

PRIORS: dict[str, Rule] = SLAG | METAL | FIRE
_NEUTRAL = told(1.0, "this recipe says nothing for or against it")


def prior(cause: str, figures: Figures) -> Prior:
    """What this recipe says of a cause."""
    rule = PRIORS.get(cause)
    return _NEUTRAL if rule is None else rule(figures)
