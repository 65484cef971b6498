"""A section of a page: a 2 px rule across its column with the title hanging under it."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

RULE = 2


class _Title(QWidget):
    def __init__(self, title: str, note: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.title, self.note = title, note
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._size()
        theme.notifier().theme_changed.connect(self._size)

    def _size(self) -> None:
        wide = type_.width(self.title, 14, True) + (10 + type_.width(self.note, 13) if self.note else 0)
        self.setMinimumWidth(round(wide + 1))
        self.setFixedHeight(theme.scaled(24))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        t = theme.tokens()
        line = type_.middle(QRectF(self.rect()), 14, True)
        end = type_.left(painter, 0, line, self.title, 14, t.ink, True)
        if self.note:
            type_.left(painter, end + 10, line, self.note, 13, t.ink2)


class Section(QWidget):
    """A titled part of a page. Put its contents into `body`; `tools` stand at the right of the title."""

    def __init__(
        self, title: str, note: str = "", tools: Sequence[QWidget] = (), parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, RULE + 3, 0, 0)
        outer.setSpacing(0)
        self.head = QHBoxLayout()
        self.head.setSpacing(8)
        self._title = _Title(title, note, self)
        self.head.addWidget(self._title, 1)
        for tool in tools:
            self.head.addWidget(tool)
        outer.addLayout(self.head)
        self.body = QVBoxLayout()
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)
        outer.addLayout(self.body, 1)
        theme.notifier().theme_changed.connect(self.update)

    def set_title(self, title: str) -> None:
        """Change the title."""
        self._title.title = title
        self._title._size()
        self.setAccessibleName(title)

    def set_note(self, note: str) -> None:
        """Change the quiet words beside the title."""
        if note != self._title.note:
            self._title.note = note
            self._title._size()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rule that the title hangs under."""
        QPainter(self).fillRect(QRectF(0, 0, self.width(), RULE), theme.tokens().ink)
