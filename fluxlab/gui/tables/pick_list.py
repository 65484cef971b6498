"""A list to pick from, with a search line on top: minerals, oxides, elements, fluxes."""

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QModelIndex, QObject, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from fluxlab.gui import theme
from fluxlab.gui.tables.model import Column, GridModel, Index
from fluxlab.gui.tables.painter import paint_cell
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.menus import scroll_style
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.words import Words

ROW, ROWS, WIDE = 38, 8, 270


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to pick: its key, the words shown, the second line, and more words that a search finds."""

    key: str
    title: str
    note: str = ""
    also: str = ""


def found(items: Iterable[Item], text: str) -> tuple[Item, ...]:
    """Items that hold every word of the text; those whose title begins with it come first."""
    words = text.casefold().split()
    matching = [i for i in items if all(word in f"{i.title} {i.note} {i.also}".casefold() for word in words)]
    start = " ".join(words)
    return tuple(sorted(matching, key=lambda i: not i.title.casefold().startswith(start)) if start else matching)


class _Painter(QStyledItemDelegate):
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        painter.save()
        paint_cell(painter, option, index)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(10, theme.scaled(ROW))


class PickList(Panel):
    """The list on a plate. Enter or a click picks; it stays open for the next one, Escape closes it."""

    picked = Signal(str)

    def __init__(self, name: str, items: Iterable[Item], window: QWidget, many: bool = True, hint: str = "") -> None:
        super().__init__(name, window)
        self._items, self._many = tuple(items), many
        self.search = Field(self)
        self.search.setPlaceholderText("Search")
        self.search.setAccessibleName(f"Search: {name}")
        self.model: GridModel[Item] = GridModel(
            [Column("Item", lambda i: i.title, "name", note=lambda i: i.note)], key=lambda i: i.key, parent=self
        )
        self.list = QListView(self)
        self.list.setAccessibleName(name)
        self.list.setModel(self.model)
        self.list.setItemDelegate(_Painter(self.list))
        self.list.setFrameShape(QListView.Shape.NoFrame)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setStyleSheet(scroll_style() + "QListView { background: transparent; border: none; }")
        self.list.setFixedSize(theme.scaled(WIDE), theme.scaled(ROW) * ROWS)
        self.body.addWidget(self.search)
        self.body.addWidget(self.list)
        if hint:
            self.body.addWidget(Words(hint, 12, tone="ink2", room=WIDE))
        self.search.textChanged.connect(self._filter)
        self.search.installEventFilter(self)
        self.list.clicked.connect(self._pick)
        self._filter("")

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the list under a widget, ready for typing."""
        super().open_at(beside, rect)
        self.search.setFocus()

    def set_items(self, items: Iterable[Item]) -> None:
        """Offer other items; the search stays."""
        self._items = tuple(items)
        self._filter(self.search.text())

    def _filter(self, text: str) -> None:
        self.model.set_rows(found(self._items, text))
        if self.model.rows:
            self.list.setCurrentIndex(self.model.index(0, 0))

    def _pick(self, index: QModelIndex) -> None:
        if not index.isValid():
            return
        key = self.model.rows[index.row()].key
        if not self._many:
            self.shut()
        self.picked.emit(key)
        if self._many:
            self.search.selectAll()
            self.search.setFocus()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """From the search line, up and down move in the list and Enter picks."""
        if watched is self.search and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = event.key()
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._pick(self.list.currentIndex())
                return True
            if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
                row = self.list.currentIndex().row() + (1 if key == Qt.Key.Key_Down else -1)
                if 0 <= row < len(self.model.rows):
                    self.list.setCurrentIndex(self.model.index(row, 0))
                return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter picks from the list too."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.list.hasFocus():
            self._pick(self.list.currentIndex())
        else:
            super().keyPressEvent(event)
