"""The flux table on the page: header, keys, paste, and the row menu."""

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractItemDelegate, QAbstractItemView, QHeaderView, QTableView, QWidget

from fluxlab.gui import theme
from fluxlab.gui.flux.columns import COLUMNS, FIRST_VIEW, Col
from fluxlab.gui.flux.delegate import FluxDelegate
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.whisper import whisper

WHAT_LEAST = 160
HEADER = 27
STOPS = (Col.GRAMS, Col.LOCK, Col.RAIL)


class Header(QHeaderView):
    """Titles in 12 px regular over one edge line."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(10)
        self.setSectionsClickable(False)
        self.setHighlightSections(False)

    def sizeHint(self) -> QSize:
        """27 px high."""
        return QSize(super().sizeHint().width(), theme.scaled(HEADER))

    def paintSection(self, painter: QPainter, rect: object, logical: int) -> None:
        """Write a title."""
        assert hasattr(rect, "left")
        t = theme.tokens()
        box = QRectF(rect)  # type: ignore[call-overload]
        painter.fillRect(box, t.sheet)
        painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 1), t.edge)
        col, title = Col(logical), COLUMNS[Col(logical)].title
        base = box.bottom() - theme.scaled(9)
        if col is Col.WHAT:
            type_.left(painter, box.left(), base, title, 12, t.ink2)
        elif col is Col.RAIL:
            type_.right(painter, box.right() - 4, base, title, 12, t.ink2)
        else:
            type_.right(painter, box.right() - (10 if col is Col.GRAMS else 4), base, title, 12, t.ink2)


class FluxView(QTableView):
    """The table. It is as tall as its rows; the page scrolls, not the table."""

    limits_wanted = Signal(int)
    menu_wanted = Signal(int, QPoint)
    laid_out = Signal()

    def __init__(self, model: FluxModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self.setModel(model)
        self._delegate = FluxDelegate(model, self)
        self._shape: tuple[object, ...] = ()
        self.setItemDelegate(self._delegate)
        self.setHorizontalHeader(Header(self))
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(10)
        self.setShowGrid(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QTableView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(True)
        self.setAccessibleName("Flux table")
        self.show_columns(FIRST_VIEW)
        model.refused.connect(self._refuse)
        self.viewport().setAutoFillBackground(False)
        theme.notifier().theme_changed.connect(self._redress)
        self._redress()

    # -- size -----------------------------------------------------------------------------------------------------

    def show_columns(self, shown: frozenset[Col]) -> None:
        """Show these columns."""
        for col in Col:
            self.setColumnHidden(col, col not in shown and COLUMNS[col].may_hide)
        self.fit()

    def shown_columns(self) -> list[Col]:
        """Columns on the page, in order."""
        return [col for col in Col if not self.isColumnHidden(col)]

    def _redress(self) -> None:
        self.fit()
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The first column takes what the others leave."""
        super().resizeEvent(event)
        self.fit()

    def fit(self) -> None:
        """Give rows and columns their size, and the table the height of its rows; nothing to do if none changed."""
        shape = (
            self.width(),
            theme.text_size(),
            tuple(self.shown_columns()),
            tuple((line.flux, line.why, line.fixed) for line in self._model.lines),
        )
        if shape == self._shape:
            return
        self._shape = shape
        others = 0
        for col in self.shown_columns()[1:]:
            wide = theme.scaled(COLUMNS[col].width)
            if self.columnWidth(col) != wide:
                self.setColumnWidth(col, wide)
            others += wide
        what = max(theme.scaled(WHAT_LEAST), self.width() - others)
        if self.columnWidth(Col.WHAT) != what:
            self.setColumnWidth(Col.WHAT, what)
        tall = self.horizontalHeader().sizeHint().height()
        for row in range(len(self._model.lines)):
            height = self._delegate.row_height(row, what - 4)
            if self.rowHeight(row) != height:
                self.setRowHeight(row, height)
            tall += height
        if self.maximumHeight() != tall or self.minimumHeight() != tall:
            self.setFixedHeight(tall)
        least = theme.scaled(WHAT_LEAST) + others
        if self.minimumWidth() != least:
            self.setMinimumWidth(least)
        self.laid_out.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the cells that the event asks for."""
        painter = QPainter(self.viewport())
        region, focused, here = event.region(), self.hasFocus(), self.currentIndex()
        current = (here.row(), here.column()) if focused and here.isValid() else None
        chosen = {index.row() for index in self.selectionModel().selectedRows()}
        columns = [(col, self.columnViewportPosition(col), self.columnWidth(col)) for col in self.shown_columns()]
        for row in range(len(self._model.lines)):
            top, tall = self.rowViewportPosition(row), self.rowHeight(row)
            if not region.intersects(QRect(0, top, self.width(), tall)):
                continue
            for col, left, wide in columns:
                rect = QRect(left, top, wide, tall)
                if region.intersects(rect):
                    self._delegate.draw(painter, rect, row, col, row in chosen, (row, col) == current)

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here: the column under the cursor, else that of the chosen cell."""
        across = self.columnAt(place.x()) if place.x() >= 0 else self.currentIndex().column()
        names = {
            Col.GRAMS: "grams",
            Col.LOCK: "lock",
            Col.SHARE: "share",
            Col.RAIL: "rail",
            Col.COST: "cost",
            Col.LOOSE: "loose",
            Col.STOCK: "stock",
        }
        return f"column:{names.get(Col(max(0, across)), 'what')}"

    # -- keys and mouse -------------------------------------------------------------------------------------------

    def row(self) -> int:
        """The row that has the cursor, -1 for none."""
        return self.currentIndex().row()

    def commit_pending(self) -> None:
        """Take what an open editor holds."""
        editor = self.indexWidget(self.currentIndex()) or self._editor()
        if editor is not None:
            self.commitData(editor)
            self.closeEditor(editor, QAbstractItemDelegate.EndEditHint.NoHint)

    def _editor(self) -> QWidget | None:
        if self.state() != QAbstractItemView.State.EditingState:
            return None
        return next((child for child in self.viewport().findChildren(QWidget) if child.isVisible()), None)

    def _refuse(self, row: int, sentence: str) -> None:
        rect = self.visualRect(self._model.index(row, Col.GRAMS))
        whisper(self.viewport(), sentence, rect.bottomLeft() + QPoint(0, 2))

    def moveCursor(self, action: QAbstractItemView.CursorAction, modifiers: Qt.KeyboardModifier) -> QModelIndex:
        """Tab goes from weight to lock to limits, then to the next row; past the end it leaves the table."""
        move = QAbstractItemView.CursorAction
        if action not in (move.MoveNext, move.MovePrevious):
            return super().moveCursor(action, modifiers)
        stops = [(row, col) for row in range(len(self._model.lines)) for col in STOPS if not self.isColumnHidden(col)]
        here = self.currentIndex()
        place = (here.row(), here.column()) if here.isValid() else (0, -1)
        if action == move.MoveNext:
            found = next((stop for stop in stops if stop > place), None)
        else:
            found = next((stop for stop in reversed(stops) if stop < place), None)
        return QModelIndex() if found is None else self._model.index(*found)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab moves inside the table while there is a next stop, then on to the next part of the page."""
        move = QAbstractItemView.CursorAction
        aim = self.moveCursor(move.MoveNext if forward else move.MovePrevious, Qt.KeyboardModifier.NoModifier)
        if not aim.isValid():
            return QWidget.focusNextPrevChild(self, forward)
        self._go(aim)
        return True

    def _go(self, index: QModelIndex) -> None:
        select = QItemSelectionModel.SelectionFlag
        self.selectionModel().setCurrentIndex(index, select.ClearAndSelect | select.Rows)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter down, arrows by a balance step on a weight, Delete frees, Space turns the lock."""
        row, col = self.row(), self.currentIndex().column()
        key = event.key()
        if self.state() == QAbstractItemView.State.EditingState:
            # What the field passes on has been dealt with by the delegate, all but the arrows.
            if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
                self.commit_pending()
                self._model.nudge(row, 1 if key == Qt.Key.Key_Up else -1)
            event.accept()
        elif event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        elif row < 0:
            super().keyPressEvent(event)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter(row, col, -1 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and col == Col.GRAMS and not event.modifiers():
            self._model.nudge(row, 1 if key == Qt.Key.Key_Up else -1)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self._model.move(row, -1 if key == Qt.Key.Key_Up else 1)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and col == Col.GRAMS:
            for chosen in self.chosen_rows():
                if self._model.lines[chosen].fixed:
                    self._model.toggle(chosen)
        elif key == Qt.Key.Key_Space and col == Col.LOCK:
            self._model.toggle(row)
        elif key in (Qt.Key.Key_F2, Qt.Key.Key_Space) and col == Col.RAIL:
            self.limits_wanted.emit(row)
        elif key == Qt.Key.Key_F2 and col != Col.GRAMS:
            self._go(self._model.index(row, Col.GRAMS))
            self.edit(self.currentIndex())
        elif event.text().isdigit() and col != Col.GRAMS:
            self._go(self._model.index(row, Col.GRAMS))
            super().keyPressEvent(event)
        else:
            super().keyPressEvent(event)

    def _enter(self, row: int, col: int, step: int) -> None:
        if col == Col.RAIL:
            self.limits_wanted.emit(row)
        elif col == Col.LOCK:
            self._model.toggle(row)
        elif 0 <= row + step < len(self._model.lines):
            self._go(self._model.index(row + step, Col.GRAMS))

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """Enter in the field goes down, Tab goes on without opening the next field."""
        ends = QAbstractItemDelegate.EndEditHint
        super().closeEditor(editor, ends.NoHint)
        if hint == ends.SubmitModelCache:
            self._enter(self.row(), Col.GRAMS, 1)
        elif hint in (ends.EditNextItem, ends.EditPreviousItem):
            self.focusNextPrevChild(hint == ends.EditNextItem)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on the lock turns it, one on the rail opens the limits, one on the chosen weight edits it."""
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() != Qt.MouseButton.LeftButton or not index.isValid() or event.modifiers():
            return
        if index.column() == Col.LOCK:
            self._model.toggle(index.row())
        elif index.column() == Col.RAIL:
            self.limits_wanted.emit(index.row())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The page scrolls, not the table."""
        event.ignore()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The row's menu."""
        index = self.indexAt(event.pos()) if event.reason() == QContextMenuEvent.Reason.Mouse else self.currentIndex()
        if index.isValid():
            self.menu_wanted.emit(index.row(), self.viewport().mapToGlobal(self.visualRect(index).bottomLeft()))

    # -- clipboard ------------------------------------------------------------------------------------------------

    def chosen_rows(self) -> list[int]:
        """Selected rows from the top."""
        return sorted(index.row() for index in self.selectionModel().selectedRows())

    def copy(self) -> None:
        """Put the selected rows on the clipboard, all when none is selected."""
        rows = self.chosen_rows() or list(range(len(self._model.lines)))
        QGuiApplication.clipboard().setText(self._model.as_tsv(rows, self.shown_columns()))

    def paste(self) -> None:
        """Fix the rows named on the clipboard, or the rows from the cursor down, in one undo step."""
        refused = self._model.paste(QGuiApplication.clipboard().text(), max(0, self.row()))
        if refused:
            self._refuse(max(0, self.row()), refused)
