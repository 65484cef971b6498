"""One melt on its sheet: what was got beside what was expected."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import Answer
from fluxlab.gui import theme
from fluxlab.gui.melts.explanations import SHEET
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import glyph_at

LINE, GLYPH, MORE = 30, 13, 18
FIGURES, APART = 0.52, 10
"""Part of the width at which figures end, and the room between two words [px]."""


class SheetLine(NamedTuple):
    """A name, the figure with its unit, quiet words about what was expected, and how it compares."""

    name: str
    figure: str
    unit: str
    said: str = ""
    answer: Answer | None = None


class Placed(NamedTuple):
    """How a line stands in a width: its name, wrapped where the figure is in its way; the words about what was
    expected, beside the figure, or below it where they do not fit."""

    names: tuple[str, ...]
    beside: str
    below: tuple[str, ...]

    @property
    def more(self) -> int:
        """Lines beyond the first."""
        return len(self.names) + len(self.below) - 1


def placed(line: SheetLine, width: int) -> Placed:
    """How a line stands in this width, so that nothing is written over anything."""
    return _placed(line, width, theme.text_size())


@lru_cache(maxsize=512)
def _placed(line: SheetLine, width: int, _percent: int) -> Placed:
    figures, end = width * FIGURES, width - _glyph_room(line)
    names = type_.lines(line.name, 13, figures - type_.width(line.figure, _size(line), bool(line.unit)) - APART)
    room = end - figures - 4 - type_.width(line.unit, 12) - APART
    fits = type_.width(line.said, 12) <= room
    return Placed(names, line.said if fits else "", () if fits else type_.lines(line.said, 12, end))


def _size(line: SheetLine) -> int:
    return 16 if line.unit else 13


def _glyph_room(line: SheetLine) -> float:
    return 0.0 if line.answer is None else theme.scaled(GLYPH) + 8


class Sheet(QWidget):
    """Lines of figures that nobody can change here."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.explanation = SHEET
        self.lines: tuple[SheetLine, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def set_lines(self, lines: Sequence[SheetLine]) -> None:
        """Show these lines."""
        self.lines = tuple(lines)
        told = ("; ".join(f"{line.name} {line.figure} {line.unit}, {line.said}".rstrip(", ") for line in lines),)
        self.setAccessibleName(told[0])
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Narrower means taller."""
        return True

    def heightForWidth(self, width: int) -> int:
        """A line each, and more for those that do not fit on one."""
        return sum(_height(placed(line, width)) for line in self.lines)

    def sizeHint(self) -> QSize:
        """A line each."""
        return QSize(260, self.heightForWidth(max(self.width(), 260)))

    def minimumSizeHint(self) -> QSize:
        """No line is left out."""
        return QSize(theme.scaled(200), len(self.lines) * theme.scaled(LINE))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the lines."""
        painter = QPainter(self)
        top = 0
        for line in self.lines:
            stands = placed(line, self.width())
            self._write(painter, top, line, stands)
            top += _height(stands)
            painter.fillRect(QRectF(0, top - 1, self.width(), 1), theme.tokens().rule)

    def _write(self, painter: QPainter, top: int, line: SheetLine, stands: Placed) -> None:
        t, more = theme.tokens(), theme.scaled(MORE)
        box = QRectF(0, top, self.width(), theme.scaled(LINE))
        figures, end = box.width() * FIGURES, box.right() - _glyph_room(line)
        base, low = type_.middle(box, 16, True), type_.middle(box, 12)
        type_.paragraph(painter, 0, type_.middle(box, 13), stands.names, 13, t.ink, more)
        type_.right(painter, figures, base, line.figure, _size(line), t.ink if line.unit else t.ink2, bool(line.unit))
        type_.left(painter, figures + 4, base, line.unit, 12, t.ink2)
        if line.answer is not None:
            side = theme.scaled(GLYPH)
            glyph_at(painter, box.right() - side, box.center().y(), side, line.answer, t)
        type_.right(painter, end, low, stands.beside, 12, t.ink2)
        for row, words in enumerate(stands.below, len(stands.names)):
            type_.right(painter, end, low + row * more, words, 12, t.ink2)


def _height(stands: Placed) -> int:
    return theme.scaled(LINE) + stands.more * theme.scaled(MORE)
