"""A verdict glyph that stands by itself in a line of text."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.glyph import WORDS, glyph_at

if TYPE_CHECKING:
    from fluxlab.design.report_types import Answer


class Mark(QWidget):
    """The glyph of an answer, on the first line of the words beside it."""

    def __init__(self, answer: "Answer", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answer = answer
        self.setAccessibleName(WORDS[answer])
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """14 px."""
        return QSize(theme.scaled(14), theme.scaled(16))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the glyph."""
        glyph_at(QPainter(self), 0, theme.scaled(9), theme.scaled(13), self.answer, theme.tokens())
