"""From millimetres in a section to places on the drawing."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath, QPolygonF

from fluxlab.gui.vessel.shape import Shape


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the axis stands, where the floor lies and how many drawing units a millimetre has."""

    axis: float
    floor: float
    scale: float

    def x(self, radius: float) -> float:
        """Place of a radius, negative to the left of the axis."""
        return self.axis + radius * self.scale

    def y(self, z: float) -> float:
        """Place of a height above the floor."""
        return self.floor - z * self.scale

    def at(self, radius: float, z: float) -> QPointF:
        """Place of a point of the section."""
        return QPointF(self.x(radius), self.y(z))


def closed(points: QPolygonF) -> QPainterPath:
    """A closed path round the points."""
    path = QPainterPath()
    path.addPolygon(points)
    path.closeSubpath()
    return path


def wall(frame: Frame, shape: Shape) -> QPainterPath:
    """The solid of the vessel, both sides, as one closed path."""
    right_out = list(shape.outside)
    right_in = list(reversed(shape.inside))
    round_trip = [frame.at(radius, z) for z, radius in right_out] + [frame.at(radius, z) for z, radius in right_in]
    mirrored = [frame.at(-radius, z) for z, radius in shape.inside]
    mirrored += [frame.at(-radius, z) for z, radius in reversed(shape.outside)]
    return closed(QPolygonF(round_trip + mirrored))


def filling(frame: Frame, shape: Shape, low: float, high: float, sides: tuple[float, ...]) -> QPainterPath:
    """What stands between two heights of the vessel with flat faces, on the given sides of the axis.

    Above the rim it keeps the rim's width.
    """
    points = shape.wall_between(low, high)
    if len(sides) == 2:
        ring = [frame.at(radius, z) for z, radius in points] + [frame.at(-radius, z) for z, radius in reversed(points)]
        return closed(QPolygonF(ring))
    side = sides[0]
    ring = [frame.at(0.0, low)] + [frame.at(side * radius, z) for z, radius in points] + [frame.at(0.0, high)]
    return closed(QPolygonF(ring))


def heap(
    frame: Frame, shape: Shape, level: float, crown: float, sides: tuple[float, ...], highest: float
) -> QPainterPath:
    """A loose charge whose heap has its middle `crown` mm above and its edge as far below the level that it would have
    flat; the volume under such a paraboloid is that of the flat one. Over the rim it rises from the rim, no more than
    `highest` mm.
    """
    edge, top = max(level - crown, 0.0), level + crown
    if level > shape.depth:
        edge, top = shape.depth, shape.depth + min(2.0 * (level - shape.depth), highest)
    radius = shape.radius(edge)
    surface = [(edge + (top - edge) * (1.0 - step * step), radius * step) for step in (at / 12.0 for at in range(13))]
    wall_points = shape.wall_between(0.0, edge) if edge > 0.0 else ()
    right = [frame.at(r, z) for z, r in (*wall_points, *reversed(surface))]
    left = [frame.at(-r, z) for z, r in (*surface, *reversed(wall_points))]
    if sides == (1.0,):
        return closed(QPolygonF([frame.at(0.0, 0.0), *right]))
    if sides == (-1.0,):
        return closed(QPolygonF([*left, frame.at(0.0, 0.0)]))
    return closed(QPolygonF([*right, *left]))
