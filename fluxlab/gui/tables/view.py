"""The view under every table: whole rows are chosen, a cell has the focus, keys do what a spreadsheet's keys do."""

from collections.abc import Callable, Iterable
from typing import Any, cast

from PySide6.QtCore import QEvent, QItemSelectionModel, QKeyCombination, QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QKeyEvent, QKeySequence, QPainter, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QScrollArea, QSizePolicy, QTableView, QWidget

from fluxlab.gui import theme
from fluxlab.gui.explain import Explanation
from fluxlab.gui.export import save_csv
from fluxlab.gui.tables import tsv
from fluxlab.gui.tables.editor import CellDelegate
from fluxlab.gui.tables.model import Column, GridModel, Index, Role
from fluxlab.gui.tables.numbers import stepped
from fluxlab.gui.tables.painter import PAD, before
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.menus import Menu, scroll_style
from fluxlab.gui.widgets.whisper import whisper

HEAD = 24
LEAST_ROWS, LIKED_ROWS = 3, 9
GIVES = 0.1
"""Part of its width that a stretching column gives up where there is no room."""


STYLE = "QTableView { background: transparent; border: none; } QAbstractScrollArea::corner { background: transparent; }"


DUPLICATE = QKeyCombination(Qt.KeyboardModifier.ControlModifier, Qt.Key.Key_D)


def _is_duplicate(event: QEvent) -> bool:
    return isinstance(event, QKeyEvent) and event.keyCombination() == DUPLICATE


class Head(QHeaderView):
    """Titles over one edge line."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setAccessibleName("Column titles")
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setHighlightSections(False)
        self.setMinimumSectionSize(10)

    def sizeHint(self) -> QSize:
        """24 px high."""
        return QSize(super().sizeHint().width(), theme.scaled(HEAD))

    def paintSection(self, painter: QPainter, rect: Any, logicalIndex: int) -> None:
        """Write one title."""
        t = theme.tokens()
        box = QRectF(rect)
        painter.fillRect(box, t.sheet)
        painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 1), t.edge)
        model = self.model()
        title = str(model.headerData(logicalIndex, Qt.Orientation.Horizontal) or "")
        align = model.headerData(logicalIndex, Qt.Orientation.Horizontal, Qt.ItemDataRole.TextAlignmentRole)
        base = type_.middle(box, 12)
        if align == Qt.AlignmentFlag.AlignRight:
            type_.right(painter, box.right() - PAD, base, title, 12, t.ink2)
        else:
            type_.left(painter, box.left() + before(logicalIndex), base, title, 12, t.ink2)


class GridView(QTableView):
    """A table of a `GridModel`. It is as tall as its rows and scrolls when there is less room."""

    pasted = Signal(list)
    removed = Signal(list)
    duplicated = Signal(int)
    opened = Signal(int)

    def __init__(
        self, name: str, row_height: int, parent: QWidget | None = None, titles: bool = True, whole: bool = False
    ) -> None:
        """`whole` shows every row and leaves scrolling to the page around it."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self._row_height, self._titles, self._whole = row_height, titles, whole
        self.explanation: Explanation | None = None
        self.may_duplicate = False
        self.fill_menu: Callable[[Menu, int], object] | None = None
        self._delegate = CellDelegate(self, self._nudge)
        self.setItemDelegate(self._delegate)
        self._delegate.entered.connect(self._down)
        self.setHorizontalHeader(Head(self))
        self.verticalHeader().hide()
        self.horizontalHeader().setVisible(titles)
        self.setShowGrid(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setWordWrap(False)
        self.setCornerButtonEnabled(False)
        self.setTabKeyNavigation(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        trigger = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            trigger.DoubleClicked | trigger.SelectedClicked | trigger.EditKeyPressed | trigger.AnyKeyPressed
        )
        self.setSizePolicy(
            QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed if whole else QSizePolicy.Policy.Expanding
        )
        if whole:
            self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def show_model(self, model: GridModel[Any]) -> None:
        """Show a model; what it refuses is said beside the cell."""
        self.setModel(model)
        model.refused.connect(self._refuse)
        for signal in (model.rowsInserted, model.rowsRemoved, model.modelReset):
            signal.connect(self._fit)
        self._spread()
        self._fit()

    def _fit(self) -> None:
        """Never taller than the rows; a table that shows them all is as tall as they are."""
        self.setMaximumHeight(self._height(len(self.grid.rows) if self.grid else 0))
        self.updateGeometry()

    @property
    def grid(self) -> GridModel[Any] | None:
        """The model shown."""
        return cast("GridModel[Any] | None", self.model())

    def commit_pending(self) -> None:
        """Take what an open editor holds."""
        self._delegate.commit_pending()

    def chosen_rows(self) -> list[int]:
        """Rows that are chosen, or the one that has the focus, from the top."""
        rows = sorted({index.row() for index in self.selectionModel().selectedRows()}) if self.model() else []
        current = self.currentIndex().row()
        return rows or ([current] if current >= 0 else [])

    def choose_row(self, row: int) -> None:
        """Choose one row and bring it into view, keeping the column."""
        column = max(0, self.currentIndex().column())
        index = self.model().index(row, column)
        self.selectionModel().setCurrentIndex(
            index, QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        )
        self.scrollTo(index)

    def copy_text(self) -> str:
        """The chosen rows as tab-separated text; the whole table, with its titles, when all or none is chosen."""
        rows, grid = self.chosen_rows(), self.grid
        if grid is None:
            return ""
        whole = not rows or len(rows) == len(grid.rows)
        return tsv.write(self.whole_table() if whole else self._texts(rows))

    def whole_table(self) -> list[list[str]]:
        """Titles and all rows, as they are copied and exported."""
        grid = self.grid
        if grid is None:
            return []
        return [[c.title for c in grid.columns if c.look != "rail"], *self._texts(range(len(grid.rows)))]

    def _texts(self, rows: Iterable[int]) -> list[list[str]]:
        grid = self.grid
        columns = [i for i, column in enumerate(grid.columns) if column.look != "rail"] if grid else []
        return [[str(grid.index(row, i).data(Role.COPY) or "") for i in columns] for row in rows] if grid else []

    def sizeHint(self) -> QSize:
        """As tall as its rows; one that scrolls by itself is content with some of them."""
        rows = len(self.grid.rows) if self.grid else 0
        return QSize(self._columns_width(), self._height(rows if self._whole else min(rows, LIKED_ROWS)))

    def minimumSizeHint(self) -> QSize:
        """At least a few rows."""
        rows = min(LEAST_ROWS, len(self.grid.rows) if self.grid else 0)
        return QSize(theme.scaled(240), self._height(rows))

    def _height(self, rows: int) -> int:
        head = theme.scaled(HEAD) if self._titles else 0
        return head + rows * theme.scaled(self._row_height) + (10 if self._too_narrow() else 0)

    def _too_narrow(self) -> bool:
        return self.width() < self._least_width()

    def _least_width(self) -> int:
        """Width down to which the columns that stretch can also give way."""
        return self._least_of(self._shown())

    def _least_of(self, columns: Iterable[Column[Any]]) -> int:
        return round(sum(theme.scaled(c.width) * (1.0 - GIVES if c.stretch else 1.0) for c in columns))

    def _columns_width(self) -> int:
        return sum(theme.scaled(column.width) for column in self.grid.columns) if self.grid else 0

    def _shown(self) -> list[Column[Any]]:
        columns = self.grid.columns if self.grid else ()
        return [column for i, column in enumerate(columns) if not self.isColumnHidden(i)]

    def _leave_out(self, grid: GridModel[Any]) -> None:
        """Leave out columns that can be spared until the others fit."""
        shown = list(grid.columns)
        for column in sorted((c for c in grid.columns if c.spare), key=lambda c: c.spare):
            if self._least_of(shown) > self.viewport().width():
                shown.remove(column)
        for i, column in enumerate(grid.columns):
            self.setColumnHidden(i, column not in shown)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out among the columns."""
        super().resizeEvent(event)
        self._spread()
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _spread(self) -> None:
        grid = self.grid
        if grid is None:
            return
        self._leave_out(grid)
        shown = self._shown()
        width = max(self.viewport().width(), self._least_of(shown))
        spare = width - sum(theme.scaled(column.width) for column in shown)
        whole = sum(column.stretch for column in shown) or 1
        elastic = sum(theme.scaled(column.width) for column in shown if column.stretch) or 1
        for i, column in enumerate(grid.columns):
            own = theme.scaled(column.width)
            more = spare * column.stretch // whole if spare >= 0 else spare * own // elastic if column.stretch else 0
            self.setColumnWidth(i, own + more)

    def _redress(self) -> None:
        self.setStyleSheet(scroll_style() + STYLE)
        self.setFont(theme.font(13))
        self.verticalHeader().setDefaultSectionSize(theme.scaled(self._row_height))
        self.horizontalHeader().setFixedHeight(theme.scaled(HEAD))
        self._spread()
        self._fit()
        self.viewport().update()

    def currentChanged(self, current: Index, previous: Index) -> None:
        """Keep the current cell in view, also where the page around the table scrolls."""
        super().currentChanged(current, previous)
        area = self._page_around()
        sheet = area.widget() if area is not None else None
        if area is not None and sheet is not None and current.isValid() and self.isVisible():
            cell = self.visualRect(current).translated(self.viewport().pos())
            middle = self.mapTo(sheet, cell.center())
            area.ensureVisible(middle.x(), middle.y(), 0, cell.height())

    def _page_around(self) -> QScrollArea | None:
        above = self.parentWidget()
        while above is not None:
            if isinstance(above, QScrollArea):
                return above
            above = above.parentWidget()
        return None

    def _refuse(self, sentence: str) -> None:
        cell = self.visualRect(self.currentIndex())
        whisper(self.viewport(), sentence, cell.bottomLeft() + QPoint(0, 4))

    def _column(self, index: Index) -> Column[Any] | None:
        return self.grid.columns[index.column()] if self.grid and index.isValid() else None

    def _nudge(self, index: Index, text: str, sign: int) -> str | None:
        column = self._column(index)
        return stepped(text, sign * column.step) if column and column.step else None

    def explanation_at(self, place: QPoint) -> Explanation | None:
        """What F1 says of the column at a place, or of the current cell's for a place outside."""
        grid = self.grid
        at = self.columnAt(place.x()) if self.rect().contains(place) else self.currentIndex().column()
        if grid is None or not 0 <= at < len(grid.columns) or not grid.columns[at].help:
            return self.explanation
        column = grid.columns[at]
        return Explanation(column.title, column.help, column.formula, column.source)

    def _down(self) -> None:
        current = self.currentIndex()
        below = current.sibling(current.row() + 1, current.column())
        if below.isValid():
            self.choose_row(below.row())

    def focusInEvent(self, event: Any) -> None:
        """A table that is entered by key has a current cell."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.grid and self.grid.rows:
            self.selectionModel().setCurrentIndex(self.grid.index(0, 0), QItemSelectionModel.SelectionFlag.NoUpdate)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from cell to cell, and from the last one on to the next part of the page."""
        if self.tabKeyNavigation() and self._at_the_end(forward):
            return QWidget.focusNextPrevChild(self, forward)
        return super().focusNextPrevChild(forward)

    def _at_the_end(self, forward: bool) -> bool:
        current, grid = self.currentIndex(), self.grid
        if grid is None or not grid.rows or not current.isValid():
            return True
        columns = [place for place in range(len(grid.columns)) if not self.isColumnHidden(place)]
        last = (len(grid.rows) - 1, columns[-1]) if forward else (0, columns[0])
        return (current.row(), current.column()) == last

    def event(self, event: QEvent) -> bool:
        """Where rows can be duplicated, Ctrl+D means the row and not the recipe."""
        if event.type() == QEvent.Type.ShortcutOverride and self.may_duplicate and _is_duplicate(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy, paste, remove, Enter down; the rest as usual."""
        key = event.key()
        if event.matches(QKeySequence.StandardKey.Copy):
            QGuiApplication.clipboard().setText(self.copy_text())
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.pasted.emit(tsv.read(QGuiApplication.clipboard().text()))
        elif key == Qt.Key.Key_Delete and self.chosen_rows():
            self.removed.emit(self.chosen_rows())
        elif self.may_duplicate and _is_duplicate(event):
            self.duplicated.emit(self.currentIndex().row())
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit(self.currentIndex().row())
            self._down()
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu of the row under the pointer."""
        row = self.indexAt(self.viewport().mapFromGlobal(event.globalPos())).row()
        if row >= 0 and row not in self.chosen_rows():
            self.choose_row(row)
        menu = Menu(self)
        if self.fill_menu is not None:
            self.fill_menu(menu, row)
        clipboard = QGuiApplication.clipboard()
        menu.entry("Copy rows", lambda: clipboard.setText(self.copy_text()), QKeySequence.StandardKey.Copy)
        menu.entry("Export as CSV…", lambda: save_csv(self, f"{self.accessibleName()}.csv", self.whole_table()))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(event.globalPos())
