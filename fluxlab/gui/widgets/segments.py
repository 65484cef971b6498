"""A row of choices of which one holds, drawn as one block."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui.widgets.buttons import Button


class Segments(QWidget):
    """Options side by side; left and right go from one to the next."""

    chosen = Signal(str)

    def __init__(self, name: str, options: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        """`options` are pairs of value and words."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self._group = QButtonGroup(self)
        self.buttons: dict[str, Button] = {}
        for value, words in options:
            button = Button(words, "quiet", parent=self)
            button.setCheckable(True)
            button.setAccessibleName(f"{name}: {words}")
            button.clicked.connect(lambda _=False, value=value: self.chosen.emit(value))
            self._group.addButton(button)
            self.buttons[value] = button
            row.addWidget(button)

    def set_current(self, value: str) -> None:
        """Mark the option that holds."""
        if value in self.buttons:
            self.buttons[value].setChecked(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right go to the neighbour and choose it."""
        step = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}.get(Qt.Key(event.key()))
        values = list(self.buttons)
        here = next((k for k, value in enumerate(values) if self.buttons[value].hasFocus()), None)
        if step is None or here is None:
            super().keyPressEvent(event)
            return
        value = values[(here + step) % len(values)]
        self.buttons[value].setFocus(Qt.FocusReason.TabFocusReason)
        self.buttons[value].setChecked(True)
        self.chosen.emit(value)
