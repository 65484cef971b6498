"""A part of a page that scrolls up and down where its contents are taller than its room."""

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.menus import scroll_style

BAR = 10


class Scroller(QScrollArea):
    """Put contents into `body`. It asks for the height of its contents and lives with less."""

    def __init__(self, name: str, least: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._least = least
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.sheet = QWidget()
        self.body = QVBoxLayout(self.sheet)
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)
        self.setWidget(self.sheet)
        self.sheet.installEventFilter(self)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.setStyleSheet(scroll_style())
        self.viewport().setAutoFillBackground(False)
        self.sheet.setAutoFillBackground(False)
        self.updateGeometry()

    def content_height(self, width: int) -> int:
        """Height of the contents at a width [px]."""
        if self.body.hasHeightForWidth():
            return self.body.totalHeightForWidth(width)
        return self.body.totalSizeHint().height()

    def content_width(self) -> int:
        """Width below which the contents would be cut [px]."""
        return self.body.totalMinimumSize().width()

    def sizeHint(self) -> QSize:
        """As tall as the contents."""
        wide = max(self.content_width(), self.width())
        return QSize(wide, self.content_height(wide))

    def minimumSizeHint(self) -> QSize:
        """Less than the contents is enough."""
        return QSize(self.content_width(), min(theme.scaled(self._least), self.content_height(self.width())))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Contents that grew or shrank are laid out again."""
        if watched is self.sheet and event.type() == QEvent.Type.LayoutRequest:
            self.lay_out()
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the contents out again."""
        super().resizeEvent(event)
        self.lay_out()
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def lay_out(self) -> None:
        """Give the contents the width of the room, less the bar where one is needed."""
        frame = self.maximumViewportSize()
        width = frame.width()
        tall = self.content_height(width)
        if tall > frame.height():
            width -= BAR
            tall = self.content_height(width)
        self.sheet.resize(width, max(tall, frame.height()))
