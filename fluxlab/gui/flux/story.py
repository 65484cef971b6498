"""The whole story behind a verdict: the reason, the cautions that apply, and what decides."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.report_types import Answer, Caution, Mend, Report, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.flux.targets_model import band_words, figure_of
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.glyph import WORDS
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words

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
        return [_target_row(t) for t in report.targets if t.on and t.key not in FIT]
    return []


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
            if mend.edit != "show_cautions":
                self.body.addWidget(button)
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
