"""Running text on the page: wrapped, never cut, in the sizes of the type scale."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_


class Words(QWidget):
    """A paragraph. `tone` names the colour token it is written in."""

    def __init__(
        self,
        words: str = "",
        size: float = 13,
        bold: bool = False,
        tone: str = "ink",
        parent: QWidget | None = None,
        room: int = 0,
    ) -> None:
        super().__init__(parent)
        self.size_px, self.bold, self.tone, self.room = size, bold, tone, room
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.words = ""
        self._heights: dict[int, int] = {}
        self.set_words(words)
        theme.notifier().theme_changed.connect(self._redress)

    def set_words(self, words: str, tone: str = "") -> None:
        """Change the text, and its colour when one is named."""
        if words == self.words and (not tone or tone == self.tone):
            return
        self.words = words
        self.tone = tone or self.tone
        self.setAccessibleName(words)
        self._redress()

    def _redress(self) -> None:
        self._heights.clear()
        self.updateGeometry()
        self.update()

    def showEvent(self, event: QShowEvent) -> None:
        """What changed while hidden changed the size too; layouts hear of it only now."""
        super().showEvent(event)
        self.updateGeometry()

    def _leading(self) -> int:
        return theme.scaled(self.size_px * 1.36)

    def _lines(self, room: float) -> list[str]:
        parts = self.words.split("\n")
        return [line for part in parts for line in type_.lines(part, self.size_px, room, self.bold) or ("",)]

    def hasHeightForWidth(self) -> bool:
        """Narrower means taller."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of the wrapped text [px]."""
        if width not in self._heights:
            self._heights[width] = len(self._lines(width)) * self._leading() + 2 if self.words else 0
        return self._heights[width]

    def sizeHint(self) -> QSize:
        """One line, or `room` px wide."""
        wide = max((type_.width(part, self.size_px, self.bold) for part in self.words.split("\n")), default=0)
        width = min(round(wide + 2), theme.scaled(self.room)) if self.room else round(wide + 2)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """A word must fit."""
        longest = max((type_.width(word, self.size_px, self.bold) for word in type_.parted(self.words)), default=0)
        return QSize(round(longest + 1), self._leading() if self.words else 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the lines."""
        painter = QPainter(self)
        colour = getattr(theme.tokens(), self.tone)
        assert isinstance(colour, QColor)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        baseline = theme.metrics(self.size_px, self.bold).ascent()
        for line in self._lines(self.width()):
            x = self.width() - type_.width(line, self.size_px, self.bold) if self._right else 0
            type_.left(painter, x, baseline, line, self.size_px, colour, self.bold)
            baseline += self._leading()

    _right = False

    def align_right(self) -> "Words":
        """Write the lines flush right."""
        self._right = True
        self.setAttribute(Qt.WidgetAttribute.WA_StaticContents, False)
        return self


class Caption(QWidget):
    """One line beside a control, on the same baseline as the control's own words."""

    def __init__(self, words: str, tone: str = "ink2", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words, self.tone = words, tone
        self.setAccessibleName(words)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as the words."""
        return QSize(round(type_.width(self.words, 13) + 1), theme.scaled(22))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the words."""
        line = type_.middle(QRectF(self.rect()), 13)
        type_.left(QPainter(self), 0, line, self.words, 13, getattr(theme.tokens(), self.tone))
