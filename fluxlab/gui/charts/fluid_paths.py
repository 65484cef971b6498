"""The fluidity curve as paths in px of its field, made once for each report and size."""

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath, QPolygonF

from fluxlab.design.fluid_types import FluidReport
from fluxlab.gui.charts.fluid_words import at_temperature
from fluxlab.gui.charts.scale import Field


@dataclass(frozen=True, slots=True)
class FluidPaths:
    """The line above and below the melt-free point, both bands, and each opinion's line with its last points."""

    melted: QPainterPath
    unmelted: QPainterPath
    band90: QPainterPath
    band50: QPainterPath
    opinions: tuple[QPainterPath, ...]


def fluid_paths(fluid: FluidReport, field: Field) -> FluidPaths:
    """Paths of a report in a field; bands stand only where all is melted, if anywhere."""
    curve = fluid.curve
    assert curve is not None
    points = tuple(zip(curve.temperatures, curve.viscosity, strict=True))
    split = curve.temperatures[0] if fluid.melt_free is None else fluid.melt_free.value
    at_split = at_temperature(fluid, split)
    joint = [] if at_split is None else [(split, at_split)]
    above = [*joint, *(p for p in points if p[0] > split)]
    below = [*(p for p in points if p[0] < split), *joint]
    shown = above or list(points)
    return FluidPaths(
        _line(field, ((t, v.value) for t, v in above)),
        _line(field, ((t, v.value) for t, v in below)),
        _band(field, [(t, v.low90, v.high90) for t, v in shown]),
        _band(field, [(t, v.low50, v.high50) for t, v in shown]),
        tuple(_line(field, zip(curve.temperatures, o.viscosity, strict=True)) for o in curve.opinions),
    )


def _polygon(field: Field, points: Iterable[tuple[float, float]]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in field.points(points)])


def _line(field: Field, points: Iterable[tuple[float, float]]) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(_polygon(field, points))
    return path


def _band(field: Field, points: list[tuple[float, float, float]]) -> QPainterPath:
    up, down = ((t, low) for t, low, _ in points), ((t, high) for t, _, high in reversed(points))
    path = QPainterPath()
    path.addPolygon(_polygon(field, (*up, *down)))
    path.closeSubpath()
    return path
