"""Buttons: solid (one a page), quiet (outlined), text (a word with or without an icon)."""

from typing import Literal

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.icons import draw_icon

Look = Literal["solid", "quiet", "text"]
Tone = Literal["", "close", "no", "hand"]
ICON = 16.0


class Button(QAbstractButton):
    """A button drawn in the program's own hand. `tone` colours a mending button or a choice of the operator."""

    def __init__(
        self, words: str = "", look: Look = "quiet", icon: str = "", parent: QWidget | None = None, after: str = ""
    ) -> None:
        super().__init__(parent)
        self.look: Look = look
        self.tone: Tone = ""
        self.bold = look == "solid"
        self._icon, self._after = icon, after
        self.setText(words)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def set_icon(self, name: str) -> None:
        """Change the icon before the words."""
        self._icon = name
        self.update()

    def set_words(self, words: str) -> None:
        """Change the words; the button grows with them."""
        if words != self.text():
            self.setText(words)
            self._redress()

    def set_look(self, look: Look) -> None:
        """Change between solid, quiet and text."""
        if look != self.look:
            self.look, self.bold = look, look == "solid"
            self._redress()

    def set_tone(self, tone: Tone) -> None:
        """Colour the button for an answer that asks for attention, or as the operator's own choice."""
        if tone != self.tone:
            self.tone = tone
            self.update()

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def showEvent(self, event: QShowEvent) -> None:
        """What changed while hidden changed the size too; layouts hear of it only now."""
        super().showEvent(event)
        self.updateGeometry()

    def _words(self) -> str:
        return self.text().replace("&&", "\0").replace("&", "").replace("\0", "&")

    def sizeHint(self) -> QSize:
        """28 px high, as wide as its words."""
        pad = 4 if self.look == "text" else 10
        wide = type_.width(self._words(), 13, self.bold) + 2 * pad
        gap = 6 if self._words() else 0
        wide += sum(theme.scaled(ICON) + gap for name in (self._icon, self._after) if name)
        return QSize(round(wide + 0.5), theme.scaled(28 if self.look != "text" else 24))

    def minimumSizeHint(self) -> QSize:
        """Words are never cut."""
        return self.sizeHint()

    def _colours(self) -> tuple[QColor, QColor | None, QColor | None]:
        """Ink, fill and border."""
        t = theme.tokens()
        if not self.isEnabled():
            return t.ink3, (t.lift if self.look != "text" else None), (t.rule if self.look != "text" else None)
        if self.look == "solid" or (self.isCheckable() and self.isChecked()):
            return t.sheet, t.solid, t.solid
        ink = {"close": t.close, "no": t.no, "hand": t.hand}.get(self.tone, t.ink)
        if self.look == "text":
            return ink, (t.pick if self.underMouse() else None), None
        return ink, (t.pick if self.isDown() else t.lift), (ink if self.tone else t.edge)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw border, icon, words and focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink, fill, border = self._colours()
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        if fill is not None:
            painter.setPen(QPen(border or fill, 1))
            painter.setBrush(fill)
            painter.drawRoundedRect(box, 3, 3)
        self._contents(painter, ink)
        if self.hasFocus():
            painter.setPen(QPen(theme.tokens().hand, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)

    def _contents(self, painter: QPainter, ink: QColor) -> None:
        words, size = self._words(), float(theme.scaled(ICON))
        gap = 6.0 if words else 0.0
        wide = type_.width(words, 13, self.bold)
        whole = wide + sum(size + gap for name in (self._icon, self._after) if name)
        x = (self.width() - whole) / 2
        top = (self.height() - size) / 2
        if self._icon:
            draw_icon(painter, QRectF(x, top, size, size), self._icon, ink)
            x += size + gap
        type_.left(painter, x, type_.middle(QRectF(self.rect()), 13, self.bold), words, 13, ink, self.bold)
        if self._after:
            draw_icon(painter, QRectF(x + wide + gap, top, size, size), self._after, ink)


def icon_button(icon: str, name: str, parent: QWidget | None = None) -> Button:
    """A button without words; `name` is its tooltip and its name for a screen reader."""
    made = Button("", "text", icon, parent)
    made.setToolTip(name)
    made.setAccessibleName(name)
    return made
