"""How the fluidity curve is drawn: bands, lines, the limit, the pour with its figure, and what was saved."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from fluxlab.design.fluid_types import FluidReport
from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.fluid_paths import FluidPaths
from fluxlab.gui.charts.fluid_spots import figure_start, grip_box, limit_spot, melted_spots, opinion_spots
from fluxlab.gui.charts.fluid_words import Saved, at_temperature, grip_words, thick, value_words
from fluxlab.gui.charts.scale import Field
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number

ROOM = 0.82
NEAR = 1.001
"""A viscosity that the solver put on its limit is not over it."""


def draw_grid(painter: QPainter, field: Field) -> None:
    """A hairline at every tick of the left axis."""
    rule = theme.tokens().rule
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    for value, _ in field.y_axis.ticks[1:]:
        marks.line(painter, QPointF(1, round(field.y(value))), QPointF(field.width, round(field.y(value))), rule)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)


def draw_curve(painter: QPainter, field: Field, fluid: FluidReport, paths: FluidPaths) -> None:
    """Bands, opinions and the line itself, cut to the field."""
    t = theme.tokens()
    painter.save()
    painter.setClipRect(QRectF(1, 0, field.width - 1, field.height))
    _unmeasured(painter, field, fluid)
    painter.fillPath(paths.band90, marks.soft(t.heat, 0.18))
    painter.fillPath(paths.band50, marks.soft(t.heat, 0.2))
    for path in paths.opinions:
        _stroke(painter, path, t.ink2, 1.2)
    _stroke(painter, paths.melted, t.heat, 2.4)
    _stroke(painter, paths.unmelted, t.heat, 2.4, (2.0, 2.0))
    painter.restore()
    _opinion_names(painter, field, fluid)


def _stroke(painter: QPainter, path: QPainterPath, colour: QColor, thick: float, dash: tuple[float, ...] = ()) -> None:
    pen = QPen(colour, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
    if dash:
        pen.setDashPattern(dash)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen)
    painter.drawPath(path)


def _unmeasured(painter: QPainter, field: Field, fluid: FluidReport) -> None:
    top = field.y(fluid.floor)
    if top < field.height - theme.scaled(18):
        painter.fillRect(QRectF(1, top, field.width, field.height - top), theme.tokens().tray)
        words = f"below {show_number(fluid.floor, 1)}: never measured"
        wide = type_.width(words, 12)
        x = 6.0 if field.x(fluid.pour) > wide + 16 else field.width - wide - 6
        type_.left(painter, x, field.height - 6, words, 12, theme.tokens().ink2)


def _opinion_names(painter: QPainter, field: Field, fluid: FluidReport) -> None:
    for x, base, words in opinion_spots(field, fluid):
        marks.on_plate(painter, x, base, words, 12, theme.tokens().ink2)


def draw_limit(painter: QPainter, field: Field, fluid: FluidReport) -> None:
    """The violet line of the thickest that the recipe allows."""
    if fluid.limit is None:
        return
    t = theme.tokens()
    y = round(field.y(fluid.limit))
    if not 0 <= y <= field.height:
        return
    painter.fillRect(QRectF(1, y - 1, field.width - 1, 2), t.hand)
    spot = limit_spot(field, fluid)
    if spot is not None:
        marks.on_plate(painter, spot[0], spot[1], spot[2], 12, t.hand)


def draw_pour(painter: QPainter, field: Field, fluid: FluidReport, focused: bool) -> None:
    """The pour line with its grip, and the figure where it meets the curve."""
    t = theme.tokens()
    x = round(field.x(fluid.pour))
    box = grip_box(field, fluid)
    painter.fillRect(QRectF(x - 1, box.top(), 2, field.height - box.top()), t.hand)
    painter.fillRect(box, t.hand)
    type_.centred(painter, box.center().x(), type_.middle(box, 12, True), grip_words(fluid), 12, t.onhand, True)
    if focused:
        marks.focus_frame(painter, box.adjusted(-2, -2, 2, 2))
    _figure(painter, field, fluid, x)


def _figure(painter: QPainter, field: Field, fluid: FluidReport, x: float) -> None:
    at = fluid.at_pour
    if at is None:
        return
    t = theme.tokens()
    top, foot = max(0.0, field.y(at.high90)), min(field.height, field.y(at.low90))
    painter.fillRect(QRectF(x - 3, top, 6, max(2.0, foot - top)), t.edge)
    y = max(2.0, min(field.height - 2, field.y(max(at.value, fluid.floor) if fluid.below_floor else at.value)))
    broken = fluid.limit is not None and at.value > fluid.limit * NEAR
    colour = t.no if broken else t.ink
    painter.fillRect(QRectF(x - 10, round(y) - 2, 21, 4), colour)
    words = value_words(fluid)
    start, turned = figure_start(field, fluid)
    half = theme.metrics(13, True).capHeight() / 2
    marks.on_plate(painter, start, y + half, words, 13, colour, True)
    _range_ends(painter, fluid, x, (top, y, min(foot, field.height - 10), field.height), turned)


def _range_ends(
    painter: QPainter, fluid: FluidReport, x: float, rows: tuple[float, float, float, float], turned: bool
) -> None:
    """Both ends of the range beside the bar, clear of the figure itself."""
    at = fluid.at_pour
    assert at is not None
    t = theme.tokens()
    measure = theme.metrics(12)
    top, y, foot, height = rows
    apart = theme.scaled(13)
    high = min(top + measure.capHeight() / 2, y - apart)
    low = max(foot + measure.capHeight() / 2, y + apart + measure.capHeight())
    for value, base in ((at.high90, high), (at.low90, low)):
        if value is at.low90 and (fluid.below_floor or low > height - 2):
            continue
        words = thick(value)
        start = x - 9 - type_.width(words, 12) if turned else x + 9
        marks.on_plate(painter, start, base, words, 12, t.ink2)


def draw_melted(painter: QPainter, field: Field, fluid: FluidReport) -> None:
    """The open ring where the last crystal goes, with its temperature."""
    if fluid.melt_free is None:
        return
    t, celsius = theme.tokens(), fluid.melt_free.value
    seen, spots = at_temperature(fluid, celsius), melted_spots(field, fluid)
    if seen is None or spots is None:
        if celsius > field.x_axis.hi:
            base = grip_box(field, fluid).bottom() + theme.scaled(16)
            type_.right(painter, field.width - 4, base, f"all melted {show_number(celsius, 0)} °C", 12, t.ink)
        return
    at = QPointF(field.x(celsius), field.y(seen.value))
    marks.line(painter, QPointF(at.x(), at.y() - 5), QPointF(at.x(), spots[0][1] - theme.scaled(10)), t.edge)
    for number, (x, base, words) in enumerate(spots):
        marks.on_plate(painter, x, base, words, 12, t.ink, number == 1)
    marks.ring(painter, at, 5, t.heat)


def draw_saved(painter: QPainter, field: Field, saved: Saved, fluid: FluidReport) -> None:
    """The ring of the saved revision; its words stand on the side away from the curve."""
    x, y = field.x(saved.pour), field.y(saved.value)
    if not (0 <= x <= field.width and 0 <= y <= field.height):
        return
    t = theme.tokens()
    seen = at_temperature(fluid, saved.pour)
    measure = theme.metrics(12)
    over = seen is None or saved.value >= seen.value
    wide = type_.width(saved.words, 12)
    start = max(4.0, min(field.width - wide - 4, x - wide / 2))
    base = y - 8 - measure.descent() if over else y + 8 + measure.ascent()
    marks.on_plate(painter, start, base, saved.words, 12, t.ink2)
    marks.ring(painter, QPointF(x, y), 5, t.ink)


def draw_empty(painter: QPainter, field: Field, words: str, focused: bool) -> None:
    """One sentence in the middle of the empty axes."""
    t = theme.tokens()
    lines = type_.lines(words, 13, ROOM * field.width)
    leading = theme.scaled(18)
    base = (field.height - leading * (len(lines) - 1)) / 2
    for number, line in enumerate(lines):
        type_.centred(painter, field.width / 2, base + number * leading, line, 13, t.ink2)
    if focused:
        marks.focus_frame(painter, QRectF(2, 1, field.width - 4, field.height - 4))
