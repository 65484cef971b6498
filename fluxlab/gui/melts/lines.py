"""What the table, the chart and the sheet show of each melt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluxlab.gui.melts import words
from fluxlab.gui.widgets.fields import decimal_mark
from fluxlab.learn.checks import checks
from fluxlab.learn.measured import Measured
from fluxlab.learn.reasons import Reasons, reasons
from fluxlab.learn.yields import Metal, Recovery, Row, impossible, recovery_of, row_of, yield_of

if TYPE_CHECKING:
    from datetime import datetime

    from fluxlab.design.report_types import Answer
    from fluxlab.issue import Issue
    from fluxlab.learn.melt import Melt
    from fluxlab.store.rows import KeptMelt

NO_REASON = "nothing on record tells why"
NOTHING_AGAINST = "nothing was predicted to hold it against"


@dataclass(frozen=True, slots=True)
class MeltLine:
    """One melt with all that follows from its figures. `answer` sums it up, `why` says it in words, `short` in few.

    `impossible` says in a few words why its figures cannot all be true, "" where they can.
    """

    kept: "KeptMelt"
    yields: Measured | None
    recovery: Recovery
    gold: Recovery
    apart: bool
    answer: "Answer"
    why: str
    short: str
    issues: "tuple[Issue, ...]"
    impossible: str = ""

    @property
    def left_out(self) -> str:
        """Why the melt is left out of the mean, "" where it counts."""
        return self.impossible or (self.why if self.apart else "")

    @property
    def melt(self) -> "Melt":
        """The melt."""
        return self.kept.melt

    @property
    def outside(self) -> bool:
        """Whether the button lies outside the likely range that was predicted for it."""
        said, got = self.melt.beforehand.button, self.melt.button
        return said is not None and got is not None and not said.low <= got <= said.high

    @property
    def over(self) -> bool:
        """Whether more silver came back than there can have been."""
        return self.recovery.value is not None and self.recovery.value.value > words.ALL_HELD


def looks() -> Mapping[str, str]:
    """The words of everything that can be seen, by key."""
    from fluxlab.design.diagnosis import observations

    return {each.key: each.words for each in observations()}


def lines_of(melts: "Sequence[KeptMelt]") -> tuple[MeltLine, ...]:
    """The melts as lines, in the order given; each is held against the others of its ore type."""
    names = looks()
    found: dict[str, tuple[Row, list[Melt]]] = {}
    for ore in dict.fromkeys(kept.melt.ore for kept in melts):
        own = [kept.melt for kept in melts if kept.melt.ore == ore]
        found[ore] = row_of(own), own
    return tuple(_line(kept, *found[kept.melt.ore], names) for kept in melts)


def said_against(melt: "Melt", entered: "datetime") -> "tuple[Issue, ...]":
    """What speaks against the figures of a melt entered at this local time, with the decimal mark in force."""
    from fluxlab.design.decimal_mark import told

    return told(checks(melt, entered), decimal_mark())


def _line(kept: "KeptMelt", row: Row, own: "list[Melt]", names: Mapping[str, str]) -> MeltLine:
    melt, recovery = kept.melt, _recovery(kept.melt, "silver")
    issues = said_against(melt, kept.recorded.astimezone().replace(tzinfo=None))
    apart = melt.uid in row.apart
    answer, why = _answer(melt, recovery, issues)
    short = why
    if apart:
        others = [other for other in own if other.uid not in (*row.apart, *row.impossible)]
        answer, (why, short) = "no", _apart_words(reasons(melt, others, names), recovery, issues)
    gold = _recovery(melt, "gold")
    return MeltLine(kept, yield_of(melt), recovery, gold, apart, answer, why, short, issues, impossible(melt))


def _recovery(melt: "Melt", metal: Metal) -> Recovery:
    found = recovery_of(melt, metal)
    return replace(found, why=_marked(found.why))


def _marked(said: str) -> str:
    from fluxlab.design.decimal_mark import with_mark

    return with_mark(said, decimal_mark())


def _apart_words(found: Reasons, recovery: Recovery, issues: "tuple[Issue, ...]") -> tuple[str, str]:
    """Why a melt stands apart, in full and in few words: where more came back than was held, that first."""
    over = recovery.value is not None and recovery.value.value > words.ALL_HELD
    lead = (f"{recovery.metal} back: {words.OVER}",) if over else ()
    said = tuple(issue.sentence.rstrip(".") for issue in issues[:1]) or (NO_REASON,)
    full, few = (", ".join((*lead, *those) or said) for those in (found.all, found.first))
    return _marked(full), _marked(few)


def _answer(melt: "Melt", recovery: Recovery, issues: "tuple[Issue, ...]") -> "tuple[Answer, str]":
    grave = next((issue.sentence for issue in issues if issue.severity == "error"), "")
    if grave:
        return "no", grave
    if recovery.value is None:
        return "unknown", recovery.why
    if recovery.value.value > words.ALL_HELD:
        return "close", f"{recovery.metal} back: {words.OVER}"
    said = melt.beforehand.silver_recovery
    if said is None:
        return "unknown", NOTHING_AGAINST
    if recovery.value.high < said.low:
        return "close", "less silver came back than was expected"
    return "yes", "as expected"
