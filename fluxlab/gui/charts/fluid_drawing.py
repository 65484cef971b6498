"""How the fluidity curve is drawn: bands, lines, the limit, the pour with its figure, and what was saved."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from fluxlab.design.fluid_types import FluidReport
from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.fluid_paths import FluidPaths, differ_most
from fluxlab.gui.charts.fluid_words import Saved, at_temperature, plain_limit, thick, value_words
from fluxlab.gui.charts.scale import Field
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number

GAP = 10.0
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
    curve = fluid.curve
    if curve is None or not curve.opinions:
        return
    k = differ_most(curve)
    ordered = sorted(curve.opinions, key=lambda opinion: opinion.viscosity[k])
    t = theme.tokens()
    for place, opinion in enumerate(ordered):
        over = place > 0
        words = f"{opinion.name}, {show_number(100 * opinion.weight, 0)} %"
        wide = type_.width(words, 12)
        x = min(field.x(curve.temperatures[k]), field.width) - wide - marks.PAD
        y = _beside(field, opinion.viscosity, curve.temperatures, x, x + wide, over)
        y = max(theme.scaled(32), min(field.height - 5, y))
        marks.on_plate(painter, x, y, words, 12, t.ink2)


def _beside(
    field: Field, line: tuple[float, ...], temperatures: tuple[float, ...], left: float, right: float, over: bool
) -> float:
    """The baseline of words over or under a line between two places."""
    under = [field.y(v) for t, v in zip(temperatures, line, strict=True) if left - 8 <= field.x(t) <= right + 8]
    measure = theme.metrics(12)
    return min(under) - 4 - measure.descent() if over else max(under) + 4 + measure.ascent()


def draw_limit(painter: QPainter, field: Field, fluid: FluidReport) -> None:
    """The violet line of the thickest that the recipe allows."""
    if fluid.limit is None:
        return
    t = theme.tokens()
    y = round(field.y(fluid.limit))
    if not 0 <= y <= field.height:
        return
    painter.fillRect(QRectF(1, y - 1, field.width - 1, 2), t.hand)
    words = f"limit {plain_limit(fluid.limit)}"
    wide = type_.width(words, 12)
    taken = field.x(fluid.pour) + 16 + type_.width(value_words(fluid), 13, True) + 2 * marks.PAD
    x = 8.0 if taken > field.width - wide - GAP else field.width - wide - marks.PAD
    marks.on_plate(painter, x, y - 1 - theme.metrics(12).descent() - 1, words, 12, t.hand)


def grip_box(field: Field, fluid: FluidReport) -> QRectF:
    """The plate at the top of the pour line that takes the hand."""
    wide = type_.width(grip_words(fluid), 12, True) + 2 * marks.PAD
    x = max(0.0, min(field.width - wide, field.x(fluid.pour) - wide / 2))
    return QRectF(round(x), 3.0, round(wide), theme.scaled(18))


def grip_words(fluid: FluidReport) -> str:
    """What the grip says."""
    return f"pour {show_number(fluid.pour, 0)} °C"


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
    wide = type_.width(words, 13, True)
    turned = x + 16 + wide > field.width
    start = x - 16 - wide if turned else x + 16
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
    t = theme.tokens()
    celsius = fluid.melt_free.value
    words = ("all melted", f"{show_number(celsius, 0)} °C")
    seen = at_temperature(fluid, celsius)
    room = max(type_.width(words[0], 12), type_.width(words[1], 12, True))
    base = grip_box(field, fluid).bottom() + theme.scaled(16)
    y = None if seen is None else field.y(seen.value)
    if y is None or not 0 <= y <= field.height:
        if celsius > field.x_axis.hi:
            type_.right(painter, field.width - 4, base, f"{words[0]} {words[1]}", 12, t.ink)
        return
    x = field.x(celsius)
    clash = grip_box(field, fluid).left() - 14 < x < field.x(fluid.pour) + 6
    turned = x + 6 + room > field.width or (clash and x - 6 - room > 0)
    start = x - 6 - room if turned else x + 6
    marks.line(painter, QPointF(x, y - 5), QPointF(x, base - theme.scaled(10)), t.edge)
    for number, word in enumerate(words):
        down = base + number * theme.scaled(15)
        marks.on_plate(painter, start, down, word, 12, t.ink, number == 1)
    marks.ring(painter, QPointF(x, y), 5, t.heat)


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
