"""The trend chart: what came back melt by melt, with its uncertainty, against what was expected."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.charts.chart import Chart
from fluxlab.gui.charts.scale import Axis, Field, even_axis
from fluxlab.gui.melts import words
from fluxlab.gui.melts.explanations import TREND
from fluxlab.gui.melts.labels import Label, above, placed
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.learn.measured import Measured

Quantity = Literal["recovery", "yield"]
RING = 5.0
TICKS = 12
OVER = "more than was held"
EMPTY: dict[Quantity, str] = {
    "recovery": "No melt with a known fineness yet: silver back cannot be reckoned.",
    "yield": "No button was weighed yet.",
}
HEADS: dict[Quantity, str] = {
    "recovery": "% of the silver held; ring = got, bar = 9 in 10",
    "yield": "button in % of the ore charged; bar = 9 in 10",
}
NAMES: dict[Quantity, str] = {"recovery": "Silver back", "yield": "Yield"}


@dataclass(frozen=True, slots=True)
class Point:
    """One melt on the chart: its number, what was got with its likely range, what was expected, the reason where it
    stands apart or cannot be."""

    uid: str
    number: int
    got: float
    low: float
    high: float
    expected: tuple[float, float, float] | None
    reason: str


def points_of(lines: Sequence[MeltLine], quantity: Quantity) -> tuple[Point, ...]:
    """The points of a quantity [%], in the order recorded."""
    found = []
    for line in lines:
        got = line.recovery.value if quantity == "recovery" else line.yields
        said = line.melt.beforehand.silver_recovery if quantity == "recovery" else None
        if got is not None:
            expected = None if said is None else (said.low, said.value, said.high)
            low, high = words.back_ends(got) if quantity == "recovery" else (got.low, got.high)
            over = OVER if quantity == "recovery" and line.over else ""
            reason = line.short if line.apart else over or line.impossible
            found.append(Point(line.melt.uid, line.kept.number, got.value, low, high, expected, reason))
    return tuple(found)


class Trend(Chart):
    """Rings are got, with their likely range; grey bars with a blade were expected. A click chooses the melt."""

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Silver back", "silver back", parent)
        self.explanation = TREND
        self.quantity: Quantity = "recovery"
        self.points: tuple[Point, ...] = ()
        self.mean: Measured | None = None
        self.current = ""
        self.setMinimumHeight(theme.scaled(120))
        self._say()

    def show_points(self, points: Sequence[Point], mean: Measured | None, quantity: Quantity, current: str) -> None:
        """Show these melts and their mean, the current one marked."""
        new = (tuple(points), mean, quantity, current)
        if new != (self.points, self.mean, self.quantity, self.current):
            self.points, self.mean, self.quantity, self.current = new
            self.title = NAMES[quantity]
            self.file_name = NAMES[quantity].lower()
            self._say()
            self.redraw()

    def _say(self) -> None:
        if not self.points:
            self.setAccessibleName(EMPTY[self.quantity])
            return
        told = "; ".join(
            f"melt {p.number}: {show_number(p.got, 1)} %" + (f", {p.reason}" if p.reason else "") for p in self.points
        )
        self.setAccessibleName(f"{NAMES[self.quantity]} by melt. {told}")

    def axes(self) -> tuple[Axis, Axis]:
        """Melts as numbered, and per cent."""
        if not self.points:
            return Axis(0.0, 2.0), Axis(0.0, 2.0)
        figures = [f for p in self.points for f in (p.got, p.low, p.high, *(p.expected or ()))]
        margin = 0.06 * (max(figures) - min(figures) or 1.0)
        above = 5.0 if any(p.reason == OVER for p in self.points) else 2.0
        top = max(figures) + above * margin
        if self.quantity == "recovery" and max(figures) <= words.ALL_HELD:
            top = min(top, words.ALL_HELD + margin)
        across = len(self.points)
        every = -(-across // TICKS)
        ticks = tuple((float(k), str(p.number)) for k, p in enumerate(self.points) if k % every == 0)
        return (
            Axis(-0.6, across - 0.4 + self._behind() * across, ticks),
            even_axis(max(0.0, min(figures) - margin), top, max(2.0, self.height() / 34.0)),
        )

    def _behind(self) -> float:
        """Room for the name of the mean behind the last melt, as a part of the melts' own."""
        if self.mean is None or len(self.points) < 2:
            return 0.0
        wide = type_.width(self._mean_words(), 12) + 8
        return float(wide / max(wide, self.width() - theme.scaled(40) - wide))

    def _mean_words(self) -> str:
        return "" if self.mean is None else f"mean {show_number(self.mean.value, 1 if self.mean.value >= 10.0 else 2)}"

    def redraw(self) -> None:
        """Draw the figures as they are now, with room for their widest tick at the left."""
        super().redraw()
        if self.plot is not None:
            widest = max((type_.width(told, 12) for _, told in self.axes()[1].ticks), default=0.0)
            self.plot.view.getPlotItem().getAxis("left").setWidth(max(theme.scaled(28), round(widest) + 14))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The room for the mean's name is part of the axis."""
        super().resizeEvent(event)
        self.redraw()

    def head_height(self) -> int:
        """One line over the plot."""
        return theme.scaled(20)

    def draw_words(self, painter: QPainter) -> None:
        """Name the quantity at the top left."""
        type_.left(painter, 0, theme.scaled(14), HEADS[self.quantity], 12, theme.tokens().ink2)

    def draw(self, painter: QPainter, field: Field) -> None:
        """Draw expected, mean, got and reasons."""
        t = theme.tokens()
        if not self.points:
            self._empty(painter, field)
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for value, _ in field.y_axis.ticks:
            painter.fillRect(QRectF(1, round(field.y(value)), field.width, 1), t.rule)
        self._mean(painter, field)
        for k, point in enumerate(self.points):
            self._expected(painter, field, k, point)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for k, point in enumerate(self.points):
            self._got(painter, field, k, point)
        self._reasons(painter, field)
        type_.right(painter, field.width, field.height - 6, "melt", 12, t.ink2)
        if self.hasFocus():
            painter.setPen(QPen(t.hand, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(1, 1, field.width - 2, field.height - 2), 3, 3)

    def _empty(self, painter: QPainter, field: Field) -> None:
        lines = type_.lines(EMPTY[self.quantity], 13, field.width - 24)
        type_.paragraph(painter, 12, theme.scaled(24), lines, 13, theme.tokens().ink2, theme.scaled(18))

    def _mean(self, painter: QPainter, field: Field) -> None:
        if self.mean is None or len(self.points) < 2:
            return
        t = theme.tokens()
        pen = QPen(t.ink2, 1)
        pen.setDashPattern([4, 4])
        painter.setPen(pen)
        y = round(field.y(self.mean.value)) + 0.5
        painter.drawLine(QPointF(1, y), QPointF(field.width, y))
        type_.right(painter, field.width - 2, y - 5, self._mean_words(), 12, t.ink2)

    def _expected(self, painter: QPainter, field: Field, k: int, point: Point) -> None:
        if point.expected is None:
            return
        t = theme.tokens()
        low, value, high = point.expected
        x = round(field.x(k))
        painter.fillRect(QRectF(x - 4, field.y(high), 9, max(1.0, field.y(low) - field.y(high))), _soft(t.edge, 0.4))
        painter.fillRect(QRectF(x - 7, round(field.y(value)) - 1, 15, 3), t.ink)

    def _got(self, painter: QPainter, field: Field, k: int, point: Point) -> None:
        t = theme.tokens()
        ink = self._ink(point)
        x = round(field.x(k)) + 0.5
        painter.setPen(QPen(ink, 1.6))
        for end in (point.low, point.high):
            painter.drawLine(QPointF(x - 3, field.y(end)), QPointF(x + 3, field.y(end)))
        painter.drawLine(QPointF(x, field.y(point.low)), QPointF(x, field.y(point.high)))
        painter.setPen(QPen(ink, 2))
        painter.setBrush(ink if point.uid == self.current else t.sheet)
        painter.drawEllipse(QPointF(x, field.y(point.got)), RING, RING)

    def _ink(self, point: Point) -> QColor:
        """Amber for what cannot be, red for what stands apart."""
        t = theme.tokens()
        return t.close if point.reason == OVER else t.no if point.reason else t.ink

    def _reasons(self, painter: QPainter, field: Field) -> None:
        for point, label in self.labels(field):
            for line, base in label.baselines():
                write = type_.right if label.flush_right else type_.left
                x = label.box.right() if label.flush_right else label.box.left()
                write(painter, x, base, line, 12, self._ink(point))

    def labels(self, field: Field) -> Iterator[tuple[Point, Label]]:
        """The words beside melts that are left out, each where it is written over nothing; where there is no such place
        the words are left to the table and to the list of what is left out."""
        whole = QRectF(1, 1, field.width - 2, field.height - 2)
        marks = [self._mark(field, k, point) for k, point in enumerate(self.points)]
        taken = [*marks, *self._words_taken(field)]
        for point, mark in zip(self.points, marks, strict=True):
            if not point.reason:
                continue
            near = field.y(point.got)
            others = [box for box in taken if box is not mark]
            over = point.reason == OVER
            label = above("over", mark, near) if over else placed(point.reason, mark, near, whole, others)
            if label is not None:
                taken.append(label.box)
                yield point, label

    def _mark(self, field: Field, k: int, point: Point) -> QRectF:
        """All that is drawn of a melt."""
        expected = point.expected or (point.got, point.got, point.got)
        top = min(field.y(max(point.high, expected[2])), field.y(point.got) - RING)
        bottom = max(field.y(min(point.low, expected[0])), field.y(point.got) + RING)
        return QRectF(field.x(k) - 8, top - 2, 16, bottom - top + 4)

    def _words_taken(self, field: Field) -> Iterator[QRectF]:
        """Where the names of the axis and of the mean stand."""
        high, foot = theme.scaled(16), field.height - 6
        wide = type_.width("melt", 12)
        yield QRectF(field.width - wide, foot - high, wide, high)
        if self.mean is not None and len(self.points) > 1:
            wide = type_.width(self._mean_words(), 12) + 2
            yield QRectF(field.width - wide, field.y(self.mean.value) - 5 - high, wide, high)

    def as_rows(self) -> list[list[str]]:
        """The figures as plain text under a line of titles."""
        head = ["Melt", f"{NAMES[self.quantity]}, %", "Low, %", "High, %", "Expected, %", "Stands apart"]
        return [head, *(self._row(point) for point in self.points)]

    def _row(self, point: Point) -> list[str]:
        expected = point.expected
        figures = [f"{value:.4g}" for value in (point.got, point.low, point.high)]
        return [str(point.number), *figures, "" if expected is None else f"{expected[1]:.4g}", point.reason]

    def _pick(self, k: int) -> None:
        if self.points:
            self.picked.emit(self.points[min(max(k, 0), len(self.points) - 1)].uid)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the melt nearest to the pointer."""
        field = self.field()
        if event.button() == Qt.MouseButton.LeftButton and field is not None and self.points:
            self._pick(round(field.x_value(self.in_field(event.position()).x())))
        else:
            super().mousePressEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right go from melt to melt."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is None or not self.points:
            super().keyPressEvent(event)
            return
        here = next((k for k, point in enumerate(self.points) if point.uid == self.current), len(self.points))
        self._pick(here + step)


def _soft(colour: QColor, share: float) -> QColor:
    soft = QColor(colour)
    soft.setAlphaF(share)
    return soft
