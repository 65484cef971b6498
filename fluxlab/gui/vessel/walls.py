"""The solid of a vessel, hatched and outlined: it stays while the contents change, so its picture is kept."""

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap

from fluxlab.gui.tokens import Tokens
from fluxlab.gui.vessel.brushes import hatched, ratio_of
from fluxlab.gui.vessel.frame import Frame, wall
from fluxlab.gui.vessel.ink import LINE, outline, soft
from fluxlab.gui.vessel.shape import Shape

_ROUND = math.ceil(LINE) + 1


def draw_clay(painter: QPainter, frame: Frame, shape: Shape, t: Tokens) -> None:
    """Draw the wall of a pot."""
    _draw(painter, frame, shape, t, t.clay, 8, 90)


def draw_iron(painter: QPainter, frame: Frame, shape: Shape, t: Tokens) -> None:
    """Draw the wall of a mould: denser lines, the other way."""
    _draw(painter, frame, shape, t, t.iron, 4, 130)


def _draw(painter: QPainter, frame: Frame, shape: Shape, t: Tokens, fill: QColor, period: int, strength: int) -> None:
    left = math.floor(frame.x(-shape.half_width)) - _ROUND
    top = math.floor(frame.y(shape.depth)) - _ROUND
    near = Frame(round(frame.axis - left, 3), round(frame.floor - top, 3), frame.scale)
    picture = _picture(shape, near, t.ink.rgba(), fill.rgba(), period, strength, ratio_of(painter))
    painter.drawPixmap(QPointF(left, top), picture)


@lru_cache(maxsize=12)
def _picture(shape: Shape, frame: Frame, ink: int, fill: int, period: int, strength: int, ratio: float) -> QPixmap:
    wide = math.ceil(frame.x(shape.half_width)) + _ROUND
    high = math.ceil(frame.y(-shape.foot)) + _ROUND
    picture = QPixmap(math.ceil(wide * ratio), math.ceil(high * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    solid = wall(frame, shape)
    painter.fillPath(solid, QColor.fromRgba(fill))
    hatched(painter, solid, soft(QColor.fromRgba(ink), strength), period, rising=period == 8)
    outline(painter, solid, QColor.fromRgba(ink))
    painter.end()
    return picture
