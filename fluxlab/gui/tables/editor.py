"""The delegate: paints cells and opens the program's own field over the one that is typed into."""

from collections.abc import Callable
from typing import cast

from PySide6.QtCore import QAbstractItemModel, QEvent, QObject, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QCompleter, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from fluxlab.gui import theme
from fluxlab.gui.tables.model import Index, Role
from fluxlab.gui.tables.painter import FIGURE, field_box, paint_cell
from fluxlab.gui.tables.widths import dress_list
from fluxlab.gui.widgets.fields import Field


class CellField(Field):
    """The editor of one cell, on an opaque ground so that the cell does not show through."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Fill the corners that the rounded frame leaves open, then draw the field."""
        QPainter(self).fillRect(self.rect(), theme.tokens().lift)
        super().paintEvent(event)


class CellDelegate(QStyledItemDelegate):
    """Paints every cell; Enter takes what is typed and moves the view down, unless it was refused."""

    entered = Signal()

    def __init__(self, parent: QObject, nudge: Callable[[Index, str, int], str | None]) -> None:
        super().__init__(parent)
        self._nudge = nudge
        self._index: QPersistentModelIndex | None = None
        self.editor: CellField | None = None
        self._taken = True

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        painter.save()
        paint_cell(painter, option, index)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Sizes come from the columns and the view."""
        return QSize(10, 10)

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Open the field, with the column's choices offered while typing."""
        field = CellField(parent)
        bold = index.data(Role.LOOK) == "figure"
        field.set_type(FIGURE if bold else 14.0, bold)
        if index.data(Role.LOOK) in ("figure", "quiet"):
            field.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        choices = index.data(Role.CHOICES)
        if choices:
            completer = QCompleter(choices, field)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            dress_list(completer)
            field.setCompleter(completer)
        field.setAccessibleName(str(index.data(Qt.ItemDataRole.AccessibleTextRole) or ""))
        self.editor, self._index = field, QPersistentModelIndex(index)
        field.destroyed.connect(self._closed)
        return field

    def _closed(self) -> None:
        self.editor, self._index = None, None

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Start with the exact value; a text being typed is left alone."""
        field = cast(CellField, editor)
        if not field.isModified():
            field.setText(str(index.data(Qt.ItemDataRole.EditRole) or ""))
            field.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Hand the text to the model."""
        field = cast(CellField, editor)
        changed = field.isModified() and field.text() != str(index.data(Qt.ItemDataRole.EditRole) or "")
        self._taken = not changed or model.setData(index, field.text(), Qt.ItemDataRole.EditRole)

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        """Lay the field over the frame of the cell."""
        cell = QRectF(option.rect)
        editor.setGeometry(field_box(cell).toAlignedRect())

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        """Enter takes and goes down; up and down change a number by one step."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(editor, CellField):
            return super().eventFilter(editor, event)
        key = cast(QKeyEvent, event).key()
        popup = editor.completer().popup() if editor.completer() else None
        if popup is not None and popup.isVisible():
            return super().eventFilter(editor, event)
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.commitData.emit(editor)
            self.closeEditor.emit(editor, QStyledItemDelegate.EndEditHint.NoHint)
            if self._taken:
                self.entered.emit()
            return True
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and self._index is not None:
            new = self._nudge(self._index, editor.text(), 1 if key == Qt.Key.Key_Up else -1)
            if new is not None:
                editor.setText(new)
                editor.setModified(True)
                editor.selectAll()
            return True
        return super().eventFilter(editor, event)

    def commit_pending(self) -> None:
        """Take what is being typed and close the field."""
        editor = self.editor
        if editor is not None:
            self.commitData.emit(editor)
            self.closeEditor.emit(editor, QStyledItemDelegate.EndEditHint.NoHint)
