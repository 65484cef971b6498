"""The roast: its plan, predicted weight change against the weighed one, sulphur and arsenic left, the gas."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from fluxlab.design.report_types import Answer, Report, RoastReport
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.roast_plan import RoastPlanPart
from fluxlab.gui.ore.roast_words import gas_words, roast_lines, roast_sentences
from fluxlab.gui.tables.facts import IssueWords
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import WORDS, answer_colour, answer_tint, glyph_at
from fluxlab.gui.widgets.rail_lines import RailLines
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

NOTES = {
    "perfect": "a perfect roast is assumed",
    "planned": "blade = predicted",
    "weighed": "blade = predicted, ring = weighed",
}


class GasBand(QWidget):
    """What leaves the roast; on a tint with its glyph when it asks for attention."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answer: Answer = "yes"
        self.first, self.second = "", ""
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_words(self, answer: Answer, first: str, second: str) -> None:
        """Show the two parts."""
        if (answer, first, second) == (self.answer, self.first, self.second):
            return
        self.answer, self.first, self.second = answer, first, second
        self.setAccessibleName(f"{WORDS[answer]}: {first}. {second}" if answer != "yes" else first)
        self.updateGeometry()
        self.update()

    def _left(self) -> int:
        return theme.scaled(36) if self.answer != "yes" else 0

    def _lines(self, width: int) -> list[str]:
        """The words wrapped; the answer's own word stands before the first line in bold."""
        room = width - self._left() - 8
        words = type_.wrap(self.first, theme.metrics(13), room - self._head_width())
        rest = type_.wrap(" ".join(words[1:]), theme.metrics(13), room)
        return [*words[:1], *rest, *type_.wrap(self.second, theme.metrics(12), room)]

    def _head_width(self) -> float:
        return type_.width(WORDS[self.answer], 13, True) + 8 if self.answer != "yes" else 0.0

    def hasHeightForWidth(self) -> bool:
        """Narrower means taller."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of the wrapped words [px]."""
        return len(self._lines(width)) * theme.scaled(18) + theme.scaled(10)

    def sizeHint(self) -> QSize:
        """Two lines."""
        width = max(self.width(), 300)
        return QSize(300, self.heightForWidth(width))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, glyph and words."""
        painter = QPainter(self)
        t = theme.tokens()
        tint = answer_tint(self.answer, t)
        if tint is not None:
            painter.fillRect(QRectF(self.rect()), tint)
            glyph_at(painter, 10, self.height() / 2, theme.scaled(17), self.answer, t)
        base, x = theme.scaled(18), float(self._left())
        if tint is not None:
            type_.left(painter, x, base, WORDS[self.answer], 13, answer_colour(self.answer, t), True)
            x += self._head_width()
        lines = self._lines(self.width())
        small = len(type_.wrap(self.second, theme.metrics(12), self.width() - self._left() - 8))
        for i, line in enumerate(lines):
            size = 13 if i < len(lines) - small else 12
            type_.left(painter, x, base, line, size, t.ink if tint is not None else t.ink2)
            x = float(self._left())
            base += theme.scaled(18)


class RoastPart(Section):
    """The card: with what the roast is reckoned, what it does and leaves, the gas."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("Roast", NOTES["perfect"], parent=parent)
        self.explanation = explanations.ROAST
        self.plan = RoastPlanPart(bench, self)
        self.lines = RailLines("Roast", self)
        self.told = Words("", 12, tone="ink2")
        self.issues = IssueWords(self)
        self.gas = GasBand(self)
        self.none = Words("", 13, tone="ink2")
        inside = QVBoxLayout()
        inside.setSpacing(0)
        for part in (self.none, self.plan, self.issues, self.lines):
            inside.addWidget(part)
        inside.addSpacing(6)
        inside.addWidget(self.gas)
        inside.addSpacing(4)
        inside.addWidget(self.told)
        self.body.addLayout(inside)

    def show_report(self, report: Report, roast: RoastReport | None, otherwise: str) -> None:
        """Show a roast, or the one sentence that says why there is none."""
        for part in (self.plan, self.lines, self.gas):
            part.setVisible(roast is not None)
        self.none.setVisible(roast is None)
        self.set_note("" if roast is None else NOTES[roast.kind])
        told = () if roast is None else roast_sentences(roast)
        self.told.set_words("\n".join(told))
        self.told.setVisible(bool(told))
        self.issues.show_issues([] if roast is None else [i for i in report.issues if i.where.startswith("roast")])
        if roast is None:
            self.none.set_words(otherwise)
            return
        self.plan.show_plan(report.work.recipe.roast)
        self.lines.show_lines(roast_lines(roast))
        self.gas.show_words(*gas_words(roast, report.cautions))

    def commit_pending(self) -> None:
        """Take what is being typed."""
        self.plan.commit_pending()
