"""The heading of a page: the 2 px rule, the title at 22 px under it, and quiet words or fields at the right."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.tables.label import Label
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.section import RULE

SIZE = 22
HIGH = 46


class Heading(QWidget):
    """A title beside its note; a long one is written smaller, then in two lines."""

    def __init__(self, title: str, *tools: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = ""
        self.note = Label("", 13, "ink2")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, RULE + 2, 0, 0)
        row.setSpacing(8)
        row.addStretch(1)
        row.addWidget(self.note, 0, Qt.AlignmentFlag.AlignVCenter)
        for tool in tools:
            row.addWidget(tool, 0, Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_title(title)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.setFixedHeight(theme.scaled(HIGH))
        self.update()

    def set_title(self, title: str) -> None:
        """Change the title."""
        if title != self._title:
            self._title = title
            self.setAccessibleName(title)
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw rule and title."""
        painter = QPainter(self)
        t = theme.tokens()
        painter.fillRect(QRectF(0, 0, self.width(), RULE), t.ink)
        others = [
            child.geometry().left() for child in self.findChildren(QWidget) if child.width() and child.isVisible()
        ]
        room = min(others, default=self.width()) - 10
        size = next((s for s in (SIZE, 18) if type_.width(self._title, s, True) <= room), 14)
        lines = [self._title] if size > 14 else type_.wrap(self._title, theme.metrics(size, True), room)[:2]
        step = theme.scaled(18)
        base = type_.middle(QRectF(0, RULE, 1, self.height() - RULE), size, True) - step * (len(lines) - 1) / 2
        for line in lines:
            type_.left(painter, 0, base, line, size, t.ink, True)
            base += step
