"""What the slag map shows: tints, the region where every must holds, the recipe as a knob."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPaintEngine, QPainter, QPainterPath, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.charts import map_point, marks
from fluxlab.gui.charts.chart import Chart
from fluxlab.gui.charts.fluid_words import UNKNOWN
from fluxlab.gui.charts.map_levels import levels
from fluxlab.gui.charts.map_words import NOTHING_HOLDS, field_rows, spoken
from fluxlab.gui.charts.scale import Axis, Field, even_axis
from fluxlab.gui.widgets import text as type_

if TYPE_CHECKING:
    from fluxlab.design.map_types import FieldRow, MapFrame, Outline, Point
    from fluxlab.gui.charts import map_picture
    from fluxlab.gui.charts.map_grid import Rows

BEFORE = "for the recipe before"
DIM = 0.6
ROOM = 0.82
MORE = 1.8
"""A field that is on its way is drawn anew when so many times as many rows have come."""
EMPTY = even_axis(0.5, 3.0), even_axis(0.0, 0.7)


class MapView(Chart):
    """What the map shows; the hand on its knob is in `SlagMap`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Slag map", "slag-map", parent)
        self.frame: MapFrame | None = None
        self.empty = UNKNOWN
        self.broken: frozenset[str] = frozenset()
        self.here: Point | None = None
        self.rows: Rows | None = None
        self.stale = False
        self.limit: float | None = None
        self._coming: Rows | None = None
        self._shown = 1
        self._next_limit: float | None = None
        self.start: Point | None = None
        self.whisper = ""
        self._drawn: tuple[tuple[object, ...], QImage | None, tuple[map_picture.Line, ...], QPainterPath] | None = None
        self._kept: tuple[tuple[object, ...], MapFrame, QPixmap] | None = None
        self._say()

    # -- what is shown --------------------------------------------------------------------------------------------

    def show_frame(self, frame: MapFrame | None, empty: str = UNKNOWN) -> None:
        """Show what can be drawn at once; the field of other axes goes."""
        if frame is None or self.frame is None or frame.pair != self.frame.pair:
            self.rows = self._coming = None
            self.stale = False
        if frame is not None and self.frame is not None and frame.safe is None and frame.pair == self.frame.pair:
            frame = replace(frame, safe=self.frame.safe if frame.outline == self.frame.outline else None)
        self.frame, self.empty = frame, empty
        self.here = None if frame is None else frame.here
        self._say()
        self.redraw()

    def add_safe(self, safe: Outline | None) -> None:
        """Show the part of the outline that is safe as well."""
        if self.frame is not None:
            self.frame = replace(self.frame, safe=safe)
            self.redraw()

    def set_whisper(self, words: str) -> None:
        """Say something at the foot of the field."""
        if words != self.whisper:
            self.whisper = words
            self._say()
            self.redraw()

    def set_stale(self) -> None:
        """What is shown is that of the recipe before."""
        if self.frame is not None and self.rows is not None and not self.stale:
            self.stale = True
            self.redraw()

    def show_point(self, here: Point | None, broken: frozenset[str]) -> None:
        """Show the recipe elsewhere on the same map, and the limits that it breaks there."""
        if (here, broken) != (self.here, self.broken):
            self.here, self.broken = here, broken
            self._say()
            self.redraw()

    def begin_field(self, limit: float | None) -> None:
        """A new field is on its way; the old one stays, dimmed, until it is whole."""
        from fluxlab.gui.charts.map_grid import Rows

        if self.frame is None:
            return
        self._coming = Rows(self.frame.pair.x.low, self.frame.pair.x.high)
        self._next_limit, self._shown = limit, 1
        self.stale = self.rows is not None
        if self.rows is None:
            self.rows, self.limit = self._coming, limit
        self.redraw()

    def take_rows(self, rows: list[FieldRow]) -> None:
        """Keep rows of the new field."""
        if self._coming is not None:
            for row in rows:
                self._coming.take(row)
            if self._coming is self.rows and len(self.rows.rows) >= MORE * self._shown:
                self._shown = len(self.rows.rows)
                self.redraw()

    def end_field(self) -> None:
        """The new field is whole."""
        if self._coming is not None:
            self.rows, self._coming, self.stale = self._coming, None, False
            self.limit = self._next_limit
            self.redraw()

    def _say(self) -> None:
        frame = self.frame
        if frame is not None and self.here != frame.here:
            frame = replace(frame, here=self.here)
        self.setAccessibleName(spoken(frame, self.empty, self.whisper))
        self.setAccessibleDescription("The arrow keys move the recipe; what is fixed in the table stays.")

    @property
    def dragging(self) -> bool:
        """Whether the hand or the keys hold the knob."""
        return self.start is not None

    def axes(self) -> tuple[Axis, Axis]:
        """Both axes of the frame."""
        if self.frame is None:
            return EMPTY
        x, y = self.frame.pair.x, self.frame.pair.y
        return even_axis(x.low, x.high), even_axis(y.low, y.high)

    def as_rows(self) -> list[list[str]]:
        """The field, point by point."""
        return field_rows(self.frame, self.rows)

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "slag_map"

    # -- words around the field -----------------------------------------------------------------------------------

    def head_height(self) -> int:
        """One line."""
        return theme.scaled(19)

    def foot_height(self) -> int:
        """One line."""
        return theme.scaled(16)

    def draw_words(self, painter: QPainter) -> None:
        """The names of the axes, and of the marks that need one."""
        t = theme.tokens()
        base = theme.scaled(13)
        frame = self.frame
        if frame is None:
            return
        foot = self.height() - theme.scaled(4)
        type_.left(painter, 0, base, _axis_words(frame.pair.y.label, frame.pair.y.unit), 12, t.ink2)
        type_.right(painter, self.width() - 1, foot, _axis_words(frame.pair.x.label, frame.pair.x.unit), 12, t.ink2)
        x = float(self.width()) - 1
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle = base - theme.metrics(12).capHeight() / 2
        if frame.cloud.points:
            x = type_.right(painter, x, base, "ore spread", 12, t.ink2) - 6
            painter.setPen(QPen(t.ink, 1.4))
            painter.drawEllipse(QRectF(x - 18, middle - 3.5, 18, 7))
            x -= 18 + 12
        if frame.safe is not None and frame.safe.sides:
            words = f"holds {round(10 * frame.safe_share)} in 10"
            x = type_.right(painter, x, base, words, 12, t.hand) - 6
            pen = QPen(t.hand, 1.6, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
            pen.setDashPattern([3.0, 2.2])
            painter.setPen(pen)
            painter.drawLine(QPointF(x - 20, middle), QPointF(x, middle))

    # -- the field ------------------------------------------------------------------------------------------------

    def draw(self, painter: QPainter, field: Field) -> None:
        """Draw tints, outline, marks and knob, from the back to the front."""
        from fluxlab.gui.charts import map_outline, map_picture

        frame = self.frame
        if frame is None:
            _sentence(painter, field, self.empty, self.hasFocus())
            return
        painter.save()
        painter.setClipRect(QRectF(1, 0, field.width - 1, field.height))
        self._draw_ground(painter, field, frame)
        inside = map_outline.region(field, frame.outline)
        knob = None if self.here is None else map_point.spot(field, self.here)
        taken = [] if knob is None else [map_point.around(knob, map_point.HIT + 6)]
        plates = map_outline.plates(field, frame.outline, self.broken, taken)
        taken += [plate.box for plate in plates]
        if not frame.outline.sides:
            taken.append(QRectF(0, 0, field.width, theme.scaled(50)))
        map_picture.draw_figures(painter, self._lines(), taken, inside)
        map_point.draw_cloud(painter, field, self._cloud(frame))
        map_outline.draw_plates(painter, plates)
        self._notes(painter, field, frame)
        if knob is not None:
            if self.start is not None:
                map_point.draw_trail(painter, map_point.spot(field, self.start), knob)
            map_point.draw_knob(painter, knob, self.hasFocus())
        painter.restore()

    def _draw_ground(self, painter: QPainter, field: Field, frame: MapFrame) -> None:
        """Draw what the knob does not change; on the screen from a picture that is kept."""
        fine = painter.device().devicePixelRatioF()
        picture = self._picture(field, fine)
        if painter.paintEngine().type() != QPaintEngine.Type.Raster:
            self._paint_ground(painter, field, frame, picture)
            return
        key = (self._drawn and self._drawn[0], id(frame), field, fine, self.stale, self.broken, theme.tokens().dark)
        if self._kept is None or self._kept[0] != key:
            pixmap = QPixmap(ceil(field.width * fine), ceil(field.height * fine))
            pixmap.setDevicePixelRatio(fine)
            pixmap.fill(Qt.GlobalColor.transparent)
            inner = QPainter(pixmap)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_ground(inner, field, frame, picture)
            inner.end()
            self._kept = key, frame, pixmap
        painter.drawPixmap(QPointF(0, 0), self._kept[2])

    def _paint_ground(
        self, painter: QPainter, field: Field, frame: MapFrame, picture: tuple[QImage | None, QPainterPath]
    ) -> None:
        """Paint tints, contours, veil and outlines."""
        from fluxlab.gui.charts import map_outline, map_picture

        image, path = picture
        if image is not None:
            painter.setOpacity(DIM if self.stale else 1.0)
            painter.drawImage(QPointF(0, 0), image)
            map_picture.draw_lines(painter, path)
            painter.setOpacity(1.0)
        map_outline.draw_veil(painter, field, map_outline.region(field, frame.outline))
        map_outline.draw_outline(painter, field, frame.outline, self.broken)
        if frame.safe is not None:
            map_outline.draw_safe(painter, field, frame.safe)

    def _lines(self) -> tuple[map_picture.Line, ...]:
        return () if self._drawn is None or self.rows is None else self._drawn[2]

    def _cloud(self, frame: MapFrame) -> tuple[Point, ...]:
        """The ellipse, moved along with the knob while that is dragged."""
        if self.here is None or frame.here is None:
            return frame.cloud.points
        dx, dy = self.here[0] - frame.here[0], self.here[1] - frame.here[1]
        return tuple((x + dx, y + dy) for x, y in frame.cloud.points)

    def _picture(self, field: Field, fine: float) -> tuple[QImage | None, QPainterPath]:
        """The tints and the contours of the field, made once for each."""
        from fluxlab.gui.charts import map_picture

        rows = self.rows
        if rows is None:
            return None, QPainterPath()
        steps = levels(self.limit)
        key = (id(rows), len(rows.rows), field, fine, steps, theme.tokens().dark)
        if self._drawn is None or self._drawn[0] != key:
            image = map_picture.tinted(rows, field, steps, theme.tokens(), fine)
            lines = map_picture.lines_of(rows, field, steps)
            self._drawn = key, image, lines, map_picture.path_of(lines)
        return self._drawn[1], self._drawn[3]

    def _notes(self, painter: QPainter, field: Field, frame: MapFrame) -> None:
        t = theme.tokens()
        base = field.height - 6
        x = 8.0
        if self.rows is not None and any(any(row.crystals) for row in self.rows.rows.values()):
            x = marks.on_plate(painter, x, base, "hatched: crystals", 12, t.ink).right() + 12
        words = BEFORE if self.stale else self.whisper
        if words:
            marks.on_plate(painter, x, base, words, 12, t.ink)
        if not frame.outline.sides and not self.whisper:
            _sentence(painter, field, NOTHING_HOLDS, False, theme.scaled(24))


def _axis_words(label: str, unit: str) -> str:
    return f"{label}, {unit}" if unit else label


def _sentence(painter: QPainter, field: Field, words: str, focused: bool, top: float | None = None) -> None:
    """One sentence on a plate in the middle of the field, or from `top` on."""
    t = theme.tokens()
    lines = type_.lines(words, 13, ROOM * field.width)
    leading = theme.scaled(18)
    base = (field.height - leading * (len(lines) - 1)) / 2 if top is None else top
    for number, line in enumerate(lines):
        x = (field.width - type_.width(line, 13)) / 2
        marks.on_plate(painter, x, base + number * leading, line, 13, t.ink)
    if focused:
        marks.focus_frame(painter, QRectF(2, 1, field.width - 4, field.height - 4))
