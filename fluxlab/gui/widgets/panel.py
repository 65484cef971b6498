"""A plate over the page for an editor or an explanation; it blocks nothing, Escape or a click elsewhere closes it."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from fluxlab.gui import theme


def _takes_tab(widget: QWidget) -> bool:
    return widget.isEnabled() and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


class Panel(QWidget):
    """The plate. Put contents into `body`; `open_at` shows it beside a rectangle of another widget."""

    closed = Signal()

    def __init__(self, name: str, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._came_from: QWidget | None = None
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(14, 10, 14, 12)
        self.body.setSpacing(6)

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the plate under `rect` of `beside`, above it or beside it when there is no room, inside the window."""
        self._came_from = QApplication.focusWidget()
        self.adjustSize()
        box = rect if rect is not None else beside.rect()
        foot = beside.mapTo(self._window, box.bottomLeft() + QPoint(0, 4))
        head = beside.mapTo(self._window, box.topLeft() - QPoint(0, 4))
        x = max(4, min(foot.x(), self._window.width() - self.width() - 4))
        y = foot.y()
        if y + self.height() > self._window.height() - 4:
            y = head.y() - self.height()
        lowest = self._window.height() - self.height() - 4
        # what it belongs to may be scrolled out of sight
        self.move(x, max(4, lowest if y < 4 else min(y, lowest)))
        self.show()
        self.raise_()
        app = QApplication.instance()
        if app is not None:
            app.installEventFilter(self)
        first = next((w for w in self.findChildren(QWidget) if w.isVisible() and _takes_tab(w)), self)
        first.setFocus(Qt.FocusReason.TabFocusReason)

    def shut(self, give_back: bool = True) -> None:
        """Close the plate; the focus goes back to where it was."""
        if self.isHidden():
            return
        app = QApplication.instance()
        if app is not None:
            app.removeEventFilter(self)
        if give_back and self._came_from is not None and self._came_from.isVisible():
            self._came_from.setFocus()
        self.hide()
        self.closed.emit()
        self.deleteLater()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A click elsewhere in the window closes the plate and does its own work too."""
        if event.type() == QEvent.Type.MouseButtonPress and isinstance(event, QMouseEvent):
            inside = QRect(self.mapToGlobal(QPoint(0, 0)), self.size()).contains(event.globalPosition().toPoint())
            popup = QApplication.activePopupWidget()
            if not inside and popup is None:
                self.shut(give_back=False)
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes."""
        if event.key() == Qt.Key.Key_Escape:
            self.shut()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate."""
        t = theme.tokens()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(t.ink, 1))
        painter.setBrush(t.sheet)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
        painter.fillRect(QRectF(0, 0, self.width(), 2), t.ink)
