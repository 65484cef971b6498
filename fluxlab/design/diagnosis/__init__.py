"""From what was seen after a melt to probable causes, ranked by what this recipe makes likely, and their mends.

The odds of a cause are those that the recipe gives it, times how strongly each thing that was seen speaks for it: the
same look has other causes in front on another recipe.
"""

from collections.abc import Iterable
from dataclasses import replace

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.judge import apply_mend, judged, mends_for
from fluxlab.design.diagnosis.mends import CANDIDATES
from fluxlab.design.diagnosis.priors import prior
from fluxlab.design.diagnosis.table import causes, observations
from fluxlab.design.diagnosis.types import Cause, Diagnosis, Observation
from fluxlab.design.report_types import Mend, Report
from fluxlab.issue import Issue, note

__all__ = ["Cause", "Diagnosis", "Mend", "Observation", "apply_mend", "diagnose", "judged", "mends_for", "observations"]

UNSEEN = 0.05
"""How strongly a look speaks for a cause that it does not point to [-]; judgement."""


def diagnose(report: Report, seen: Iterable[str]) -> Diagnosis:
    """Causes of what was seen, the likeliest first, for the recipe of a report.

    `seen` are keys of `observations`. An observation that is not known is an issue, in words.
    """
    known = {each.key: each for each in observations()}
    named = tuple(dict.fromkeys(seen))
    looks = [known[key] for key in named if key in known]
    issues = tuple(_unknown(key) for key in named if key not in known)
    if not named:
        issues = (note("seen", "Nothing was noted that could be judged.", "Say how slag, button and pot looked."),)
    figures = Figures(report)
    pointed = dict.fromkeys(cause for look in looks for cause, _ in look.points_to)
    found = [_cause(key, looks, figures) for key in pointed]
    total = sum(odds for odds, _ in found) or 1.0
    ranked = [replace(cause, share=100.0 * odds / total) for odds, cause in sorted(found, key=lambda pair: -pair[0])]
    return Diagnosis(tuple(ranked), issues)


def _unknown(key: str) -> Issue:
    return note("seen", f"“{key}” is not in the table of looks, so nothing is made of it.", "Choose one of the list.")


def _cause(key: str, looks: list[Observation], figures: Figures) -> tuple[float, Cause]:
    before = prior(key, figures)
    odds, seen = before.odds, []
    for look in looks:
        speaks = dict(look.points_to).get(key)
        odds *= UNSEEN if speaks is None else max(speaks, UNSEEN)
        if speaks is not None:
            seen.append(look.key)
    row = causes()[key]
    return odds, Cause(
        key=key,
        words=row["words"],
        share=0.0,
        why=before.why,
        change=row["change"],
        may_be_mended=key in CANDIDATES,
        source=row["source"],
        seen=tuple(seen),
    )
