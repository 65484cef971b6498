"""The whole story behind a verdict: the reason, the cautions that apply, and what decides."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.odds import by_chance, percent_of
from fluxlab.design.report_types import Answer, Caution, Mend, Report, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.flux.asking import surer
from fluxlab.gui.flux.targets_model import band_words, figure_of
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.glyph import WORDS
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Severity

WIDTH = 400
LEVELS: dict[str, Answer] = {"block": "no", "warn": "close", "caution": "yes"}
LIFTS = {
    "never": "Nobody may lift this stop.",
    "operator": "You may lift this stop on the ticket.",
    "cause": "It goes when its cause goes.",
}
FIT = ("cover", "loose_fill", "gas_fill", "melt_fill", "mould_fill", "mould_room")


def rows_of(report: Report, key: str) -> list[tuple[Answer, str, str]]:
    """Lines of the story: answer, what it is about, and the sentence."""
    if key == "safe":
        return [(LEVELS[c.level], c.title, _caution_words(c)) for c in report.cautions]
    if key == "fit":
        return [_target_row(t) for t in report.targets if t.on and t.key in FIT]
    if key == "melt":
        return [*_melt_rows(report), *(_target_row(t) for t in report.targets if t.on and t.key not in FIT)]
    if key == "metal":
        return _metal_rows(report)
    return _chance_rows(report)


def _melt_rows(report: Report) -> list[tuple[Answer, str, str]]:
    """What is doubtful about the melt as a liquid."""
    issues = () if report.fluid is None else report.fluid.issues
    answers: dict[Severity, Answer] = {Severity.ERROR: "no", Severity.WARNING: "close"}
    return [(answers.get(i.severity, "yes"), "The melt", f"{i.sentence} {i.remedy}".strip()) for i in issues]


def _metal_rows(report: Report) -> list[tuple[Answer, str, str]]:
    """The balance of the pot: what comes down, where the silver ends, and what stands against it."""
    pot = report.pot
    if pot is None:
        return []
    said = [("Button", pot.button.sentence), ("Oxygen", pot.redox.sentence), ("Sulphur", pot.sulphur.sentence)]
    said += [("Drops", pot.drops.sentence)] if pot.drops is not None else []
    said += [("Cupel", pot.cupel.sentence)] if pot.cupel is not None else []
    rows: list[tuple[Answer, str, str]] = [("yes", title, sentence) for title, sentence in said if sentence]
    rows += [
        ("yes", f"Silver: {row.place}", f"{show_number(row.percent, 1)} %. {row.words}".strip())
        for row in pot.silver
        if row.percent >= 0.05
    ]
    rows += [("close", "Mind", f"{issue.sentence} {issue.remedy}".strip()) for issue in pot.issues]
    return rows


def _chance_rows(report: Report) -> list[tuple[Answer, str, str]]:
    """The chance of every limit that may fail, musts first."""
    if report.chance is None:
        return []
    count = report.chance.samples
    return [
        (
            by_chance(row.chance, count),
            f"{percent_of(row.chance)}  {row.words}",
            "must" if row.kind == "must" else "a wish",
        )
        for row in report.chance.limits
    ]


def _caution_words(caution: Caution) -> str:
    words = [caution.sentence, f"Here: {caution.because}." if caution.because else ""]
    if caution.level == "block":
        words.append(LIFTS[caution.lift])
    words.append(f"Rule {caution.rule}; {caution.source}." if caution.source else f"Rule {caution.rule}.")
    return " ".join(word for word in words if word)


def _target_row(target: TargetReport) -> tuple[Answer, str, str]:
    kind = {"below": target.lo_kind, "above": target.hi_kind}.get(target.state)
    answers: dict[str | None, Answer] = {None: "yes", "must": "no", "wish": "close"}
    answer: Answer = "unknown" if target.value is None else answers[kind]
    value = f"{figure_of(target, target.value)} {target.unit}".strip()
    return answer, target.label, f"{value}, {band_words(target)}. {target.sentence}".strip()


class Story(Panel):
    """The plate that a click on a verdict opens."""

    mended = Signal(object)

    def __init__(self, report: Report, key: str, window: QWidget) -> None:
        verdict = next(v for v in report.verdicts if v.key == key)
        super().__init__(verdict.question, window)
        self.body.addWidget(Words(verdict.question, 14, bold=True))
        answer = f"{verdict.word or WORDS[verdict.answer]} {verdict.figure}".strip()
        self.body.addWidget(Words(f"{answer}: {verdict.reason}" if verdict.reason else answer, 13, room=WIDTH))
        if verdict.mend is not None:
            mend = verdict.mend
            button = Button(mend.words, "quiet")
            button.clicked.connect(lambda: self._mend(mend))
            if mend.edit not in ("show_cautions", "make_safer"):
                self.body.addWidget(button)
        if key == "sure" and report.chance is not None and report.chance.musts is not None:
            self._safer_button(report)
        rows = Scroller(verdict.question, 120)
        for answer_of, title, sentence in rows_of(report, key):
            rows.body.addLayout(_row(answer_of, title, sentence))
            rows.body.addSpacing(4)
        rows.body.addStretch(1)
        if rows.body.count() > 1:
            wide = theme.scaled(WIDTH) + 30
            rows.setFixedWidth(wide)
            rows.setFixedHeight(min(rows.content_height(wide - 10), window.height() - theme.scaled(200)))
            self.body.addWidget(rows)

    def _safer_button(self, report: Report) -> None:
        """A button that looks for the safer recipe, and what it found in its place."""
        button, answer, take = Button("Make it safer", "quiet"), Words("", 13, room=WIDTH), Button("", "quiet")
        answer.hide()
        take.hide()

        def ask() -> None:
            found = surer(report.work)
            button.hide()
            answer.set_words(found.sentence)
            answer.show()
            if found.mend is not None:
                mend = found.mend
                take.set_words(mend.words)
                take.clicked.connect(lambda: self._mend(mend))
                take.show()
                take.setFocus()
            self.adjustSize()

        button.clicked.connect(ask)
        self.ask_for_safer = ask
        for part in (button, answer, take):
            self.body.addWidget(part)

    def _mend(self, mend: Mend) -> None:
        self.shut()
        self.mended.emit(mend)


def _row(answer: Answer, title: str, sentence: str) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addWidget(Mark(answer))
    words = QVBoxLayout()
    words.setSpacing(0)
    words.addWidget(Words(title, 13, bold=True, room=WIDTH))
    words.addWidget(Words(sentence, 12, tone="ink2", room=WIDTH))
    row.addLayout(words, 1)
    return row
