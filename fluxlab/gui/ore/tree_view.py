"""The ore-type tree as drawn: group in bold, ore types and recipes hung on thin lines, the one on the bench solid."""

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QKeyCombination,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTreeView, QWidget

from fluxlab.gui import theme
from fluxlab.gui.ore.tree_model import OreTreeModel, Role
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.menus import scroll_style

Index = QModelIndex | QPersistentModelIndex
INDENT = {"group": 0, "ore": 21, "recipe": 37}
HEIGHT = {"group": 30, "ore": 42, "recipe": 30}
LINE_ORE, LINE_RECIPE = 5, 21
PAD = 8
DUPLICATE = QKeyCombination(Qt.KeyboardModifier.ControlModifier, Qt.Key.Key_D)


class OreTreeView(QTreeView):
    """The tree. `opened` carries kind and id of what was chosen, `menu_wanted` also the place of the pointer."""

    opened = Signal(str, str)
    menu_wanted = Signal(str, str, object)
    rename_wanted = Signal(str, str)
    duplicate_wanted = Signal(str, str)
    archive_wanted = Signal(str, str)

    def __init__(self, model: OreTreeModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Ore types and their recipes")
        self.on_bench: tuple[str, str] = ("", "")
        self.setModel(model)
        self.setItemDelegate(_Painter(self))
        self.setHeaderHidden(True)
        self.setRootIsDecorated(False)
        self.setIndentation(0)
        self.setUniformRowHeights(False)
        self.setFrameShape(QTreeView.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QTreeView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QTreeView.EditTrigger.NoEditTriggers)
        self.setExpandsOnDoubleClick(False)
        self.clicked.connect(self._open)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.setStyleSheet(scroll_style() + "QTreeView { background: transparent; border: none; }")
        self.scheduleDelayedItemsLayout()
        self.viewport().update()

    def show_bench(self, ore: str, recipe: str) -> None:
        """Mark what is on the bench and make it the current node."""
        self.on_bench = (ore, recipe)
        self.expandAll()
        model = self.model()
        assert isinstance(model, OreTreeModel)
        index = model.index_of("recipe", recipe)
        if not index.isValid():
            index = model.index_of("ore", ore)
        if index.isValid():
            self.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(index)
        self.viewport().update()

    def drawBranches(self, painter: QPainter, rect: QRect, index: Index) -> None:
        """The lines are drawn with the rows."""

    def sizeHint(self) -> QSize:
        """As in the picture."""
        return QSize(214, theme.scaled(200))

    def _open(self, index: QModelIndex) -> None:
        kind, uid = index.data(Role.KIND), index.data(Role.UID)
        if kind in ("ore", "recipe"):
            self.opened.emit(kind, uid)

    def event(self, event: QEvent) -> bool:
        """Ctrl+D means the node that has the focus, not the recipe on the bench."""
        if event.type() == QEvent.Type.ShortcutOverride and _is_duplicate(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens, F2 renames, Ctrl+D duplicates, Del archives."""
        index = self.currentIndex()
        kind, uid = index.data(Role.KIND), index.data(Role.UID)
        if kind not in ("ore", "recipe"):
            super().keyPressEvent(event)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit(kind, uid)
        elif event.key() == Qt.Key.Key_F2:
            self.rename_wanted.emit(kind, uid)
        elif _is_duplicate(event):
            self.duplicate_wanted.emit(kind, uid)
        elif event.key() == Qt.Key.Key_Delete:
            self.archive_wanted.emit(kind, uid)
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of the node under the pointer."""
        index = self.indexAt(self.viewport().mapFromGlobal(event.globalPos()))
        if index.data(Role.KIND) in ("ore", "recipe"):
            self.menu_wanted.emit(index.data(Role.KIND), index.data(Role.UID), event.globalPos())


def _is_duplicate(event: QEvent) -> bool:
    return isinstance(event, QKeyEvent) and event.keyCombination() == DUPLICATE


class _Painter(QStyledItemDelegate):
    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(100, theme.scaled(HEIGHT[index.data(Role.KIND)]))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        view = self.parent()
        assert isinstance(view, OreTreeView)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        kind, uid = str(index.data(Role.KIND)), str(index.data(Role.UID))
        box = QRectF(option.rect)
        _lines(painter, box, index, kind)
        t = theme.tokens()
        title = str(index.data() or "")
        if kind == "group":
            type_.left(painter, 0, type_.middle(box, 13, True), title, 13, t.ink, True)
        else:
            on_bench = uid in view.on_bench
            solid = kind == "ore" and on_bench
            left = box.left() + theme.scaled(INDENT[kind])
            plate = QRectF(left - PAD, box.top() + 1, box.right() - left + PAD, box.height() - 2)
            if solid:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(t.solid)
                painter.drawRoundedRect(plate, 3, 3)
            if option.state & QStyle.StateFlag.State_HasFocus:
                painter.setPen(QPen(t.hand, 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(plate.adjusted(1, 1, -1, -1), 3, 3)
            note = str(index.data(Role.NOTE) or "") if kind == "ore" else ""
            room = box.right() - left - 4
            _words(painter, box, left, room, title, note, on_bench, solid)
        painter.restore()


def _words(
    painter: QPainter, box: QRectF, left: float, room: float, title: str, note: str, bold: bool, solid: bool
) -> None:
    t = theme.tokens()
    ink, quiet = (t.sheet, t.sheet) if solid else (t.ink, t.ink2)
    size = 13.0 if type_.width(title, 13, bold) <= room else 12.0
    lines = type_.wrap(title, theme.metrics(size, bold), room)
    if len(lines) > 1:
        # Two lines of name leave no room for the note; a still longer name goes on in the tooltip.
        note, lines = "", [lines[0], lines[1] if len(lines) == 2 else lines[1].rsplit(" ", 1)[0] + " …"]
    step = theme.scaled(15)
    base = type_.middle(box, size, bold) - step * (len(lines) - 1 + bool(note)) / 2
    for line in lines:
        type_.left(painter, left, base, line, size, ink, bold)
        base += step
    if note:
        type_.left(painter, left, base + 1, note, 12, quiet)


def _lines(painter: QPainter, box: QRectF, index: Index, kind: str) -> None:
    """The thin lines on which a node hangs: down from the one above, a stroke to the node, on to the next."""
    if kind == "group":
        return
    painter.setPen(QPen(theme.tokens().edge, 1))
    middle = round(box.center().y()) + 0.5
    ore = index if kind == "ore" else index.parent()
    x = box.left() + theme.scaled(LINE_ORE) + 0.5
    more = ore.sibling(ore.row() + 1, 0).isValid()
    if kind == "ore":
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom() + 1 if more else middle))
        painter.drawLine(QPointF(x, middle), QPointF(x + theme.scaled(6), middle))
        return
    if more:
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom() + 1))
    x = box.left() + theme.scaled(LINE_RECIPE) + 0.5
    last = not index.sibling(index.row() + 1, 0).isValid()
    painter.drawLine(QPointF(x, box.top()), QPointF(x, middle if last else box.bottom() + 1))
    painter.drawLine(QPointF(x, middle), QPointF(x + theme.scaled(6), middle))
