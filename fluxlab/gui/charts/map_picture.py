"""The field of the slag map as a picture: stepped tints, crystals hatched, contours with their figures."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QPolygonF, QTransform

from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.map_contours import contour
from fluxlab.gui.charts.map_grid import Rows, even_out
from fluxlab.gui.charts.map_levels import level_words
from fluxlab.gui.charts.scale import Field
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.widgets import text as type_

HATCH = 7
EDGE = 12.0
REACH, STEEP = 3, 62.0


@dataclass(frozen=True, slots=True)
class Line:
    """A contour: its figure, the lines it consists of in px of the field, and where its figure may stand.

    A place is a point, the way the line lies there [degrees] and the room that the figure takes; the best come first.
    """

    words: str
    parts: tuple[QPolygonF, ...]
    places: tuple[tuple[QPointF, float, QRectF], ...]


def tinted(rows: Rows, field: Field, levels: Sequence[float], tokens: Tokens, fine: float) -> QImage | None:
    """The tints at `fine` pixels to one px; None where nothing is known."""
    import numpy as np

    width, height = max(1, round(field.width * fine)), max(1, round(field.height * fine))
    evened = even_out(rows, field.y_axis.lo, field.y_axis.hi, width, height)
    if evened is None:
        return None
    steps = np.array([_argb(colour) for colour in tokens.map], dtype=np.uint32)
    thicker = np.zeros(evened.values.shape, dtype=np.uint8)
    for level in levels:
        thicker += evened.values > level
    pixels = steps[thicker]
    if evened.crystals is not None:
        apart = max(3, round(HATCH * fine))
        stripes = (np.arange(width)[None, :] + np.arange(height)[:, None]) % apart < max(1, round(fine))
        pixels[stripes & evened.crystals] = _argb(tokens.ink2)
    if evened.known is not None:
        pixels[~evened.known] = 0
    image = QImage(
        np.ascontiguousarray(pixels).data, width, height, 4 * width, QImage.Format.Format_ARGB32_Premultiplied
    ).copy()
    image.setDevicePixelRatio(fine)
    return image


def _argb(colour: QColor) -> int:
    return colour.rgba()


def lines_of(rows: Rows, field: Field, levels: Sequence[float]) -> tuple[Line, ...]:
    """The contours in px of the field."""
    made = []
    for level in levels:
        parts = [QPolygonF([QPointF(field.x(x), field.y(y)) for x, y in part]) for part in contour(rows, level)]
        if parts:
            words = level_words(level)
            made.append(Line(words, tuple(parts), _places(field, words, parts)))
    return tuple(made)


def _places(field: Field, words: str, parts: Sequence[QPolygonF]) -> tuple[tuple[QPointF, float, QRectF], ...]:
    """Where a contour's figure may stand, as far right and up as there is room."""
    inside = QRectF(EDGE, 4, field.width - 2 * EDGE, field.height - 8)
    spots = [(part.at(k), _lie(part, k)) for part in parts for k in range(1, part.count() - 1)]
    spots.sort(key=lambda spot: (abs(spot[1]) > STEEP, 0.4 * spot[0].y() - spot[0].x()))
    places = [(at, angle, _room(words, at, angle)) for at, angle in spots if inside.contains(at)]
    return tuple(place for place in places if inside.contains(place[2]))


def path_of(lines: Sequence[Line]) -> QPainterPath:
    """All contours as one path."""
    path = QPainterPath()
    for line in lines:
        for part in line.parts:
            path.addPolygon(part)
    return path


def draw_lines(painter: QPainter, path: QPainterPath) -> None:
    """Draw the contours, thin."""
    painter.setPen(QPen(marks.soft(theme.tokens().ink, 0.75), 1))
    painter.drawPath(path)


def draw_figures(painter: QPainter, lines: Sequence[Line], taken: Sequence[QRectF], outline: QPainterPath) -> None:
    """Write each contour's figure on it, turned along it, clear of what is `taken` and of the outline's sides."""
    placed = list(taken)
    for line in lines:
        found = _spot(line, placed, outline)
        if found is None:
            continue
        at, angle, room = found
        wide = type_.width(line.words, 12)
        painter.save()
        painter.translate(at)
        painter.rotate(angle)
        marks.on_plate(painter, -wide / 2, theme.metrics(12).capHeight() / 2, line.words, 12, theme.tokens().ink)
        painter.restore()
        placed.append(room)


def _room(words: str, at: QPointF, angle: float) -> QRectF:
    """The room that a turned figure takes."""
    wide = type_.width(words, 12) + 2 * marks.PAD
    tall = theme.metrics(12).height()
    turn = QTransform().translate(at.x(), at.y()).rotate(angle)
    return turn.mapRect(QRectF(-wide / 2, -tall / 2, wide, tall))


def _spot(line: Line, taken: Sequence[QRectF], outline: QPainterPath) -> tuple[QPointF, float, QRectF] | None:
    """The best free place for a contour's figure, not across the outline; None where there is none."""
    for place in line.places:
        room = place[2]
        if not any(room.intersects(box) for box in taken) and (not outline.intersects(room) or outline.contains(room)):
            return place
    return None


def _lie(part: QPolygonF, k: int) -> float:
    """How a contour lies around its `k`th point [degrees], so that words on it are never upside down."""
    a, b = part.at(max(0, k - REACH)), part.at(min(part.count() - 1, k + REACH))
    if a.x() > b.x():
        a, b = b, a
    return degrees(atan2(b.y() - a.y(), b.x() - a.x()))
