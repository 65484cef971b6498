"""A page of columns: side by side where there is room, else one row under the other, scrolled where need be."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QVBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.menus import scroll_style

TOP, MARGIN, GAP, BAR = 14, 16, 21, 11


class PageColumn(QWidget):
    """One column; put sections into `body`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)

    def least_height(self, width: int) -> int:
        """Height below which something would be cut [px]."""
        if self.body.hasHeightForWidth():
            return self.body.totalMinimumHeightForWidth(width)
        return self.body.totalMinimumSize().height()

    def liked_height(self, width: int) -> int:
        """Height at which nothing scrolls [px]."""
        if self.body.hasHeightForWidth():
            return self.body.totalHeightForWidth(width)
        return self.body.totalSizeHint().height()


@dataclass(frozen=True, slots=True)
class Room:
    """What a column asks for in px of the grid: least and liked width, share of what is left over."""

    least: int
    liked: int
    stretch: int = 0


def rows_of(rooms: list[Room], width: int, gap: int) -> list[list[int]]:
    """Which columns stand side by side in `width` px: as many as their least widths allow, in order."""
    rows: list[list[int]] = []
    used = 0
    for i, room in enumerate(rooms):
        if rows and used + gap + room.least <= width:
            rows[-1].append(i)
            used += gap + room.least
        else:
            rows.append([i])
            used = room.least
    return rows


def widths_of(rooms: list[Room], width: int, gap: int) -> list[int]:
    """Widths of columns that share one row [px]: the liked widths, squeezed evenly or stretched by their shares."""
    spare = width - gap * (len(rooms) - 1) - sum(room.liked for room in rooms)
    if spare >= 0:
        whole = sum(room.stretch for room in rooms)
        if not whole:
            return [room.liked + spare // len(rooms) for room in rooms]
        return [room.liked + spare * room.stretch // whole for room in rooms]
    give = sum(room.liked - room.least for room in rooms)
    part = min(1.0, -spare / give) if give else 0.0
    return [round(room.liked - part * (room.liked - room.least)) for room in rooms]


class _Scrolling(QScrollArea):
    """A column that scrolls by itself; its bar stands in the gap beside it."""

    def __init__(self, column: PageColumn, parent: QWidget) -> None:
        super().__init__(parent)
        self.column, self._sheet = column, parent
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(column)
        column.setAutoFillBackground(False)
        column.installEventFilter(self)

    def dress(self) -> None:
        """Take the colours in force."""
        self.setStyleSheet(scroll_style())
        self.viewport().setAutoFillBackground(False)

    def place(self, x: int, y: int, width: int, height: int) -> None:
        """Lay the column out, never lower than it can be without cutting anything."""
        self.setGeometry(x, y, width + BAR, height)
        self.column.resize(width, max(height, self.column.least_height(width)))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A part that grew or shrank lays the page out again."""
        if watched is self.column and event.type() == QEvent.Type.LayoutRequest:
            QApplication.postEvent(self._sheet, QEvent(QEvent.Type.LayoutRequest))
        return super().eventFilter(watched, event)


class Page(QScrollArea):
    """The page itself. Side by side, each column scrolls alone; under each other, the page scrolls."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(False)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._columns: list[tuple[_Scrolling, Room]] = []
        self._sheet = QWidget()
        self._sheet.installEventFilter(self)
        self.setWidget(self._sheet)
        self._sheet.setAutoFillBackground(False)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def add(self, column: PageColumn, room: Room) -> None:
        """Add a column at the right."""
        self._columns.append((_Scrolling(column, self._sheet), room))
        self._redress()

    def _redress(self) -> None:
        self.setStyleSheet(scroll_style())
        self.viewport().setAutoFillBackground(False)
        for column, _ in self._columns:
            column.dress()
        self._lay_out()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A part that grew or shrank lays the page out again."""
        if watched is self._sheet and event.type() == QEvent.Type.LayoutRequest:
            self._lay_out()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the page out again."""
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        if not self._columns:
            return
        rooms = [Room(theme.scaled(room.least), theme.scaled(room.liked), room.stretch) for _, room in self._columns]
        frame = self.maximumViewportSize()
        width = max(frame.width() - 2 * MARGIN, *(room.least for room in rooms))
        rows = rows_of(rooms, width, GAP)
        if len(rows) > 1:
            width = max(width - BAR, *(room.least for room in rooms))
            rows = rows_of(rooms, width, GAP)
        top = TOP
        for row in rows:
            wide = widths_of([rooms[i] for i in row], width, GAP)
            columns = [self._columns[i][0] for i in row]
            liked = max(c.column.liked_height(w) for c, w in zip(columns, wide, strict=True))
            high = frame.height() - TOP if len(rows) == 1 else liked
            x = MARGIN
            for column, w in zip(columns, wide, strict=True):
                column.place(x, top, w, high)
                x += w + GAP
            top += high + (TOP if len(rows) > 1 else 0)
        self._sheet.resize(width + 2 * MARGIN, top)
