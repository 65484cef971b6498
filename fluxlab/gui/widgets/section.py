"""A section of a page: a 2 px rule across its column with the title hanging under it."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.icons import draw_icon

RULE = 2


class _Title(QWidget):
    turned = Signal()

    def __init__(self, title: str, note: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.title, self.note = title, note
        self.foldable = self.folded = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.resize_to_words()
        theme.notifier().theme_changed.connect(self.resize_to_words)

    def resize_to_words(self) -> None:
        self.setMinimumWidth(self.wide_with(self.note))
        self.setFixedHeight(theme.scaled(24))
        self.update()

    def wide_with(self, note: str) -> int:
        wide = type_.width(self.title, 14, True) + (10 + type_.width(note, 13) if note else 0)
        return round(wide + 1) + (theme.scaled(18) if self.folded else 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        t = theme.tokens()
        line = type_.middle(QRectF(self.rect()), 14, True)
        x = 0.0
        if self.folded:
            size = theme.scaled(14)
            draw_icon(painter, QRectF(0, (self.height() - size) / 2, size, size), "chevron right", t.ink)
            x = theme.scaled(18)
        end = type_.left(painter, x, line, self.title, 14, t.ink, True)
        if self.note:
            type_.left(painter, end + 10, line, self.note, 13, t.ink2)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(QRectF(1, 2, end + 3, self.height() - 3), 3, 3)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.foldable and self.rect().contains(event.position().toPoint()):
            self.turned.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.foldable and event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.turned.emit()
        else:
            super().keyPressEvent(event)


class Section(QWidget):
    """A titled part of a page. Put its contents into `body`; `tools` stand at the right of the title.

    With a `fold` name a click on the title folds the part away and brings it back; `folded` tells the new state.
    """

    folded = Signal(str, bool)

    def __init__(
        self,
        title: str,
        note: str = "",
        tools: Sequence[QWidget] = (),
        parent: QWidget | None = None,
        fold: str = "",
    ) -> None:
        super().__init__(parent)
        self.fold, self._tools = fold, tuple(tools)
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
        self._holder = QWidget(self)
        self.body = QVBoxLayout(self._holder)
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)
        outer.addWidget(self._holder, 1)
        # takes the room of a folded body, so that the title stays under its rule
        outer.addStretch(0)
        if fold:
            self._title.foldable = True
            self._title.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self._title.setCursor(Qt.CursorShape.PointingHandCursor)
            self._title.turned.connect(lambda: self.set_folded(not self.is_folded))
        self._say()
        theme.notifier().theme_changed.connect(self.update)

    def _say(self) -> None:
        state = "" if not self.fold else ", folded" if self.is_folded else ", open"
        self._title.setAccessibleName(f"{self._title.title}{state}")

    @property
    def is_folded(self) -> bool:
        """Whether the body is folded away."""
        return self._title.folded

    def set_folded(self, folded: bool) -> None:
        """Fold the body away or bring it back."""
        if folded == self.is_folded:
            return
        self._title.folded = folded
        self._holder.setVisible(not folded)
        self._title.resize_to_words()
        self._say()
        self.folded.emit(self.fold, folded)

    def set_title(self, title: str) -> None:
        """Change the title."""
        self._title.title = title
        self._title.resize_to_words()
        self.setAccessibleName(title)
        self._say()

    def set_note(self, note: str) -> None:
        """Change the quiet words beside the title."""
        if note != self._title.note:
            self._title.note = note
            self._title.resize_to_words()

    def has_room_for(self, note: str) -> bool:
        """Whether these quiet words fit between the title and its tools, as wide as the section is now."""
        tools = [tool for tool in self._tools if not tool.isHidden()]
        taken = sum(tool.sizeHint().width() + self.head.spacing() for tool in tools)
        return self._title.wide_with(note) + taken <= self.width()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rule that the title hangs under."""
        QPainter(self).fillRect(QRectF(0, 0, self.width(), RULE), theme.tokens().ink)
