"""The empty frame of the melt record: column titles over no rows, axes without a field, the ring."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import WORDS, glyph_at


class EmptyTable(QWidget):
    """Titles over one edge line; `titles` are (words, place 0..1, whether flush right)."""

    def __init__(self, titles: Sequence[tuple[str, float, bool]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._titles = tuple(titles)
        self.setAccessibleName("Melt record, no melts")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """The height of the titles."""
        return QSize(400, theme.scaled(26))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the titles."""
        painter = QPainter(self)
        t = theme.tokens()
        box = QRectF(self.rect())
        base = type_.middle(box, 12)
        for words, place, flush in self._titles:
            write = type_.right if flush else type_.left
            write(painter, place * box.width(), base, words, 12, t.ink2)
        painter.fillRect(QRectF(0, box.height() - 1, box.width(), 1), t.edge)


class EmptyAxes(QWidget):
    """A left and a bottom axis with nothing between them."""

    def __init__(self, below: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._below = below
        self.setAccessibleName(f"Empty chart over {below}")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """As in the picture."""
        return QSize(380, theme.scaled(240))

    def minimumSizeHint(self) -> QSize:
        """Still readable."""
        return QSize(160, theme.scaled(90))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the axes."""
        painter = QPainter(self)
        t = theme.tokens()
        foot = self.height() - theme.scaled(24)
        left = theme.scaled(28)
        painter.fillRect(QRectF(left, theme.scaled(12), 1, foot - theme.scaled(12)), t.edge)
        painter.fillRect(QRectF(left, foot, self.width() - left, 1), t.edge)
        type_.right(painter, self.width(), foot + theme.scaled(17), self._below, 12, t.ink2)


class Ring(QWidget):
    """The dashed ring with its words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(WORDS["unknown"])
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """One line."""
        return QSize(200, theme.scaled(36))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw glyph and words."""
        painter = QPainter(self)
        t = theme.tokens()
        box = QRectF(self.rect())
        size = theme.scaled(18)
        glyph_at(painter, 0, box.center().y(), size, "unknown", t)
        type_.left(painter, size + 8, type_.middle(box, 18, True), WORDS["unknown"], 18, t.ink2, True)
