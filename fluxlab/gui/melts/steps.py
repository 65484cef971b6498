"""What a form has held, one entry after the other, so that a step can be taken back and taken again."""

from typing import Generic, TypeVar

from PySide6.QtCore import QKeyCombination, Qt
from PySide6.QtGui import QKeyEvent

T = TypeVar("T")
_CTRL, _SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
BACK = (QKeyCombination(_CTRL, Qt.Key.Key_Z),)
FORWARD = (QKeyCombination(_CTRL | _SHIFT, Qt.Key.Key_Z), QKeyCombination(_CTRL, Qt.Key.Key_Y))


def is_step(event: QKeyEvent) -> bool:
    """Whether a key takes a step back or forward, as everywhere in the window."""
    return event.keyCombination() in (*BACK, *FORWARD)


class Steps(Generic[T]):
    """The values that were held before `now` and after it."""

    def __init__(self, now: T) -> None:
        self.now = now
        self._past: list[T] = []
        self._later: list[T] = []

    @property
    def any(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._past)

    def take(self, value: T) -> None:
        """Hold a new value; one that is the same is no step."""
        if value != self.now:
            self._past.append(self.now)
            self._later.clear()
            self.now = value

    def back(self) -> T | None:
        """The value before this one, which is held now; None where there is none."""
        return self._move(self._past, self._later)

    def forward(self) -> T | None:
        """The value that was stepped back from, which is held now; None where there is none."""
        return self._move(self._later, self._past)

    def _move(self, there: list[T], here: list[T]) -> T | None:
        if not there:
            return None
        here.append(self.now)
        self.now = there.pop()
        return self.now
