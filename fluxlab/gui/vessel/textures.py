"""Workshop textures: hatched walls, stippled charge, foam. The same drawing always gets the same grain."""

import random
from functools import cache

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen


def hatch(
    painter: QPainter, path: QPainterPath, colour: QColor, spacing: float, width: float, rising: bool = True
) -> None:
    """Fill a closed path with parallel lines at 45 degrees, `spacing` apart, rising or falling to the right."""
    box = path.boundingRect()
    step = spacing * 2.0**0.5
    reach = box.height()
    lines = []
    x = box.left() - reach - (box.left() - reach) % step
    while x < box.right():
        low, high = QPointF(x, box.bottom()), QPointF(x + reach, box.top())
        if not rising:
            low, high = QPointF(x, box.top()), QPointF(x + reach, box.bottom())
        lines.append(QLineF(low, high))
        x += step
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(colour, width))
    painter.drawLines(lines)
    painter.restore()


def stipple(painter: QPainter, path: QPainterPath, colour: QColor, spacing: float, size: float) -> None:
    """Fill a closed path with scattered dots, a large one to three small ones."""
    box = path.boundingRect()
    small, large = QPen(colour, size), QPen(colour, 1.7 * size)
    for pen in (small, large):
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    columns, rows = int(box.width() / spacing) + 2, int(box.height() / spacing) + 2
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    for pen, coarse in ((small, False), (large, True)):
        painter.setPen(pen)
        dots = [
            QPointF(box.left() + x * spacing, box.bottom() - y * spacing)
            for x, y, big in _scatter(columns, rows)
            if big is coarse
        ]
        painter.drawPoints(dots)
    painter.restore()


def bubbles(painter: QPainter, path: QPainterPath, colour: QColor, fill: QColor, finest: float, width: float) -> None:
    """Fill a closed path with bubbles that grow upward from `finest` radius to two and a half times that."""
    box = path.boundingRect()
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.fillRect(box, fill)
    painter.setPen(QPen(colour, width))
    painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
    for x, y, radius in _bubbles(round(box.width() / finest), round(box.height() / finest)):
        centre = QPointF(box.left() + x * finest, box.bottom() - y * finest)
        painter.drawEllipse(centre, radius * finest, radius * finest)
    painter.restore()


@cache
def _scatter(columns: int, rows: int) -> tuple[tuple[float, float, bool], ...]:
    grain = random.Random(7)
    return tuple(
        (x + grain.uniform(-0.1, 0.9), y + grain.uniform(-0.1, 0.9), grain.random() < 0.27)
        for y in range(rows)
        for x in range(columns)
    )


@cache
def _bubbles(columns: int, rows: int) -> tuple[tuple[float, float, float], ...]:
    grain = random.Random(3)
    bubbles: list[tuple[float, float, float]] = []
    y, shifted = 0.0, False
    while y < rows + 2.5:
        radius = 1.0 + 1.5 * min(y / max(rows, 1), 1.0)
        x = 0.0 if shifted else radius
        while x < columns + radius:
            own = radius * grain.uniform(0.82, 1.04)
            bubbles.append((x, y + radius + grain.uniform(-0.2, 0.2), own))
            x += 2.05 * radius
        y += 1.8 * radius
        shifted = not shifted
    return tuple(bubbles)
