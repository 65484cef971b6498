"""Amounts under each other: words and a note at the left, the rail, the figure with its unit."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.rail import RailSpec, draw_rail

LINE, SLIM = 38, 28
WORDS, FIGURE = 150, 74


@dataclass(frozen=True, slots=True)
class RailLine:
    """One amount."""

    words: str
    note: str
    rail: RailSpec | None
    figure: str
    unit: str


class RailLines(QWidget):
    """The amounts of one card; `name` begins what is read out."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._lines: tuple[RailLine, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_lines(self, lines: tuple[RailLine, ...]) -> None:
        """Show these amounts."""
        grown = [_high(line) for line in lines] != [_high(line) for line in self._lines]
        self._lines = lines
        said = "; ".join(f"{li.words} {li.figure} {li.unit} {li.note}".strip() for li in lines)
        self.setAccessibleName(f"{self._name}: {said}")
        if grown:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """A line each."""
        return QSize(300, sum(_high(line) for line in self._lines))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the lines."""
        painter = QPainter(self)
        y = 0
        for line in self._lines:
            box = QRectF(0, y, self.width(), _high(line))
            y += _high(line)
            _draw(painter, box, line)


def _draw(painter: QPainter, box: QRectF, line: RailLine) -> None:
    t = theme.tokens()
    lift = theme.scaled(8) if line.note else 0
    type_.left(painter, 0, type_.middle(box, 13) - lift, line.words, 13, t.ink)
    if line.note:
        type_.left(painter, 0, type_.middle(box, 12) + theme.scaled(9), line.note, 12, t.ink2)
    wide = max(type_.width(line.words, 13), type_.width(line.note, 12) if line.note else 0.0) + 8
    start, end = max(theme.scaled(WORDS), wide), box.width() - theme.scaled(FIGURE)
    if line.rail is not None and end - start > 30:
        draw_rail(painter, QRectF(start, box.center().y() - 11, end - start, 22), line.rail, t)
    base = type_.middle(box, 15, True)
    unit = type_.right(painter, box.right() - 4, base, line.unit, 12, t.ink2)
    type_.right(painter, unit - 4, base, line.figure, 15, t.ink, True)
    painter.fillRect(QRectF(0, box.bottom() - 1, box.width(), 1), t.rule)


def _high(line: RailLine) -> int:
    return theme.scaled(LINE if line.note else SLIM)
