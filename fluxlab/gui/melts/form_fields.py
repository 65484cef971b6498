"""The fields of the entry form: what cannot be read stays as typed, in red, until it is mended or given up.

The record is never changed, so no refused figure may lead to one: neither the figure that stood there before nor none.
"""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.melts.fields import Spec, read_moment
from fluxlab.gui.melts.steps import BACK, is_step
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import Field, NumberField
from fluxlab.gui.widgets.whisper import whisper

PASTE = QKeySequence.StandardKey.Paste

if TYPE_CHECKING:

    class _Base(Field):
        refusalChanged: ClassVar[Signal]

        def _show(self) -> None: ...

else:
    _Base = object


class FormKeys(_Base):
    """What the keys do in every field of the form: a step that the text has none of is left to the form, and an Enter
    that has gone on from here does not go on again from where it came to."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Type, unless the key is the form's."""
        back = event.keyCombination() in BACK
        if is_step(event) and not (self.isUndoAvailable() if back else self.isRedoAvailable()):
            event.ignore()
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()


class FormText(FormKeys, Field):
    """A field of the form for words."""


class Refusing(FormKeys):
    """What both kinds of field do with a text that was refused: it stays, in red, with the reason beside it."""

    refused = ""
    """Why the text in the field was not taken, "" where it was."""

    def _refuse(self, sentence: str) -> None:
        self._set_refused(sentence)
        whisper(self, sentence)

    def give_up(self) -> None:
        """Show what was last taken in place of what is typed."""
        self._show()

    def _set_refused(self, sentence: str) -> None:
        self.setAccessibleDescription(sentence)
        if sentence != self.refused:
            self.refused = sentence
            self.refusalChanged.emit()
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the field, in red while it holds what was refused."""
        super().paintEvent(event)
        if self.refused:
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(theme.tokens().no, 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)


class FormNumber(Refusing, NumberField):
    """A figure of the form. `refusalChanged` tells that a text was refused, or is no longer; `cellsPasted` carries
    several cells of a spreadsheet that were pasted here."""

    refusalChanged = Signal()
    cellsPasted = Signal(list)
    seldom = False
    """Whether Enter passes the field by."""

    def set_value(self, value: float | None) -> None:
        """Show a figure in place of whatever is typed."""
        self._value = value
        self._show()

    def reads_to(self, step: float) -> None:
        """Show and step as a balance of this step [g] does."""
        from fluxlab.design.ticket_rows import decimals_of

        if step != self.step or self.decimals != decimals_of(step):
            self.step, self.decimals = step, decimals_of(step)
            if not self.isModified():
                self._show()

    def _show(self) -> None:
        super()._show()
        self._set_refused("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Several cells at once are the form's."""
        cells = cells_of(QGuiApplication.clipboard().text()) if event.matches(PASTE) else []
        if len(cells) > 1:
            self.cellsPasted.emit(cells)
        else:
            super().keyPressEvent(event)

    def trial(self, text: str) -> float | str | None:
        """What a text would be taken for, None for an empty one, or the sentence that refuses it."""
        return self._read(text) if text or not self._may_be_empty else None


def cells_of(text: str) -> list[str]:
    """The cells of a row, a column or a block that a spreadsheet has put on the clipboard, empty ones too."""
    lines = text.replace("\r\n", "\n").rstrip("\n").split("\n")
    return [cell.strip() for line in lines for cell in line.split("\t")]


def melt_number(spec: Spec) -> FormNumber:
    """The field of a figure, empty where it was not measured."""
    made = FormNumber(spec.read(), spec.unit, spec.decimals, spec.step, may_be_empty=True)
    made.setAccessibleName(spec.words)
    return made


class MomentField(Refusing, Field):
    """A field for the day and time of the pour. Up and down change it by a minute."""

    momentEdited = Signal(object)
    refusalChanged = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._value = datetime(2000, 1, 1)
        self.editingFinished.connect(self.commit)

    @property
    def value(self) -> datetime:
        """The moment last taken."""
        return self._value

    def set_value(self, value: datetime) -> None:
        """Show a moment."""
        self._value = value
        self._show()

    def sizeHint(self) -> QSize:
        """As wide as a date and time."""
        return QSize(round(type_.width("2026-03-30 16:20", self.size_px)) + 24, super().sizeHint().height())

    def _show(self) -> None:
        self.setText(self._value.strftime("%Y-%m-%d %H:%M"))
        self.setModified(False)
        self._set_refused("")

    def commit(self) -> bool:
        """Take what is typed; False if it was refused: it stays as typed, the old moment holds."""
        if not self.isModified():
            return True
        found = read_moment(self.text(), self._value)
        if isinstance(found, str):
            self._refuse(found)
            return False
        self._take(found)
        return True

    def _take(self, value: datetime) -> None:
        changed = value != self._value
        self.set_value(value)
        whisper(self, "")
        if changed:
            self.momentEdited.emit(value)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down change by a minute; Escape gives the old moment back."""
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            if self.commit():
                self._take(self._value + timedelta(minutes=1 if key == Qt.Key.Key_Up else -1))
        elif key == Qt.Key.Key_Escape and self.isModified():
            self._show()
            whisper(self, "")
        else:
            super().keyPressEvent(event)
