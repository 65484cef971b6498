"""The targets on the page: name over violet limits, rail, value."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QHeaderView, QStyledItemDelegate, QStyleOptionViewItem, QTableView, QWidget

from fluxlab.design.recipe import Kind
from fluxlab.design.report_types import TargetReport
from fluxlab.gui import theme
from fluxlab.gui.export import save_csv
from fluxlab.gui.flux.rails import target_rail
from fluxlab.gui.flux.targets_model import ACROSS, TargetsModel, band_words, figure_of
from fluxlab.gui.tables import tsv
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.rail import broken_colour, draw_rail

Index = QModelIndex | QPersistentModelIndex
ROW = 35
TIGHT = 24
GUTTER = 28
RAIL_LEFT = 112
VALUE_ROOM = 66
UNIT_ROOM = 24


class TargetDelegate(QStyledItemDelegate):
    """Draws one target."""

    def __init__(self, model: TargetsModel, parent: "TargetsView") -> None:
        super().__init__(parent)
        self._model, self._view = model, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """The view sets heights."""
        return QSize(10, theme.scaled(ROW))

    def draw(self, painter: QPainter, rect: QRect, index: Index, current: bool) -> None:
        """Draw name, limits, rail and value; the view calls this itself, as the flux table does and for its reason."""
        target = self._model.target_at(index)
        if target is None:
            return
        t = theme.tokens()
        wide = rect.width() - (theme.scaled(GUTTER) if index.column() < ACROSS - 1 else 0)
        box = QRectF(rect.left(), rect.top(), wide, rect.height())
        if index.row() < self._model.rowCount() - 1:
            painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 1), t.rule)
        self._draw(painter, box, target, t)
        if current:
            painter.save()
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(box.adjusted(1 if box.left() < 2 else -3, 1, 3, -2), 3, 3)
            painter.restore()

    def _draw(self, painter: QPainter, box: QRectF, target: TargetReport, t: Tokens) -> None:
        ink = t.ink if target.on else t.ink3
        tight = self._view.tight
        name = box.top() + theme.scaled(16 if tight else 14)
        type_.left(painter, box.left(), name, target.label, 13, ink)
        rail_top = box.top() + theme.scaled(3 if tight else 17)
        rail_left = box.left() + theme.scaled(RAIL_LEFT)
        if tight:
            rail_left = max(rail_left, box.left() + type_.width(target.label, 13) + 8)
        else:
            limits = band_words(target)
            colour = t.hand if target.on else t.ink3
            end = type_.left(painter, box.left(), box.top() + theme.scaled(29), limits, 12, colour)
            rail_left = max(rail_left, end + 8)
        value_right = box.right() - theme.scaled(UNIT_ROOM)
        rail_right = box.right() - theme.scaled(VALUE_ROOM) - 4
        spec = target_rail(target)
        if target.on and rail_right - rail_left > 24:
            draw_rail(painter, QRectF(rail_left, rail_top, rail_right - rail_left, theme.scaled(17)), spec, t)
        middle = type_.middle(box, 15, True)
        value_ink = broken_colour(_broken(target), t, ink)
        figure = figure_of(target, target.value)
        type_.right(painter, value_right, middle, figure, 15, value_ink, True)
        if target.unit and target.value is not None:
            type_.left(painter, value_right + 3, middle, target.unit, 12, t.ink2)


def _broken(target: TargetReport) -> Kind | None:
    """The kind of the limit that is broken, as the report judged it."""
    if not target.on:
        return None
    kinds: dict[str, Kind] = {"below": target.lo_kind, "above": target.hi_kind}
    return kinds.get(target.state)


class TargetsView(QTableView):
    """The targets in two columns; as tall as its rows."""

    edit_wanted = Signal(str)

    def __init__(self, model: TargetsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self.tight = False
        self.setModel(model)
        self._delegate = TargetDelegate(model, self)
        self.setItemDelegate(self._delegate)
        self.horizontalHeader().hide()
        self.horizontalHeader().setMinimumSectionSize(10)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(10)
        self.setShowGrid(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionMode(QTableView.SelectionMode.NoSelection)
        self.setEditTriggers(QTableView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setAccessibleName("Targets")
        model.modelReset.connect(self.fit)
        self.viewport().setAutoFillBackground(False)
        theme.notifier().theme_changed.connect(self._redress)
        self._redress()

    def _redress(self) -> None:
        self.fit()
        self.viewport().update()

    def set_tight(self, tight: bool) -> None:
        """Leave out the second lines where height is short."""
        if tight != self.tight:
            self.tight = tight
            self.fit()
            self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Halve the width."""
        super().resizeEvent(event)
        self.fit()

    def height_for(self, tight: bool) -> int:
        """Height of all rows [px]."""
        return self._model.rowCount() * theme.scaled(TIGHT if tight else ROW)

    def fit(self) -> None:
        """Give rows and columns their size."""
        gutter = theme.scaled(GUTTER)
        first = (self.width() + gutter) // ACROSS
        self.setColumnWidth(0, first)
        self.setColumnWidth(1, self.width() - first)
        for row in range(self._model.rowCount()):
            self.setRowHeight(row, theme.scaled(TIGHT if self.tight else ROW))
        tall = self.height_for(self.tight)
        if self.minimumHeight() != tall or self.maximumHeight() != tall:
            self.setFixedHeight(tall)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and F2 open the limits; copy takes all targets."""
        target = self._model.target_at(self.currentIndex())
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        elif target is not None and event.key() in (
            Qt.Key.Key_Return,
            Qt.Key.Key_Enter,
            Qt.Key.Key_F2,
            Qt.Key.Key_Space,
        ):
            self.edit_wanted.emit(target.key)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click opens the limits."""
        super().mouseReleaseEvent(event)
        target = self._model.target_at(self.indexAt(event.position().toPoint()))
        if target is not None and event.button() == Qt.MouseButton.LeftButton:
            self.edit_wanted.emit(target.key)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the targets that the event asks for."""
        painter = QPainter(self.viewport())
        region, here = event.region(), self.currentIndex() if self.hasFocus() else None
        for number in range(len(self._model.targets)):
            index = self._model.place_of(number)
            rect = self.visualRect(index)
            if region.intersects(rect):
                self._delegate.draw(painter, rect, index, index == here)

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here: the target under the cursor, else the chosen one."""
        index = self.indexAt(place) if place.x() >= 0 else self.currentIndex()
        target = self._model.target_at(index)
        return target.key if target is not None else "degree"

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Limits of the target, and the table for elsewhere."""
        menu = Menu(self)
        target = self._model.target_at(self.indexAt(event.pos()))
        if target is not None:
            menu.entry(f"Limits of {target.label}…", lambda: self.edit_wanted.emit(target.key), "F2")
            menu.addSeparator()
        menu.entry("Copy the targets", self.copy, "Ctrl+C")
        menu.entry("Export as CSV…", lambda: save_csv(self, "targets.csv", self._model.as_rows()))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(event.globalPos())

    def copy(self) -> None:
        """Put all targets on the clipboard."""
        QGuiApplication.clipboard().setText(tsv.write(self._model.as_rows()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The page scrolls, not the targets."""
        event.ignore()
