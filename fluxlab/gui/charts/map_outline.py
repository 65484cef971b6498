"""The outline of the slag map: where every must holds, each side named with its limit, the outside veiled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.scale import Field

if TYPE_CHECKING:
    from fluxlab.design.map_types import Outline, Point, Side

THICK, BROKEN, CASING = 2.4, 4.0, 5.4
VEIL = 0.42
ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)


@dataclass(frozen=True, slots=True)
class Plate:
    """A side's name: its words, where they begin and stand [px], and whether the side is broken."""

    words: str
    x: float
    baseline: float
    broken: bool

    @property
    def box(self) -> QRectF:
        """The plate itself."""
        return marks.word_box(self.x, self.baseline, self.words, 12, self.broken)


@lru_cache(maxsize=64)
def polygon(field: Field, points: tuple[Point, ...]) -> QPolygonF:
    """Points of the map in px. Shared: to be drawn, not changed."""
    return QPolygonF([QPointF(field.x(x), field.y(y)) for x, y in points])


@lru_cache(maxsize=8)
def region(field: Field, outline: Outline) -> QPainterPath:
    """The inside of an outline in px. Shared: to be drawn, not changed."""
    path = QPainterPath()
    points = tuple(point for side in outline.sides for point in side.points)
    if len(points) > 2:
        path.addPolygon(polygon(field, points))
        path.closeSubpath()
    return path


def short(words: str) -> str:
    """A limit's name as it stands beside its line, where the picture says on which side it holds."""
    for part in (" at least ", " at most "):
        words = words.replace(part, " ")
    first = words.partition(" ")[0]
    return words[:1].lower() + words[1:] if first[1:].islower() else words


def draw_veil(painter: QPainter, field: Field, inside: QPainterPath) -> None:
    """Dim what lies outside."""
    outside = QPainterPath()
    outside.setFillRule(Qt.FillRule.OddEvenFill)
    outside.addRect(QRectF(0, 0, field.width, field.height))
    outside.addPath(inside)
    painter.fillPath(outside, marks.soft(theme.tokens().sheet, VEIL))


def draw_outline(painter: QPainter, field: Field, outline: Outline, broken: frozenset[str]) -> None:
    """The sides in violet with a casing in the sheet's colour; broken ones thick and carmine."""
    t = theme.tokens()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    join = (Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin)
    painter.setPen(QPen(t.sheet, CASING, *join))
    painter.drawPath(region(field, outline))
    painter.setPen(QPen(t.hand, THICK, *join))
    painter.drawPath(region(field, outline))
    for side in outline.sides:
        if side.limit in broken:
            painter.setPen(QPen(t.sheet, BROKEN + 3.0, *join))
            painter.drawPolyline(polygon(field, side.points))
            painter.setPen(QPen(t.no, BROKEN, *join))
            painter.drawPolyline(polygon(field, side.points))


def draw_safe(painter: QPainter, field: Field, outline: Outline) -> None:
    """The dashed inner outline."""
    pen = QPen(theme.tokens().hand, 1.6, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([3.0, 2.2])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen)
    painter.drawPath(region(field, outline))


def plates(field: Field, outline: Outline, broken: frozenset[str], taken: Sequence[QRectF]) -> list[Plate]:
    """Names for the sides, one for each limit at its longest stretch, clear of each other and of what is `taken`."""
    longest: dict[str, tuple[float, Side]] = {}
    for side in outline.sides:
        if side.limit and side.words:
            length = _length(polygon(field, side.points))
            if length > longest.get(side.words, (0.0, side))[0]:
                longest[side.words] = length, side
    made: list[Plate] = []
    boxes = list(taken)
    inside = region(field, outline)
    for length, side in sorted(longest.values(), key=lambda pair: -pair[0]):
        if length < 6.0:
            continue
        plate = _place(field, side, side.limit in broken, inside, boxes)
        if plate is not None:
            made.append(plate)
            boxes.append(plate.box)
    return made


def _length(points: QPolygonF) -> float:
    path = QPainterPath()
    path.addPolygon(points)
    return path.length()


def _along(points: QPolygonF, share: float) -> tuple[QPointF, QPointF]:
    """The point at a share of a line's length, and the line's direction there."""
    path = QPainterPath()
    path.addPolygon(points)
    percent = path.percentAtLength(share * path.length())
    before, after = path.pointAtPercent(max(0.0, percent - 0.01)), path.pointAtPercent(min(1.0, percent + 0.01))
    return path.pointAtPercent(percent), after - before


def _place(field: Field, side: Side, broken: bool, inside: QPainterPath, taken: Sequence[QRectF]) -> Plate | None:
    """A free place beside a side, outside before inside."""
    line = polygon(field, side.points)
    words = short(side.words)
    middle = inside.boundingRect().center()
    size = marks.word_box(0.0, 0.0, words, 12, broken)
    ascent = theme.metrics(12, broken).ascent()
    frame = QRectF(2, 2, field.width - 4, field.height - 4)
    for outward in (1.0, -1.0):
        for share in ALONG:
            at, lie = _along(line, share)
            across = QPointF(-lie.y(), lie.x())
            size_of = (across.x() ** 2 + across.y() ** 2) ** 0.5 or 1.0
            across = across / size_of
            away = at - middle
            sign = 1.0 if across.x() * away.x() + across.y() * away.y() >= 0.0 else -1.0
            reach = 6.0 + abs(across.x()) * size.width() / 2 + abs(across.y()) * size.height() / 2
            spot = at + across * (sign * outward * reach)
            box = QRectF(spot.x() - size.width() / 2, spot.y() - size.height() / 2, size.width(), size.height())
            box.moveLeft(max(frame.left(), min(frame.right() - box.width(), box.left())))
            box.moveTop(max(frame.top(), min(frame.bottom() - box.height(), box.top())))
            on_line = inside.intersects(box) and not inside.contains(box)
            if not on_line and not any(box.intersects(other) for other in taken):
                return Plate(words, box.left() + marks.PAD, box.top() + ascent, broken)
    return None


def draw_plates(painter: QPainter, found: Sequence[Plate]) -> None:
    """Write the names."""
    t = theme.tokens()
    for plate in found:
        colour = t.no if plate.broken else t.hand
        marks.on_plate(painter, plate.x, plate.baseline, plate.words, 12, colour, plate.broken)
