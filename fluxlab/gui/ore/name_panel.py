"""A plate that asks for a name, and for an ore type also for its place or group."""

from PySide6.QtCore import QRect, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words

WIDE = 260


class NamePanel(Panel):
    """Enter takes the name, Escape leaves it as it was. `named` carries name and group ("" where there is none)."""

    named = Signal(str, str)

    def __init__(self, title: str, name: str, group: str | None, window: QWidget) -> None:
        super().__init__(title, window)
        self.name = Field(self)
        self.name.setText(name)
        self.name.setAccessibleName("Name")
        keep_width(self.name, WIDE)
        self.group = Field(self)
        self.group.setText(group or "")
        self.group.setAccessibleName("Place or group")
        self.take = Button("Rename", "quiet", parent=self)
        self.body.addWidget(Words(title, 14, bold=True))
        self.body.addWidget(self.name)
        for part in (Words("Place or group, may stay empty", 12, tone="ink2"), self.group):
            self.body.addWidget(part)
            part.setVisible(group is not None)
        row = QHBoxLayout()
        row.addWidget(self.take)
        row.addStretch(1)
        self.body.addLayout(row)
        self.take.clicked.connect(self._take)
        self.name.returnPressed.connect(self._take)
        self.group.returnPressed.connect(self._take)

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the plate with the name ready to be typed over."""
        super().open_at(beside, rect)
        self.name.setFocus()
        self.name.selectAll()

    def _take(self) -> None:
        name = self.name.text().strip()
        if not name:
            whisper(self.name, "A name is needed to find it again.")
            return
        group = self.group.text().strip()
        self.shut()
        self.named.emit(name, group)
