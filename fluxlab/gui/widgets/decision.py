"""A figure that the operator decided, in violet on the line: a click turns it into a field."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import NumberField, Reader, show_exact
from fluxlab.gui.widgets.menus import Menu


class Decision(QAbstractButton):
    """An inline figure with its unit. Click, Enter, F2 or a typed figure opens the field in its place."""

    decided = Signal(object)

    def __init__(
        self,
        name: str,
        read: Reader,
        unit: str = "",
        decimals: int = 1,
        step: float = 0.1,
        may_be_empty: bool = False,
        empty: str = "none",
        bold: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.name, self.unit, self.decimals, self.step = name, unit, decimals, step
        self.bold, self.empty = bold, empty
        self._read, self._may_be_empty = read, may_be_empty
        self._value: float | None = None
        self._field: NumberField | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.IBeamCursor)
        self.clicked.connect(self.open)
        self._say()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    @property
    def value(self) -> float | None:
        """The figure shown."""
        return self._value

    def set_value(self, value: float | None) -> None:
        """Show a figure."""
        if value != self._value:
            self._value = value
            self._say()
            self._redress()
        if self._field is not None:
            self._field.set_value(value)

    def set_empty(self, words: str) -> None:
        """Change the words that stand for no figure."""
        if words != self.empty:
            self.empty = words
            self._say()
            self._redress()

    def showEvent(self, event: QShowEvent) -> None:
        """What changed while hidden changed the size too; layouts hear of it only now."""
        super().showEvent(event)
        self.updateGeometry()

    def _words(self) -> str:
        if self._value is None:
            return self.empty
        figure = show_exact(self._value, self.decimals)
        return f"{figure} {self.unit}" if self.unit else figure

    def _say(self) -> None:
        self.setAccessibleName(f"{self.name}: {self._words()}")

    def sizeHint(self) -> QSize:
        """As wide as its words."""
        return QSize(round(type_.width(self._words(), 13, self.bold)) + 5, theme.scaled(22))

    def open(self) -> None:
        """Put the field in the figure's place."""
        if self._field is not None or not self.isEnabled():
            return
        field = NumberField(self._read, self.unit, self.decimals, self.step, self._may_be_empty, self.parentWidget())
        field.set_type(13, self.bold)
        field.setAccessibleName(self.name)
        field.set_value(self._value)
        words = "" if self._value is None else show_exact(self._value, self.decimals)
        wide = round(type_.width(words, 13, self.bold) + type_.width(self.unit, 12)) + 26
        wide = max(wide, theme.scaled(64))
        field.setGeometry(self.x() - 7, self.y() - 3, wide, self.height() + 6)
        parent = self.parentWidget()
        if parent is not None and field.geometry().right() > parent.width():
            field.move(max(0, parent.width() - wide), field.y())
        field.valueEdited.connect(self.decided)
        field.installEventFilter(self)
        self._field = field
        field.show()
        field.raise_()
        field.setFocus()
        field.selectAll()

    def commit(self) -> None:
        """Take what the open field holds and close it."""
        field, self._field = self._field, None
        if field is not None:
            field.commit()
            field.removeEventFilter(self)
            field.hide()
            field.deleteLater()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter, Escape and leaving close the field."""
        if watched is not self._field or self._field is None:
            return False
        if event.type() == QEvent.Type.FocusOut:
            self.commit()
        elif isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Escape:
                self._field.set_value(self._value)
                self._field.setModified(False)
                self.setFocus()
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                if self._field.commit():
                    self.setFocus()
                return True
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """F2, Enter or a figure opens the field."""
        key, typed = event.key(), event.text()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.open()
        elif typed and (typed.isdigit() or typed in "-.,"):
            self.open()
            if self._field is not None:
                self._field.setText(typed)
                self._field.setModified(True)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the figure in violet over its line."""
        painter = QPainter(self)
        t = theme.tokens()
        colour = t.hand if self.isEnabled() else t.ink3
        box = QRectF(self.rect())
        line = type_.middle(box, 13, self.bold)
        end = type_.left(painter, 2, line, self._words(), 13, colour, self.bold)
        painter.fillRect(QRectF(2, round(line + 3), end - 2, 2 if self.bold else 1), colour)
        if self.hasFocus() and self._field is None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), 3, 3)


class Choice(QAbstractButton):
    """A choice that the operator made, in violet with a chevron; a click opens the others."""

    def __init__(self, name: str, fill: Callable[[Menu], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name, self._fill, self.bold = name, fill, True
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self.open)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def set_words(self, words: str) -> None:
        """Show what is chosen."""
        if words != self.text():
            self.setText(words)
            self.setAccessibleName(f"{self.name}: {words}")
            self._redress()

    def showEvent(self, event: QShowEvent) -> None:
        """What changed while hidden changed the size too; layouts hear of it only now."""
        super().showEvent(event)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As wide as its words and the chevron."""
        return QSize(round(type_.width(self.text(), 13, self.bold)) + theme.scaled(14) + 7, theme.scaled(22))

    def open(self) -> None:
        """Open the menu under the words."""
        menu = Menu(self)
        self._fill(menu)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.mapToGlobal(self.rect().bottomLeft()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter, F2 and down open the menu."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2, Qt.Key.Key_Down):
            self.open()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the words and the chevron."""
        from fluxlab.gui.widgets.icons import draw_icon

        painter = QPainter(self)
        t = theme.tokens()
        colour = t.hand if self.isEnabled() else t.ink3
        box = QRectF(self.rect())
        end = type_.left(painter, 2, type_.middle(box, 13, self.bold), self.text(), 13, colour, self.bold)
        size = theme.scaled(12)
        draw_icon(painter, QRectF(end + 3, box.center().y() - size / 2 + 1, size, size), "chevron", colour)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), 3, 3)
