"""What to change next time: the probable causes of what was seen, and the change to the recipe, one click away."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.report_types import Mend
from fluxlab.gui.charts.field_run import FieldRun
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.explanations import CHANGE
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.seen import all_seen

SHOWN = 3
LEAST = 0.5
"""Share of the odds below which a cause is not worth a line, unless it is the first [%]."""
NOTHING_SEEN = (
    "Nothing was ticked that would point to a cause. Correct the melt to add how slag, layers and button looked."
)
FINE = "It came out as it should. What was seen points to this, should anything be bettered:"
UNTOLD = "No silver back was predicted for this melt: there is nothing to hold it against. What was seen points to:"
NOT_KEPT = "The recipe of this melt was not kept, so its causes cannot be ranked by it."


class Change(Section):
    """The likeliest causes of the chosen melt. `done` tells the label of a change that was made."""

    def __init__(self, desk: MeltDesk, parent: QWidget | None = None) -> None:
        super().__init__("What to change next time", "one change at a time", (), parent)
        self._desk = desk
        self.explanation = CHANGE
        self._shown: object = None
        self.mends: list[Button] = []
        self._columns: dict[str, QVBoxLayout] = {}
        self._judging = FieldRun(self)
        self._judging.came.connect(self._offer)
        self.done = Words("", 12, tone="ink2")
        self._list = QWidget()
        self._rows = QVBoxLayout(self._list)
        self._rows.setContentsMargins(0, 2, 0, 0)
        self._rows.setSpacing(10)
        self.body.addWidget(self._list)
        self.body.addWidget(self.done)

    def show_line(self, line: MeltLine) -> None:
        """Show what the diagnosis makes of a melt with the recipe as it is now."""
        from fluxlab.design.diagnosis import diagnose, judged

        seen = all_seen(line.melt)
        report = self._desk.report_for(line.melt) if seen else None
        key = (line.melt.uid, seen, None if report is None else report.work)
        if key == self._shown:
            return
        other = not isinstance(self._shown, tuple) or self._shown[0] != line.melt.uid
        self._shown = key
        if other:
            self._report_step("")
        self._clear()
        if report is None:
            self._rows.addWidget(Words(NOT_KEPT if seen else NOTHING_SEEN, 13, tone="ink2"))
            return
        if line.answer == "yes":
            self._rows.addWidget(Words(FINE, 13, tone="ink2"))
        elif line.answer == "unknown" and line.melt.beforehand.silver_recovery is None:
            self._rows.addWidget(Words(UNTOLD, 13, tone="ink2"))
        here = self._desk.on_bench(line.melt)
        found = diagnose(self._desk.as_poured(line.melt, report), seen).causes[:SHOWN]
        causes = [cause for cause in found if cause is found[0] or cause.share >= LEAST]
        for cause in causes:
            self._rows.addWidget(self._entry(cause.words, cause.share, cause.why, cause.change))
            self._columns[cause.key] = QVBoxLayout()
            self._columns[cause.key].setSpacing(4)
            self._rows.addLayout(self._columns[cause.key])
        if here:
            self._judging.start(judged(report, self.causes))
        elif any(cause.may_be_mended for cause in causes):
            open_it = Button("Open this recipe to change it", "quiet")
            open_it.clicked.connect(partial(self._desk.bench.open_recipe, line.melt.recipe))
            self._rows.addWidget(open_it, 0, Qt.AlignmentFlag.AlignLeft)

    def _entry(self, words: str, share: float, why: str, change: str) -> QWidget:
        entry = QWidget()
        rows = QVBoxLayout(entry)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(1)
        head = QHBoxLayout()
        head.setSpacing(10)
        head.addWidget(Words(words, 13, bold=True), 1)
        head.addWidget(Words(f"{show_number(share, 0)} %", 13, tone="ink2").align_right(), 0, Qt.AlignmentFlag.AlignTop)
        rows.addLayout(head)
        rows.addWidget(Words(f"{why[0].upper()}{why[1:]}.", 12, tone="ink2"))
        rows.addWidget(Words(change, 13))
        return entry

    def _offer(self, came: list[tuple[str, Mend | None]]) -> None:
        """Put what was found to help under its cause."""
        for cause, mend in came:
            if mend is None:
                continue
            button = Button(mend.words, "quiet")
            button.clicked.connect(partial(self._mend, mend))
            self.mends.append(button)
            self._columns[cause].addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)

    def _mend(self, mend: Mend) -> None:
        label = self._desk.bench.do(mend.edit, *mend.arguments)
        self._report_step("The recipe has it already." if label is None else f"Done: {label}. Ctrl+Z takes it back.")

    def _report_step(self, words: str) -> None:
        self.done.set_words(words)
        self.done.setVisible(bool(words))

    @property
    def causes(self) -> tuple[str, ...]:
        """Keys of the causes that are shown, the likeliest first."""
        return tuple(self._columns)

    @property
    def judging(self) -> bool:
        """Whether changes are still being tried on the recipe, one after the other while nothing else is to be done."""
        return self._judging.running

    def _clear(self) -> None:
        self._judging.stop()
        self.mends, self._columns = [], {}
        _empty(self._rows.takeAt, self._rows.count)


def _empty(take: Callable[[int], object], count: Callable[[], int]) -> None:
    from PySide6.QtWidgets import QLayoutItem

    while count():
        item = take(0)
        assert isinstance(item, QLayoutItem)
        below, widget = item.layout(), item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
        elif below is not None:
            _empty(below.takeAt, below.count)
            below.deleteLater()
