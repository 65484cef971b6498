"""The ticket on the screen as it will print, page by page."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from fluxlab.design.ticket import Ticket
from fluxlab.design.ticket_text import text_of
from fluxlab.gui import theme
from fluxlab.gui.ticket.layout import Layout, lay_out
from fluxlab.gui.ticket.paper import Paper
from fluxlab.gui.widgets.menus import scroll_style

MARGIN, GAP = 14, 14
SMALLEST, ROLL = 1.9, 4.0
_WHITE = QColor(255, 255, 255)


class _Pages(QWidget):
    def __init__(self) -> None:
        super().__init__()
        self.layout_: Layout | None = None
        self.scale = 3.0
        self.columns = 1

    def size_for(self, scale: float, columns: int) -> QSize:
        if self.layout_ is None:
            return QSize(0, 0)
        rows = -(-len(self.layout_.pages) // columns)
        wide = columns * self.layout_.width * scale + (columns - 1) * GAP + 2 * MARGIN
        high = rows * self.layout_.height * scale + (rows - 1) * GAP + 2 * MARGIN
        return QSize(round(wide), round(high))

    def paintEvent(self, event: QPaintEvent) -> None:
        layout = self.layout_
        if layout is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        wide, high = layout.width * self.scale, layout.height * self.scale
        used = self.size_for(self.scale, self.columns).width() - 2 * MARGIN
        start = max(float(MARGIN), (self.width() - used) / 2.0)
        for page in range(len(layout.pages)):
            x = start + (page % self.columns) * (wide + GAP)
            y = MARGIN + (page // self.columns) * (high + GAP)
            sheet = QRectF(x, y, wide, high)
            if not sheet.intersects(QRectF(event.rect())):
                continue
            painter.fillRect(sheet, _WHITE)
            painter.setPen(QPen(theme.tokens().edge, 1))
            painter.drawRect(sheet)
            painter.save()
            painter.setClipRect(sheet)
            painter.translate(x, y)
            painter.scale(self.scale, self.scale)
            layout.draw(painter, page)
            painter.restore()


class TicketPreview(QScrollArea):
    """Pages side by side at the size at which a whole page shows, or as wide as the room when `wide`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(theme.scaled(240), theme.scaled(240))
        self.setAccessibleName("Ticket preview")
        self.wide = False
        self._roll = False
        self._pages = _Pages()
        self.setWidget(self._pages)
        self._pages.setAutoFillBackground(False)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    @property
    def pages(self) -> int:
        """How many pages are shown."""
        return 0 if self._pages.layout_ is None else len(self._pages.layout_.pages)

    def show_ticket(self, ticket: Ticket | None, paper: Paper) -> None:
        """Show a ticket on a paper; None takes it away."""
        self._roll = paper.height is None
        self._pages.layout_ = None if ticket is None else lay_out(ticket, paper)
        self.setAccessibleDescription("" if ticket is None else text_of(ticket))
        self._fit()

    def set_wide(self, wide: bool) -> None:
        """Show a page as wide as the room, or whole."""
        self.wide = wide
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the pages to the room."""
        super().resizeEvent(event)
        self._fit()

    def _redress(self) -> None:
        self.setStyleSheet(scroll_style() + f"TicketPreview {{ background: {theme.tokens().tray.name()}; }}")
        self.viewport().setAutoFillBackground(False)
        self._pages.update()

    def _fit(self) -> None:
        layout = self._pages.layout_
        if layout is None:
            self._pages.resize(0, 0)
            return
        room = self.maximumViewportSize()
        across, down = room.width() - 2.0 * MARGIN, room.height() - 2.0 * MARGIN
        whole = min(across / layout.width, down / layout.height)
        scale = across / layout.width if self.wide else max(whole, min(SMALLEST, across / layout.width))
        if self._roll and not self.wide:
            scale = min(across / layout.width, ROLL)
        columns = max(1, min(len(layout.pages), int((across + GAP) / (layout.width * scale + GAP))))
        if self._pages.size_for(scale, columns).height() > room.height():
            scale *= max(0.5, (across - 12.0) / across) if scale * layout.width > across - 12.0 else 1.0
        self._pages.scale, self._pages.columns = scale, columns
        size = self._pages.size_for(scale, columns)
        self._pages.resize(max(size.width(), room.width() - 12), max(size.height(), room.height()))
        self._pages.update()
