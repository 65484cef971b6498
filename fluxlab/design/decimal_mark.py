"""The sentences of a report with the decimal mark of the reader's country."""

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from fluxlab.design.report_types import OreReport, Report, Verdict
from fluxlab.issue import Issue

T = TypeVar("T")

_SAID = frozenset({"sentence", "remedy", "words", "reason", "figure", "retreat", "because", "given_up"})
"""Fields whose words a reader sees; all other text is a name, a key or a source."""
_POINT = re.compile(r"(?<![\d.A-Za-z])(\d+)\.(\d+)(?![\d]|\.\d|[A-Za-z(])")


def with_mark(sentence: str, mark: str) -> str:
    """A sentence with its decimal points replaced. Points inside formulas and names like "Zn0.85Fe0.15S" stay."""
    return sentence if mark == "." else _POINT.sub(rf"\g<1>{mark}\g<2>", sentence)


def with_marks(report: Report, mark: str) -> Report:
    """A report whose words carry the decimal mark; figures, names and ids are left as they are."""
    if mark == ".":
        return report

    def said(sentence: str) -> str:
        return with_mark(sentence, mark)

    return replace(
        report,
        ore=_ore(report.ore, mark),
        lines=tuple(replace(line, why=said(line.why)) for line in report.lines),
        targets=tuple(replace(t, sentence=said(t.sentence)) for t in report.targets),
        verdicts=tuple(_verdict(v, mark) for v in report.verdicts),
        cautions=tuple(replace(c, because=said(c.because)) for c in report.cautions),
        solve=replace(
            report.solve,
            sentences=tuple(said(s) for s in report.solve.sentences),
            gave_way=tuple(said(s) for s in report.solve.gave_way),
        ),
        issues=_issues(report.issues, mark),
        pot=told(report.pot, mark),
        fluid=told(report.fluid, mark),
        chance=told(report.chance, mark),
    )


def told(value: T, mark: str) -> T:
    """A frozen value, or several, whose sentences carry the decimal mark."""
    return value if mark == "." else _told(value, mark)


def _told(value: Any, mark: str) -> Any:
    if isinstance(value, tuple):
        return tuple(_told(item, mark) for item in value)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed: dict[str, Any] = {}
    for name, item in ((f.name, getattr(value, f.name)) for f in fields(value)):
        if name in _SAID and isinstance(item, str):
            changed[name] = with_mark(item, mark)
        elif name in _SAID and isinstance(item, tuple) and all(isinstance(each, str) for each in item):
            changed[name] = tuple(with_mark(each, mark) for each in item)
        elif isinstance(item, tuple) or is_dataclass(item):
            changed[name] = _told(item, mark)
    return replace(value, **changed)


def _ore(ore: OreReport, mark: str) -> OreReport:
    roast, lot = ore.roast, ore.lot
    if roast is not None:
        roast = replace(
            roast,
            explained_by=tuple(with_mark(words, mark) for words in roast.explained_by),
            programme=tuple(replace(step, action=with_mark(step.action, mark)) for step in roast.programme),
            warnings=_issues(roast.warnings, mark),
        )
    return replace(ore, roast=roast, lot=None if lot is None else replace(lot, issues=_issues(lot.issues, mark)))


def _issues(issues: tuple[Issue, ...], mark: str) -> tuple[Issue, ...]:
    return tuple(Issue(i.severity, i.where, with_mark(i.sentence, mark), with_mark(i.remedy, mark)) for i in issues)


def _verdict(v: Verdict, mark: str) -> Verdict:
    mend = None if v.mend is None else replace(v.mend, words=with_mark(v.mend.words, mark))
    return replace(v, figure=with_mark(v.figure, mark), reason=with_mark(v.reason, mark), mend=mend)
