"""The list of what the shelf has and the table has not: type to search, Enter adds."""

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.columns import places_of
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field, show_number
from fluxlab.gui.widgets.menus import scroll_style
from fluxlab.gui.widgets.panel import Panel
from fluxlab.materials.flux_types import ByParts, Component

Index = QModelIndex | QPersistentModelIndex
ROW = 34
WIDTH = 320
_ROOT = QModelIndex()


class _Shelf(QAbstractListModel):
    def __init__(self, components: list[Component], places: int, parent: QObject) -> None:
        super().__init__(parent)
        self._all, self._places = components, places
        self.shown = components

    def search(self, words: str) -> None:
        wanted = words.casefold().split()
        self.beginResetModel()
        self.shown = [c for c in self._all if all(word in f"{c.name} {c.form}".casefold() for word in wanted)]
        self.endResetModel()

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.shown)

    def note(self, row: int) -> str:
        component = self.shown[row]
        stock = (
            "not counted" if component.stock is None else f"{show_number(component.stock, self._places)} g on the shelf"
        )
        kind = "mixed flux" if isinstance(component.made_of, ByParts) else type_.with_formulas(component.form)
        return f"{kind}, {stock}" if kind else stock

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.shown[index.row()].name
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self.shown[index.row()].name}, {self.note(index.row())}"
        return None


class _Row(QStyledItemDelegate):
    def __init__(self, model: _Shelf, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(10, theme.scaled(ROW))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        t = theme.tokens()
        rect: QRect = option.rect
        state: QStyle.StateFlag = option.state
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, t.pick)
        painter.fillRect(QRectF(rect.left(), rect.bottom(), rect.width(), 1), t.rule)
        x = rect.left() + 6
        type_.left(painter, x, rect.top() + theme.scaled(15), self._model.shown[index.row()].name, 13, t.ink, True)
        type_.left(painter, x, rect.top() + theme.scaled(29), self._model.note(index.row()), 12, t.ink2)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(t.hand, 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -2))


class AddFlux(Panel):
    """Search and list."""

    new_wanted = Signal()

    def __init__(self, bench: Bench, window: QWidget) -> None:
        super().__init__("Add a flux", window)
        self._bench = bench
        work = bench.work
        present = {line.flux for line in work.recipe.lines}
        components = [c for c in work.shelf.fluxes if c.uid not in present]
        self.search = Field()
        self.search.setPlaceholderText("Search the shelf")
        self.search.setAccessibleName("Search the shelf")
        self._model = _Shelf(components, places_of(work.shelf.balance_step), self)
        self.list = QListView()
        self.list.setModel(self._model)
        self.list.setItemDelegate(_Row(self._model, self.list))
        self.list.setFrameShape(QListView.Shape.NoFrame)
        self.list.setStyleSheet(scroll_style() + f"QListView {{ background: {theme.tokens().sheet.name()}; }}")
        self.list.setAccessibleName("Fluxes on the shelf")
        self.list.setFixedSize(theme.scaled(WIDTH), theme.scaled(ROW) * max(3, min(9, len(components))))
        self.list.clicked.connect(self._take)
        self.search.textChanged.connect(self._search)
        new = Button("Put a new flux on the shelf", "text", "plus")
        new.clicked.connect(self._new)
        self.body.addWidget(self.search)
        self.body.addWidget(self.list)
        self.body.addWidget(new)
        self._choose(0)

    def _search(self, words: str) -> None:
        self._model.search(words)
        self._choose(0)

    def _choose(self, row: int) -> None:
        if self._model.rowCount():
            self.list.setCurrentIndex(self._model.index(max(0, min(row, self._model.rowCount() - 1)), 0))

    def _take(self, index: QModelIndex) -> None:
        component = self._model.shown[index.row()]
        self.shut()
        self._bench.do("add_flux", component.uid)

    def _new(self) -> None:
        self.shut()
        self.new_wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down walk the list from the search line, Enter adds the marked flux."""
        here = self.list.currentIndex()
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self._choose(here.row() + (1 if event.key() == Qt.Key.Key_Down else -1))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and here.isValid():
            self._take(here)
        else:
            super().keyPressEvent(event)
