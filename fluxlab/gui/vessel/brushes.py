"""The workshop textures as tiles for the screen, where a drawing is redone at every edit; paper gets real lines."""

import random
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPixmap, QTransform

# tiles of a whole number of px at every usual screen scale (100, 125, 150, 175, 200 %)
_TILE = 64
_DOTS = 10


def hatched(painter: QPainter, path: QPainterPath, colour: QColor, period: int, rising: bool) -> None:
    """Fill a closed path with lines at 45 degrees, `period` px apart along the edge (a divisor of 64)."""
    painter.fillPath(path, _hatch(colour.rgba(), period, rising, ratio_of(painter)))


def stippled(painter: QPainter, path: QPainterPath, colour: QColor) -> None:
    """Fill a closed path with scattered dots, a large one to three small ones."""
    painter.fillPath(path, _stipple(colour.rgba(), ratio_of(painter)))


def ratio_of(painter: QPainter) -> float:
    """Device pixels in a px of what is painted on [-]."""
    return float(painter.device().devicePixelRatio())


@lru_cache(maxsize=16)
def _hatch(rgba: int, period: int, rising: bool, ratio: float) -> QBrush:
    tile, painter = _begin(ratio)
    painter.setPen(QPen(QColor.fromRgba(rgba), 1.0))
    for x in range(-_TILE, 2 * _TILE + 1, period):
        low, high = QPointF(x, _TILE), QPointF(x + _TILE, 0)
        if not rising:
            low, high = QPointF(x, 0), QPointF(x + _TILE, _TILE)
        painter.drawLine(QLineF(low, high))
    return _end(tile, painter, ratio)


@lru_cache(maxsize=16)
def _stipple(rgba: int, ratio: float) -> QBrush:
    tile, painter = _begin(ratio)
    grain = random.Random(11)
    step = _TILE / _DOTS
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor.fromRgba(rgba))
    for row in range(_DOTS):
        for column in range(_DOTS):
            x = (column + grain.uniform(0.0, 0.9)) * step
            y = (row + grain.uniform(0.0, 0.9)) * step
            radius = 1.0 if grain.random() < 0.27 else 0.6
            for dx in (-_TILE, 0, _TILE):
                for dy in (-_TILE, 0, _TILE):
                    painter.drawEllipse(QPointF(x + dx, y + dy), radius, radius)
    return _end(tile, painter, ratio)


def _begin(ratio: float) -> tuple[QPixmap, QPainter]:
    tile = QPixmap(round(_TILE * ratio), round(_TILE * ratio))
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(tile.width() / _TILE, tile.width() / _TILE)
    return tile, painter


def _end(tile: QPixmap, painter: QPainter, ratio: float) -> QBrush:
    painter.end()
    brush = QBrush(tile)
    brush.setTransform(QTransform.fromScale(_TILE / tile.width(), _TILE / tile.width()))
    return brush
