"""Fields for typing: a refused entry keeps the old value and says why beside the field."""

from collections.abc import Callable

from PySide6.QtCore import QLocale, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.whisper import whisper

Reader = Callable[[str], float | str]


class _Mark:
    chosen: str = ""


def decimal_mark() -> str:
    """The decimal mark in force: the operator's choice, else the system's."""
    return _Mark.chosen or ("," if QLocale().decimalPoint() == "," else ".")


def chosen_decimal_mark() -> str:
    """The decimal mark that the operator chose, "" for the system's."""
    return _Mark.chosen


def choose_decimal_mark(mark: str) -> None:
    """Set the decimal mark, "" to follow the system."""
    _Mark.chosen = mark


def show_number(value: float, decimals: int) -> str:
    """`value` with `decimals` places and the decimal mark in force, no grouping."""
    return f"{value:.{decimals}f}".replace(".", decimal_mark())


def show_exact(value: float, decimals: int) -> str:
    """`value` with at least `decimals` places and as many more as it was given with, for an editor."""
    plain = f"{value:.10g}"
    if "e" in plain or len(plain.partition(".")[2]) <= decimals:
        return show_number(value, decimals)
    return plain.replace(".", decimal_mark())


class Field(QLineEdit):
    """A line for typing in the program's own frame: 3 px corners, violet when it has the focus."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrame(False)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.bold = False
        self.size_px = 13.0
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.setFont(theme.font(self.size_px, self.bold))
        self.setTextMargins(6, 0, 6, 0)
        self.updateGeometry()
        self.update()

    def set_type(self, size: float, bold: bool) -> None:
        """Set the size and weight of the text."""
        self.size_px, self.bold = size, bold
        self._redress()

    def sizeHint(self) -> QSize:
        """28 px high."""
        return QSize(theme.scaled(120), theme.scaled(28))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the text, then the frame over it."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        t = theme.tokens()
        if self.hasFocus():
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)
        else:
            painter.setPen(QPen(t.edge if self.isEnabled() else t.rule, 1))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)


class NumberField(Field):
    """A field for one number with its unit.

    `read` turns the text into a number, or into the sentence that says why not. Up and down change the number by
    `step`. `valueEdited` carries the new number, None for an emptied field when `may_be_empty`.
    """

    valueEdited = Signal(object)

    def __init__(
        self,
        read: Reader,
        unit: str = "",
        decimals: int = 1,
        step: float = 0.1,
        may_be_empty: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._read, self.unit, self.decimals, self.step = read, unit, decimals, step
        self._may_be_empty = may_be_empty
        self._value: float | None = None
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.editingFinished.connect(self.commit)
        self._redress()

    def _redress(self) -> None:
        super()._redress()
        unit = getattr(self, "unit", "")
        self.setTextMargins(6, 0, round(type_.width(unit, 12)) + 10 if unit else 6, 0)

    @property
    def value(self) -> float | None:
        """The number last taken."""
        return self._value

    def set_value(self, value: float | None) -> None:
        """Show a number; a text being typed is left alone."""
        self._value = value
        if not (self.hasFocus() and self.isModified()):
            self._show()

    def _show(self) -> None:
        self.setText("" if self._value is None else show_exact(self._value, self.decimals))
        self.setModified(False)

    def commit(self) -> bool:
        """Take what is typed; False if it was refused and the old value stands again."""
        if not self.isModified():
            return True
        words = self.text().strip()
        if not words and self._may_be_empty:
            return self._take(None)
        answer = self._read(words)
        if isinstance(answer, str):
            self._refuse(answer)
            return False
        return self._take(answer)

    def _refuse(self, sentence: str) -> None:
        self._show()
        self.setAccessibleDescription(sentence)
        whisper(self, sentence)

    def _take(self, value: float | None) -> bool:
        changed = value != self._value
        self._value = value
        self._show()
        self.setAccessibleDescription("")
        whisper(self, "")
        if changed:
            self.valueEdited.emit(value)
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down change by one step; Escape gives the old value back."""
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._nudge(self.step if key == Qt.Key.Key_Up else -self.step)
        elif key == Qt.Key.Key_Escape and self.isModified():
            self._show()
            whisper(self, "")
        else:
            super().keyPressEvent(event)

    def _nudge(self, step: float) -> None:
        if not self.commit():
            return
        text = f"{(self._value or 0.0) + step:.10g}"
        answer = self._read(text.replace(".", decimal_mark()))
        if isinstance(answer, str):
            whisper(self, answer)
            return
        self._take(answer)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A field that is entered by key is selected whole."""
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the text, the frame and the unit behind the number."""
        super().paintEvent(event)
        if self.unit:
            painter = QPainter(self)
            box = QRectF(self.rect())
            type_.right(painter, box.right() - 7, type_.middle(box, self.size_px), self.unit, 12, theme.tokens().ink2)
