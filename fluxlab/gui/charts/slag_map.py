"""The slag map under the hand: its knob is dragged, or moved by the arrow keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QWidget

from fluxlab.gui.charts import map_point
from fluxlab.gui.charts.map_view import MapView

if TYPE_CHECKING:
    from fluxlab.design.map_types import Axis, Point

STEPS: dict[int, tuple[int, int]] = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Down: (0, -1),
    Qt.Key.Key_Up: (0, 1),
}
FAST = 10


class SlagMap(MapView):
    """`tried` follows the hand, `moved` ends a drag or a stroke of arrow keys, `dropped` gives it up."""

    tried = Signal(float, float)
    moved = Signal(float, float)
    dropped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._wanted: Point | None = None
        self._by_keys = False
        self._grip = QPointF()

    def knob_box(self) -> QRectF:
        """Where the knob takes the hand, in px of the chart; empty when there is none."""
        field = self.field()
        if field is None or self.here is None or self.frame is None:
            return QRectF()
        return map_point.around(self.at(map_point.spot(field, self.here)), map_point.HIT)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the knob."""
        if event.button() == Qt.MouseButton.LeftButton and self.knob_box().contains(event.position()):
            self._finish_keys()
            self.start, self._wanted = self.here, None
            self._grip = event.position() - self.knob_box().center()
            self.redraw()
        else:
            super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The knob follows the hand."""
        field = self.field()
        if self.start is None or self._by_keys or field is None:
            over = self.knob_box().contains(event.position())
            self.setCursor(Qt.CursorShape.OpenHandCursor if over else Qt.CursorShape.ArrowCursor)
            return
        there = self.in_field(event.position() - self._grip)
        self._try((field.x_value(there.x()), field.y_value(there.y())))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the knob go where it is."""
        if self.start is None or self._by_keys:
            super().mouseReleaseEvent(event)
        else:
            self._finish()

    def _try(self, point: Point) -> None:
        if self.frame is not None:
            wanted = _on_grid(point[0], self.frame.pair.x), _on_grid(point[1], self.frame.pair.y)
            if wanted != self._wanted:
                self._wanted = wanted
                self.tried.emit(*wanted)

    def _finish(self) -> None:
        if self._wanted is not None:
            self.moved.emit(*self._wanted)
        self._let_go()

    def _let_go(self) -> None:
        self.start = self._wanted = None
        self._by_keys = False
        self.redraw()

    def _finish_keys(self) -> None:
        if self._by_keys:
            self._finish()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The arrows move the knob, with Shift ten times as far; a held key is one move. Escape gives a move up."""
        step = STEPS.get(event.key())
        if event.key() == Qt.Key.Key_Escape and self.start is not None:
            self.dropped.emit()
            self._let_go()
        elif step is not None and self.here is not None and (self._by_keys or self.start is None):
            self._step(step, FAST if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1)
        else:
            super().keyPressEvent(event)

    def _step(self, step: tuple[int, int], times: int) -> None:
        frame = self.frame
        if frame is None or self.here is None:
            return
        if self.start is None:
            self.start, self._by_keys = self.here, True
        x, y = self._wanted or self.here
        across, up = (times * fine_step(axis) for axis in (frame.pair.x, frame.pair.y))
        self._try((x + step[0] * across, y + step[1] * up))

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The end of a stroke ends the move."""
        if event.key() in STEPS and not event.isAutoRepeat():
            self._finish_keys()
        else:
            super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A move by keys ends where it is."""
        self._finish_keys()
        super().focusOutEvent(event)


def fine_step(axis: Axis) -> float:
    """What an arrow key moves: the last place that is shown, 0.01 of a degree."""
    shown: float = 10.0**-axis.decimals
    return min(axis.step, shown)


def _on_grid(value: float, axis: Axis) -> float:
    """A value inside the axis, on the grid of its fine steps."""
    step = fine_step(axis)
    held = max(axis.low, min(axis.high, value))
    return round(round(held / step) * step, 9)
