"""One line of text that stands in the middle of its height, beside fields and buttons."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_


class Label(QWidget):
    """The line; as wide as its words."""

    def __init__(self, words: str = "", size: float = 13, tone: str = "ink", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._size, self._tone = size, tone
        self.words = ""
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.set_words(words)
        theme.notifier().theme_changed.connect(self._redress)

    def set_words(self, words: str) -> None:
        """Change the words."""
        if words != self.words:
            self.words = words
            self.setAccessibleName(words)
            self._redress()

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """One line."""
        return QSize(round(type_.width(self.words, self._size) + 1), theme.scaled(24))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the words."""
        colour = getattr(theme.tokens(), self._tone)
        type_.left(QPainter(self), 0, type_.middle(QRectF(self.rect()), self._size), self.words, self._size, colour)
