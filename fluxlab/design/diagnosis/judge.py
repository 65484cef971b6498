"""What of the changes that a cause asks for helps on this recipe: each is made, evaluated, and dropped if it harms.

Nothing is offered for a cause that the recipe all but rules out. A change is offered if it
- makes its cause less likely, or does not move it and says why it helps all the same,
- brings no caution that blocks,
- breaks no hard limit, nor one that is broken already any further,
- turns none of the five answers to No,
- costs no silver or gold, and leaves the button what it was to be, but for more of these.
"""

from collections.abc import Iterable, Iterator
from math import log

from fluxlab.design.diagnosis.candidate import Candidate
from fluxlab.design.diagnosis.charge_figures import must_missed
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.mends import CANDIDATES
from fluxlab.design.diagnosis.prior import LEAST, Prior
from fluxlab.design.diagnosis.priors import prior
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Mend, Report

HELPS = log(1.01)
"""By how much the logarithm of the odds has to fall: judgement, below it nobody would see a change."""
COSTS = 2.0  # % of the silver or gold: judgement
OTHER_BUTTON, OTHER_METAL = 0.25, 0.01
"""By how much base metal of the button may change, of the button or of the charge [-]: judgement. A fifth more of a
reducer brings a fifth more."""
HIDES = frozenset({"matte", "speiss", "sulphur-button", "soda-sulphide"})
"""Causes that keep metal out of the button, so that more of it is what their mend is for."""
EVEN = 1e-6


def apply_mend(work: Work, mend: Mend) -> tuple[str, Work]:
    """The work with the edit of a mend made, and the label of the step."""
    from fluxlab.design import edits

    if mend.edit not in edits.__all__:
        raise ValueError(f"“{mend.edit}” is no edit")
    label: str
    label, work = getattr(edits, mend.edit)(work, *mend.arguments)
    return label, work


def judged(report: Report, causes: Iterable[str]) -> Iterator[tuple[str, Mend | None]]:
    """Every change that these causes ask for, with its cause; None in the place of one that does not help, or that
    stands under a cause before it.

    Each takes one evaluation of the recipe, so that they are best asked for one at a time.
    """
    figures, made, offered = Figures(report), _Made(report.work), set[Mend]()
    for cause in causes:
        before = prior(cause, figures)
        for candidate in CANDIDATES.get(cause, ()) if before.odds > LEAST + EVEN else ():
            mend = candidate.mender(figures)
            if mend is None or mend in offered or not _good(report, made.by(mend), cause, before, candidate):
                yield cause, None
                continue
            offered.add(mend)
            yield cause, mend


class _Made:
    """The reports of a recipe as changed; two causes that ask for the same change need one evaluation."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._reports: dict[Mend, Report] = {}

    def by(self, mend: Mend) -> Report:
        """The report of the recipe with this change."""
        from fluxlab.design.evaluate import evaluate

        if mend not in self._reports:
            self._reports[mend] = evaluate(apply_mend(self._work, mend)[1])
        return self._reports[mend]


def mends_for(report: Report, cause: str) -> tuple[Mend, ...]:
    """The changes that help against a cause, the one to try first in front."""
    return tuple(mend for _, mend in judged(report, (cause,)) if mend is not None)


def _good(report: Report, then: Report, cause: str, before: Prior, candidate: Candidate) -> bool:
    return (
        helps(before, prior(cause, Figures(then)), bool(candidate.unseen))
        and blocks(then) <= blocks(report)
        and keeps_limits(report, then)
        and refused(then) <= refused(report)
        and keeps_product(report, then, cause in HIDES)
    )


def helps(before: Prior, after: Prior, unseen: bool = False) -> bool:
    """Whether a cause becomes less likely; where that cannot be seen, whether it becomes no likelier."""
    if log(after.odds) > log(before.odds) + EVEN:
        return False
    return unseen or log(before.odds) - log(after.odds) > HELPS or before.lean - after.lean > HELPS


def blocks(report: Report) -> frozenset[str]:
    """Rules that block the ticket."""
    return frozenset(caution.rule for caution in report.cautions if caution.level == "block")


def refused(report: Report) -> frozenset[str]:
    """Which of the five questions are answered with No."""
    return frozenset(verdict.key for verdict in report.verdicts if verdict.answer == "no")


def keeps_limits(before: Report, after: Report) -> bool:
    """Whether every hard limit is kept, or as nearly as it was before."""
    broken = {target.key: target.off_by for target in before.targets if must_missed(target)}
    return all(t.off_by <= broken.get(t.key, 0.0) * (1.0 + EVEN) + EVEN for t in after.targets if must_missed(t))


def keeps_product(before: Report, after: Report, hidden: bool = False) -> bool:
    """Whether as much silver and gold comes back, in a button that is much like the one that was wanted.

    Where it was `hidden` in matte and speiss, base metal may come down with the silver, no more than these weighed.
    """
    was, then = Figures(before), Figures(after)
    if any(then.recovery(metal) < was.recovery(metal) - COSTS for metal in ("silver", "gold")):
        return False
    if was.base_wanted and then.lead_off < was.lead_off:
        return True
    room = max(OTHER_BUTTON * (was.button or 0.0) / (before.ore.charge or 1.0), OTHER_METAL)
    grown, freed = then.base_share - was.base_share, was.layer_share if hidden else 0.0
    return grown <= room + freed and (grown >= -room or not was.base_wanted)
