"""What is written on a section: dimensions with oblique strokes, plates, leaders, level marks."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from fluxlab.gui import theme


@dataclass(frozen=True, slots=True)
class Word:
    """A piece of text in one size [px of the grid] and colour."""

    text: str
    size: float
    bold: bool
    colour: QColor

    @property
    def width(self) -> float:
        """How wide it runs [px]."""
        return theme.metrics(self.size, self.bold).horizontalAdvance(self.text)

    @property
    def height(self) -> float:
        """Height of its line [px]."""
        return theme.metrics(self.size, self.bold).height()

    @property
    def capital(self) -> float:
        """Height of its capitals [px]."""
        return theme.metrics(self.size, self.bold).capHeight()

    def draw(self, painter: QPainter, x: float, baseline: float) -> None:
        """Write it from `x` on."""
        painter.setFont(theme.font(self.size, self.bold))
        painter.setPen(self.colour)
        painter.drawText(QPointF(x, baseline), self.text)

    def centred(self, painter: QPainter, x: float, y: float) -> None:
        """Write it with the middle of its capitals at (x, y)."""
        self.draw(painter, x - self.width / 2.0, y + self.capital / 2.0)


def plate_box(words: Sequence[Word], x: float, y: float) -> QRectF:
    """The plate that lines of text centred at (x, y) stand on."""
    height = sum(word.height for word in words)
    width = max(word.width for word in words)
    return QRectF(x - width / 2.0 - 4.0, y - height / 2.0, width + 8.0, height)


def plate(painter: QPainter, words: Sequence[Word], x: float, y: float, ground: QColor | None) -> QRectF:
    """Lines of text centred at (x, y) on a plate in the ground's colour; the plate."""
    box = plate_box(words, x, y)
    if ground is not None:
        painter.fillRect(box, ground)
    top = box.top()
    for word in words:
        word.centred(painter, x, top + word.height / 2.0)
        top += word.height
    return box


@dataclass(frozen=True, slots=True)
class Dimension:
    """A vertical dimension at `x` between a rim, whose line runs out to `reach`, and a surface, with its number.

    A gap too short for the number puts it under the lower stroke.
    """

    x: float
    top: float
    bottom: float
    reach: float
    number: Word

    @property
    def middle(self) -> float:
        """Height of the number's middle."""
        roomy = self.bottom - self.top > self.number.height + 10.0
        return (self.top + self.bottom) / 2.0 if roomy else self.bottom + 7.0 + self.number.height / 2.0

    @property
    def box(self) -> QRectF:
        """The plate of the number."""
        return plate_box((self.number,), self.x, self.middle)

    def draw(self, painter: QPainter, line: QColor, ground: QColor) -> None:
        """Draw lines, strokes and number."""
        x, beyond = self.x, 7.0 if self.reach < self.x else -7.0
        painter.setPen(QPen(line, 1.0))
        painter.drawLine(QLineF(self.reach, self.top, x + beyond, self.top))
        painter.drawLine(QLineF(x - 8.0, self.bottom, x + 8.0, self.bottom))
        painter.setPen(QPen(self.number.colour, 1.0))
        painter.drawLine(QLineF(x, self.top, x, self.bottom))
        painter.setPen(QPen(self.number.colour, 1.6))
        for y in (self.top, self.bottom):
            painter.drawLine(QLineF(x - 5.0, y + 5.0, x + 5.0, y - 5.0))
        plate(painter, (self.number,), x, self.middle, ground)


def leader(painter: QPainter, tip: QPointF, knee: QPointF, words: Sequence[Word], line: QColor) -> None:
    """A thin line from a point of the drawing to lines of text right of the knee, the first at its height."""
    painter.setPen(QPen(line, 1.0))
    painter.drawLine(tip, knee)
    painter.drawLine(QLineF(knee, knee + QPointF(6.0, 0.0)))
    y = knee.y()
    for word in words:
        word.draw(painter, knee.x() + 9.0, y + word.capital / 2.0)
        y += word.height


def level_mark(painter: QPainter, left: float, right: float, y: float, colour: QColor) -> None:
    """A short stroke across a wall at a height."""
    painter.setPen(QPen(colour, 2.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(QLineF(left, y, right, y))


def centre_line(painter: QPainter, x: float, top: float, bottom: float, colour: QColor) -> None:
    """A dash-dot line down the axis."""
    pen = QPen(colour, 1.2, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([8.0, 3.0, 1.5, 3.0])
    painter.setPen(pen)
    painter.drawLine(QLineF(x, top, x, bottom))
