"""Outlines and softened colours that pot and mould share."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

LINE = 1.6


def outline(painter: QPainter, path: QPainterPath, ink: QColor) -> None:
    """Draw the edge of a part, mitred."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(ink, LINE, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin))
    painter.drawPath(path)


def soft(colour: QColor, alpha: int) -> QColor:
    """A colour let through by so much of 255."""
    softened = QColor(colour)
    softened.setAlpha(alpha)
    return softened


def dashed(painter: QPainter, path: QPainterPath, colour: QColor) -> None:
    """Draw a line that may move, dashed."""
    pen = QPen(colour, 2.4, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([3.2, 1.4])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen)
    painter.drawPath(path)
