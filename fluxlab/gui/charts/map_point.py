"""The recipe on the map: the knob for the hand, where the drag began, and how far the ore may carry it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.scale import Field

if TYPE_CHECKING:
    from fluxlab.design.map_types import Point

KNOB, HIT = 18.0, 28.0


def spot(field: Field, point: Point) -> QPointF:
    """A point of the map in px."""
    return QPointF(field.x(point[0]), field.y(point[1]))


def around(at: QPointF, size: float) -> QRectF:
    """A square around a point."""
    return QRectF(at.x() - size / 2, at.y() - size / 2, size, size)


def draw_knob(painter: QPainter, at: QPointF, focused: bool) -> None:
    """The knob: a violet ring and dot on the sheet."""
    t = theme.tokens()
    painter.setPen(Qt.PenStyle.NoPen)
    for radius, colour in ((KNOB / 2 + 1.5, t.sheet), (KNOB / 2, t.hand), (KNOB / 2 - 3.2, t.sheet), (2.8, t.hand)):
        painter.setBrush(colour)
        painter.drawEllipse(at, radius, radius)
    if focused:
        marks.focus_frame(painter, around(at, HIT - 2), (HIT - 2) / 2)


def draw_trail(painter: QPainter, start: QPointF, end: QPointF) -> None:
    """The ghost ring where the drag began, and the dashed trail from it."""
    t = theme.tokens()
    pen = QPen(t.ink, 2, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([2.0, 2.0])
    painter.setPen(pen)
    painter.drawLine(start, end)
    marks.ring(painter, start, 6, t.ink)


def draw_cloud(painter: QPainter, field: Field, points: tuple[Point, ...]) -> None:
    """The ellipse of the ore's spread."""
    from fluxlab.gui.charts.map_outline import polygon

    if len(points) > 2:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme.tokens().ink, 1.4))
        painter.drawPolygon(polygon(field, points))
