"""The fluidity chart: viscosity over temperature with its likely range, the pour line to be dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from fluxlab.design.fluid_types import FluidReport
from fluxlab.gui.charts.chart import Chart
from fluxlab.gui.charts.fluid_words import Saved, curve_rows, sentence, spoken
from fluxlab.gui.charts.scale import Axis, Field, even_axis, log_axis

if TYPE_CHECKING:
    from fluxlab.gui.charts.fluid_paths import FluidPaths

STEP = 5.0
HIT = 14.0
COLDEST, HOTTEST = 400.0, 1600.0
USUAL = (900.0, 1300.0)
BELOW, BESIDE = 200.0, 75.0


class FluidityChart(Chart):
    """`tried` follows the drag of the pour line, `poured` ends it, `dropped` gives it up; all in degC."""

    tried = Signal(float)
    poured = Signal(float)
    dropped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Fluidity", "fluidity", parent)
        self.fluid: FluidReport | None = None
        self.saved: Saved | None = None
        self._paths: tuple[FluidReport, Field, FluidPaths] | None = None
        self._held: tuple[Axis, Axis] | None = None
        self._last: float | None = None
        self._say()

    # -- what is shown --------------------------------------------------------------------------------------------

    def show_fluid(self, fluid: FluidReport | None, saved: Saved | None = None) -> None:
        """Show the melt as a liquid, and where the saved revision stands."""
        if (fluid, saved) == (self.fluid, self.saved):
            return
        self.fluid, self.saved = fluid, saved
        self._say()
        self.redraw()

    def _say(self) -> None:
        words = spoken(self.fluid)
        if self.saved is not None:
            words += f"; {self.saved.words} stands beside it"
        self.setAccessibleName(words)
        self.setAccessibleDescription("Left and right move the pour temperature by 5 °C.")

    def axes(self) -> tuple[Axis, Axis]:
        """Temperature and viscosity; they stay while the line is dragged."""
        if self._held is not None:
            return self._held
        fluid = self.fluid
        if fluid is None or fluid.curve is None or fluid.at_pour is None:
            return even_axis(*USUAL), log_axis(0.1, 30.0)
        first, last = _span(fluid)
        limit = fluid.limit or 1.0
        low = min([0.1, *(value / 2 for value in (limit, fluid.at_pour.value) if value < 0.2)])
        high = max(30.0, limit * 3, fluid.at_pour.high90 * 2)
        return even_axis(first, last), log_axis(max(low, 0.01), high)

    def draw(self, painter: QPainter, field: Field) -> None:
        """Draw the curve and all that stands beside it."""
        from fluxlab.gui.charts import fluid_drawing as draw

        fluid = self.fluid
        if fluid is None or fluid.curve is None:
            draw.draw_empty(painter, field, sentence(fluid), self.hasFocus())
            return
        draw.draw_grid(painter, field)
        draw.draw_curve(painter, field, fluid, self._paths_in(fluid, field))
        draw.draw_limit(painter, field, fluid)
        draw.draw_melted(painter, field, fluid)
        if self.saved is not None:
            draw.draw_saved(painter, field, self.saved, fluid)
        draw.draw_pour(painter, field, fluid, self.hasFocus())

    def _paths_in(self, fluid: FluidReport, field: Field) -> FluidPaths:
        from fluxlab.gui.charts.fluid_paths import fluid_paths

        kept = self._paths
        if kept is None or kept[0] is not fluid or kept[1] != field:
            kept = self._paths = fluid, field, fluid_paths(fluid, field)
        return kept[2]

    def as_rows(self) -> list[list[str]]:
        """The curve, its bands and the opinions."""
        return curve_rows(self.fluid)

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "fluidity"

    # -- the pour line --------------------------------------------------------------------------------------------

    def _takes(self, place: QPointF) -> bool:
        field, fluid = self.field(), self.fluid
        if field is None or fluid is None or fluid.curve is None:
            return False
        from fluxlab.gui.charts.fluid_spots import grip_box

        there = self.in_field(place)
        on_line = abs(there.x() - field.x(fluid.pour)) <= HIT and 0 <= there.y() <= field.height
        return on_line or grip_box(field, fluid).contains(there)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the line."""
        if event.button() == Qt.MouseButton.LeftButton and self._takes(event.position()):
            self._held = self.axes()
            self._last = None
        else:
            super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The line follows the hand in steps of 5 degC."""
        field = self.field()
        if self._held is None or field is None:
            shape = Qt.CursorShape.SizeHorCursor if self._takes(event.position()) else Qt.CursorShape.ArrowCursor
            self.setCursor(shape)
            return
        wanted = _stepped(field.x_value(self.in_field(event.position()).x()), self._held[0])
        if self._last is None and self.fluid is not None and wanted == self.fluid.pour:
            return
        if wanted != self._last:
            self._last = wanted
            self.tried.emit(wanted)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the line go where it is."""
        if self._held is None:
            super().mouseReleaseEvent(event)
            return
        self._held, last, self._last = None, self._last, None
        if last is not None:
            self.poured.emit(last)
        self.redraw()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right move the line; Escape gives a drag up."""
        sign = {Qt.Key.Key_Left: -1.0, Qt.Key.Key_Right: 1.0}.get(Qt.Key(event.key()))
        if event.key() == Qt.Key.Key_Escape and self._held is not None:
            self._held = self._last = None
            self.dropped.emit()
            self.redraw()
        elif sign is not None and self.fluid is not None and self.fluid.curve is not None and self._held is None:
            wanted = (self.fluid.pour // STEP + (0.0 if sign < 0 and self.fluid.pour % STEP else sign)) * STEP
            self.poured.emit(max(COLDEST, min(HOTTEST, wanted)))
        else:
            super().keyPressEvent(event)


def _span(fluid: FluidReport) -> tuple[float, float]:
    """The temperatures worth showing: from where the melt stirs, or well below the pour, to beyond the pour."""
    assert fluid.curve is not None
    known = [v.value for v in (fluid.leaves_pot, fluid.melt_free) if v is not None]
    low = min([fluid.pour - BELOW, *(value - BESIDE for value in known)])
    high = max([fluid.pour + BESIDE * 2, *(value + BESIDE for value in known)])
    first, last = fluid.curve.temperatures[0], fluid.curve.temperatures[-1]
    return min(max(first, low // 50 * 50), fluid.pour), max(min(last, -(-high // 50) * 50), fluid.pour)


def _stepped(celsius: float, axis: Axis) -> float:
    """A pour temperature on the grid of 5 degC, inside the axis and what a furnace does."""
    low, high = max(COLDEST, axis.lo), min(HOTTEST, axis.hi)
    return max(-(-low // STEP) * STEP, min(high // STEP * STEP, round(celsius / STEP) * STEP))
