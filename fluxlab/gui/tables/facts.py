"""Lines of a fact sheet: words at the left, a figure with its unit or a field at the right, a hairline below."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.explain import Explanation
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Issue, Severity

LINE, DOUBLE = 26, 6


class Figures(QWidget):
    """Figures that nobody can change here: (words, figure, unit) each on its line."""

    def __init__(self, name: str, parent: QWidget | None = None, double: bool = False) -> None:
        """`double` draws the double rule of a total on top."""
        super().__init__(parent)
        self._name, self._top = name, DOUBLE if double else 0
        self.explanation: Explanation | None = None
        self._lines: tuple[tuple[str, str, str], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def set_lines(self, lines: Sequence[tuple[str, str, str]]) -> None:
        """Show these figures."""
        if tuple(lines) != self._lines:
            grown = len(lines) != len(self._lines)
            self._lines = tuple(lines)
            self.setAccessibleName(self._name + ": " + ", ".join(" ".join(line) for line in lines))
            if grown:
                self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        """A line each."""
        return QSize(200, self._top + len(self._lines) * theme.scaled(LINE))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the lines."""
        painter = QPainter(self)
        t = theme.tokens()
        high = theme.scaled(LINE)
        gap = max([type_.width(unit, 12) for _, _, unit in self._lines], default=0.0) + 4
        for y in (0, 3) if self._top else ():
            painter.fillRect(QRectF(0, y, self.width(), 1.5), t.ink)
        for i, (words, figure, unit) in enumerate(self._lines):
            box = QRectF(0, self._top + i * high, self.width(), high)
            base = type_.middle(box, 13)
            type_.left(painter, 0, base, words, 13, t.ink)
            type_.right(painter, box.right() - gap, base, figure, 14, t.ink, True)
            type_.left(painter, box.right() - gap + 4, base, unit, 12, t.ink2)
            painter.fillRect(QRectF(0, box.bottom() - 1, box.width(), 1), t.rule)


class FactLine(QWidget):
    """Words at the left and something to type or choose at the right."""

    def __init__(self, words: str, *fields: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = words
        self._row = QHBoxLayout(self)
        self._row.setSpacing(6)
        self._row.addStretch(1)
        for field in fields:
            if not field.accessibleName():
                field.setAccessibleName(words)
            self._row.addWidget(field, 0, Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        # The words are painted, so the layout has to be told how much room they take.
        self._row.setContentsMargins(round(type_.width(self._words, 13)) + 8, 3, 0, 4)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the words and draw the hairline."""
        painter = QPainter(self)
        t = theme.tokens()
        box = QRectF(0, 0, self.width(), self.height() - 1)
        type_.left(painter, 0, type_.middle(box, 13), self._words, 13, t.ink)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), t.rule)


class IssueWords(Words):
    """Problems in words, near the fields they speak of: the sentence and what to do."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", 12, parent=parent)
        self.hide()

    def show_issues(self, issues: Sequence[Issue]) -> None:
        """Show these problems, the gravest first; none takes no room."""
        ranked = sorted(issues, key=lambda issue: list(Severity).index(issue.severity), reverse=True)
        words = "\n".join(dict.fromkeys(f"{issue.sentence} {issue.remedy}".strip() for issue in ranked))
        tone = {Severity.ERROR: "no", Severity.WARNING: "close"}.get(ranked[0].severity, "ink2") if ranked else "ink2"
        self.set_words(words, tone)
        self.setVisible(bool(words))
