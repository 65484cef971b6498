"""A sentence that appears beside what it speaks of and leaves again: a refused entry, a small answer."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

WIDTH = 300
STAYS_MS = 9000


class Whisper(QWidget):
    """The sentence itself, laid over the window; it takes no key and no click."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.sentence = ""
        self._lines: list[str] = []
        self._away = QTimer(self, singleShot=True, interval=STAYS_MS)
        self._away.timeout.connect(self.hide)

    def say(self, sentence: str, beside: QWidget, at: QPoint | None = None) -> None:
        """Show `sentence` under `beside`, or under the point `at` of it, inside the window."""
        self.sentence = sentence
        self.setAccessibleName(sentence)
        self._lines = type_.wrap(sentence, theme.metrics(12), theme.scaled(WIDTH) - 20)
        self.resize(self.sizeHint())
        window = self._window
        place = beside.mapTo(window, at if at is not None else QPoint(0, beside.height() + 4))
        x = max(4, min(place.x(), window.width() - self.width() - 4))
        y = place.y()
        if y + self.height() > window.height() - 4:
            y = max(4, y - self.height() - beside.height() - 8)
        self.move(x, y)
        self.raise_()
        self.show()
        self.update()
        self._away.start()

    def sizeHint(self) -> QSize:
        """As large as the wrapped sentence."""
        wide = max((type_.width(line, 12) for line in self._lines), default=0)
        return QSize(round(wide) + 21, len(self._lines) * theme.scaled(16) + 12)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sentence on a plate."""
        t = theme.tokens()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(t.no, 1))
        painter.setBrush(t.no_tint)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
        type_.paragraph(painter, 10, theme.scaled(16) + 1, self._lines, 12, t.no, theme.scaled(16))


def whisper(beside: QWidget, sentence: str, at: QPoint | None = None) -> None:
    """Say `sentence` beside a widget; an empty sentence takes the last one away."""
    window = beside.window()
    found = window.findChild(Whisper, options=Qt.FindChildOption.FindDirectChildrenOnly)
    if not isinstance(found, Whisper):
        if not sentence:
            return
        found = Whisper(window)
    if sentence:
        found.say(sentence, beside, at)
    else:
        found.hide()
