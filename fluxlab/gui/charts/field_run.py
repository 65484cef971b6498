"""Working out what takes long in small slices, so that the window never waits for it."""

import time
from collections.abc import Iterator

from PySide6.QtCore import QObject, QTimer, Signal

SLICE = 0.008
"""How long one slice may take [s]; a part that takes longer is a slice of its own."""


class FieldRun(QObject):
    """Takes parts from an iterator while the event loop is idle; `came` carries each slice, `done` ends it."""

    came = Signal(list)
    done = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._parts: Iterator[object] | None = None
        self._timer = QTimer(self, interval=0)
        self._timer.timeout.connect(self._slice)

    @property
    def running(self) -> bool:
        """Whether parts are still to come."""
        return self._parts is not None

    def start(self, parts: Iterator[object]) -> None:
        """Work these parts out, whatever was under way."""
        self._parts = parts
        self._timer.start()

    def stop(self) -> None:
        """Leave the rest undone."""
        self._parts = None
        self._timer.stop()

    def _slice(self) -> None:
        parts = self._parts
        if parts is None:
            return
        end = time.perf_counter() + SLICE
        made: list[object] = []
        for part in parts:
            made.append(part)
            if time.perf_counter() >= end:
                self.came.emit(made)
                return
        self.stop()
        self.came.emit(made)
        self.done.emit()
