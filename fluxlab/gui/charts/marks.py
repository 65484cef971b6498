"""Marks that charts share: plates under words, rings, the grip of a line, the frame of the focus."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

PAD = 4.0


def word_box(x: float, baseline: float, words: str, size: float, bold: bool = False) -> QRectF:
    """The plate that words beginning at `x` on a baseline stand on."""
    measure = theme.metrics(size, bold)
    wide = type_.width(words, size, bold)
    top = round(baseline - measure.ascent())
    return QRectF(round(x - PAD), top, round(wide + 2 * PAD), round(measure.height()))


def on_plate(
    painter: QPainter,
    x: float,
    baseline: float,
    words: str,
    size: float,
    colour: QColor,
    bold: bool = False,
    ground: QColor | None = None,
) -> QRectF:
    """Write words on a plate in the ground's colour (the sheet's where none is given); the plate."""
    box = word_box(x, baseline, words, size, bold)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground if ground is not None else _veil())
    # ten times as quick as filling a rectangle where the words are turned
    painter.drawPolygon(QPolygonF(box))
    type_.left(painter, x, baseline, words, size, colour, bold)
    return box


def _veil() -> QColor:
    veil = QColor(theme.tokens().sheet)
    veil.setAlpha(225)
    return veil


def soft(colour: QColor, share: float) -> QColor:
    """A colour let through by a share of the whole."""
    made = QColor(colour)
    made.setAlphaF(share)
    return made


def ring(painter: QPainter, at: QPointF, radius: float, colour: QColor, thick: float = 2.0) -> None:
    """An open ring with the sheet inside."""
    painter.setPen(QPen(colour, thick))
    painter.setBrush(theme.tokens().sheet)
    painter.drawEllipse(at, radius, radius)


def line(painter: QPainter, a: QPointF, b: QPointF, colour: QColor, thick: float = 1.0) -> None:
    """A straight line."""
    painter.setPen(QPen(colour, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(a, b)


def focus_frame(painter: QPainter, box: QRectF, corner: float = 3.0) -> None:
    """The violet outline around what has the focus."""
    painter.setPen(QPen(theme.tokens().hand, 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(box, corner, corner)
