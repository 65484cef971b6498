"""Heaps of material drawn to one scale by volume, side by side with what happens between them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from fluxlab.gui import theme
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.widgets import text

RISE = 0.36
"""Height of a heap over its width, the slope at which dry grains come to rest (about 35 degrees)."""
GRAIN = 34.0
"""Area that one drawn grain stands for [px2]."""


@dataclass(frozen=True, slots=True)
class Heap:
    """One heap: volume [cm3], the words under it, whether it is hot from the roast, what leads to it."""

    volume: float
    mass_text: str
    name: str
    warm: bool = False
    reached_by: str = ""


def widths(volumes: Sequence[float], most: float) -> tuple[float, ...]:
    """Widths [px] of like-shaped heaps, the largest `most` wide: they go by the cube root of the volume."""
    largest = max(volumes, default=0.0)
    if not largest > 0.0:
        return tuple(0.0 for _ in volumes)
    return tuple(most * max(0.0, volume / largest) ** (1.0 / 3.0) for volume in volumes)


def draw_heaps(painter: QPainter, rect: QRectF, heaps: Sequence[Heap], colours: Tokens) -> None:
    """Draw the heaps on one ground line, with mass and name beneath."""
    words = theme.scaled(42)
    ground = rect.bottom() - words
    slot = rect.width() / max(len(heaps), 1)
    most = min(slot * 0.7, (ground - rect.top() - 4) / RISE, rect.width() * 0.42)
    spans = widths([heap.volume for heap in heaps], most)
    centres = [rect.left() + slot * (i + 0.5) for i in range(len(heaps))]
    for i, (heap, span) in enumerate(zip(heaps, spans, strict=True)):
        x = centres[i]
        _heap(painter, QPointF(x, ground), span, colours.heat_tint if heap.warm else colours.charge, colours, i)
        text.centred(painter, x, ground + theme.scaled(20), heap.mass_text, 14, colours.ink, bold=True)
        text.centred(painter, x, ground + theme.scaled(36), heap.name, 12, colours.ink2)
        if i:
            _arrow(painter, centres[i - 1] + spans[i - 1] / 2, x - span / 2, ground, heap.reached_by, colours)
    painter.setPen(QPen(colours.ink, 1.2))
    painter.drawLine(QPointF(rect.left(), ground), QPointF(rect.right(), ground))


def outline(foot: QPointF, span: float) -> QPainterPath:
    """The silhouette of a heap that stands at `foot`, `span` px wide: straight flanks and a blunt top."""
    half, height = span / 2, span * RISE
    top = foot.y() - height
    path = QPainterPath(QPointF(foot.x() - half, foot.y()))
    path.cubicTo(
        QPointF(foot.x() - half * 0.55, foot.y() - height * 0.42),
        QPointF(foot.x() - half * 0.30, top),
        QPointF(foot.x(), top),
    )
    path.cubicTo(
        QPointF(foot.x() + half * 0.30, top),
        QPointF(foot.x() + half * 0.55, foot.y() - height * 0.42),
        QPointF(foot.x() + half, foot.y()),
    )
    path.closeSubpath()
    return path


def _heap(painter: QPainter, foot: QPointF, span: float, fill: QColor, colours: Tokens, seed: int) -> None:
    if span < 2.0:
        return
    path = outline(foot, span)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(fill)
    painter.drawPath(path)
    painter.save()
    painter.setClipPath(path)
    painter.setPen(QPen(colours.ink2, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawPoints(QPolygonF([foot + spot for spot in _grains(round(span), seed)]))
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    pen = QPen(colours.ink, 1.6)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.drawPath(path)


@lru_cache(maxsize=16)
def _grains(span: int, seed: int) -> list[QPointF]:
    """Places of the grains, always the same for one heap, evenly strewn on a jittered grid."""
    dice = Random(seed)
    pitch = math.sqrt(GRAIN)
    columns, rows = int(span / pitch) + 1, int(span * RISE / pitch) + 1
    return [
        QPointF(-span / 2 + (i + dice.random()) * pitch, -(j + dice.random()) * pitch)
        for j in range(rows)
        for i in range(columns)
    ]


def _arrow(painter: QPainter, start: float, end: float, ground: float, words: str, colours: Tokens) -> None:
    y = ground - theme.scaled(10)
    start, end = start + 4, end - 4
    if end - start < 12:
        return
    painter.setPen(QPen(colours.ink2, 1.2))
    painter.drawLine(QPointF(start, y), QPointF(end, y))
    painter.drawPolyline(QPolygonF([QPointF(end - 4, y - 4), QPointF(end, y), QPointF(end - 4, y + 4)]))
    text.centred(painter, (start + end) / 2, y - theme.scaled(6), words, 12, colours.ink2)
