"""The verdict strip: five plain answers, each with its figure, its reason and, where it helps, one mending button."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from fluxlab.design.report_types import Mend, Verdict
from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.glyph import WORDS, answer_colour, answer_tint, glyph_at

HEIGHT = 98
LEAST = 168
COMPACT = 46
PAD = 16
LEADING = 16


class VerdictCell(QWidget):
    """One answer. A click or Enter asks for the whole story."""

    mended = Signal(object)
    asked = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.verdict: Verdict | None = None
        self.first = False
        self.compact = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.button = Button("", "quiet", parent=self)
        self.button.hide()
        self.button.clicked.connect(self._mend)

    def show_verdict(self, verdict: Verdict) -> bool:
        """Show an answer; True if it differs from the one shown."""
        if verdict == self.verdict:
            return False
        self.verdict = verdict
        word = verdict.word or WORDS[verdict.answer]
        self.setAccessibleName(f"{verdict.question} {word}, {verdict.figure}".strip(", "))
        self.setAccessibleDescription(verdict.reason)
        if verdict.mend is not None:
            self.button.set_words(verdict.mend.words)
            self.button.set_tone("close" if verdict.answer == "close" else "no" if verdict.answer == "no" else "")
        self.update()
        return True

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return f"verdict:{self.verdict.key}" if self.verdict is not None else ""

    def _mend(self) -> None:
        if self.verdict is not None and self.verdict.mend is not None:
            self.mended.emit(self.verdict.mend)

    def _room(self) -> float:
        return self.width() - 2 * theme.scaled(PAD) + 8

    def _head(self) -> tuple[str, str, float]:
        """Word, figure, and the size at which both fit on one line (0 when the figure goes to the reason)."""
        assert self.verdict is not None
        word = self.verdict.word or WORDS[self.verdict.answer]
        for size in (14.0, 13.0, 12.0) if self.compact else (18.0, 16.0, 14.0):
            wide = theme.scaled(size) + 7 + type_.width(word, size, True) + 7 + type_.width(self.verdict.figure, size)
            if wide <= self._room():
                return word, self.verdict.figure, size
        return word, self.verdict.figure, 0.0

    def _reason(self) -> tuple[str, ...]:
        assert self.verdict is not None
        words = self.verdict.reason
        if self._head()[2] == 0.0:
            words = f"{self.verdict.figure}; {words}" if words else self.verdict.figure
        return type_.lines(words, 12, self._room())

    def _foot(self) -> int:
        return theme.scaled(46 + LEADING * len(self._reason()))

    def shape(self) -> tuple[int, str]:
        """What the place of its parts depends on: the lines of the reason and the words of the button."""
        if self.verdict is None:
            return 0, ""
        return len(self._reason()), self.verdict.mend.words if self.verdict.mend is not None else ""

    def needed(self, width: int) -> int:
        """Height at a width [px]: nothing is cut."""
        if self.verdict is None or self.compact:
            return theme.scaled(COMPACT if self.compact else HEIGHT)
        old = self.width()
        if old != width:
            self.resize(width, self.height())
        tall = self._foot() + theme.scaled(6)
        if self.verdict.mend is not None:
            tall = self._foot() + theme.scaled(5) + self.button.sizeHint().height()
        return max(theme.scaled(HEIGHT), tall)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the button under the reason."""
        self.lay_out()

    def lay_out(self) -> None:
        """Put the mending button under the reason."""
        if self.verdict is not None:
            self.button.setVisible(self.verdict.mend is not None and not self.compact)
            size = self.button.sizeHint()
            self.button.setGeometry(
                theme.scaled(PAD), self._foot() + theme.scaled(3), size.width(), size.height() - theme.scaled(2)
            )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and F1 ask for the whole story."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F1) and self.verdict is not None:
            self.asked.emit(self.verdict.key)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click asks for the whole story."""
        if self.verdict is not None and self.rect().contains(event.position().toPoint()):
            self.asked.emit(self.verdict.key)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the question, the glyph, word and figure, the reason."""
        painter = QPainter(self)
        t = theme.tokens()
        if not self.first:
            painter.fillRect(QRectF(0, 0, 1, self.height()), t.rule)
        verdict = self.verdict
        if verdict is None:
            return
        tint = answer_tint(verdict.answer, t)
        if tint is not None:
            painter.fillRect(QRectF(0 if self.first else 1, 0, self.width(), self.height()), tint)
        x = theme.scaled(PAD)
        type_.left(painter, x, theme.scaled(16 if self.compact else 20), verdict.question, 12, t.ink2)
        word, figure, size = self._head()
        shown = size or (12.0 if self.compact else 18.0)
        base = theme.scaled(37 if self.compact else 43)
        glyph = theme.scaled(14 if self.compact else 18)
        glyph_at(painter, x, base - theme.metrics(shown).capHeight() / 2, glyph, verdict.answer, t)
        end = type_.left(painter, x + glyph + 7, base, word, shown, answer_colour(verdict.answer, t), True)
        if size:
            type_.left(painter, end + 7, base, figure, size, t.ink)
        if not self.compact:
            quiet = t.ink2 if tint is None else t.ink
            type_.paragraph(painter, x, theme.scaled(60), self._reason(), 12, quiet, theme.scaled(LEADING))
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(3, 3, -3, -3), 3, 3)


class VerdictStrip(QWidget):
    """The five cells in a row, in more rows where the page is narrow."""

    mended = Signal(Mend)
    asked = Signal(str, QWidget)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("The five answers")
        self.cells = [VerdictCell(self) for _ in range(5)]
        for cell in self.cells:
            cell.mended.connect(self.mended)
            cell.asked.connect(lambda key, cell=cell: self.asked.emit(key, cell))
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.lay_out()
        self.update()

    def refresh(self, verdicts: tuple[Verdict, ...]) -> bool:
        """Show the answers; True if the strip needs another height."""
        shapes = [cell.shape() for cell in self.cells]
        for cell, verdict in zip(self.cells, verdicts, strict=False):
            cell.show_verdict(verdict)
        if shapes == [cell.shape() for cell in self.cells]:
            return False
        before = self.height()
        self.lay_out()
        return self.heightForWidth(self.width()) != before

    def set_compact(self, compact: bool) -> None:
        """Leave the reasons out where height is short; a click still tells them."""
        for cell in self.cells:
            cell.compact = compact

    def columns(self, width: int) -> int:
        """How many cells stand in a row."""
        return max(1, min(5, width // theme.scaled(LEAST)))

    def heightForWidth(self, width: int) -> int:
        """Height of all rows at a width [px]."""
        return sum(tall for _, tall in self._rows(width)) + 1

    def _rows(self, width: int) -> list[tuple[list[VerdictCell], int]]:
        across = self.columns(width)
        rows = [self.cells[k : k + across] for k in range(0, 5, across)]
        return [(row, max(cell.needed(width // len(row)) for cell in row)) for row in rows]

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the cells out again."""
        self.lay_out()

    def lay_out(self) -> None:
        """Put the cells in their places."""
        y = 0
        for row, tall in self._rows(self.width()):
            for k, cell in enumerate(row):
                left, right = k * self.width() // len(row), (k + 1) * self.width() // len(row)
                cell.first = k == 0
                cell.setGeometry(left, y, right - left, tall)
                cell.lay_out()
            y += tall

    def sizeHint(self) -> QSize:
        """As wide as five cells, 98 px high."""
        return QSize(5 * theme.scaled(LEAST), theme.scaled(HEIGHT) + 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Close the strip with a hairline."""
        QPainter(self).fillRect(QRectF(0, self.height() - 1, self.width(), 1), theme.tokens().rule)
