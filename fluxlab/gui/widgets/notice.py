"""A sentence that the operator should see, at the foot of the window until it is put away."""

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.words import Words

WIDTH = 620


class Notice(QWidget):
    """One sentence at a time, the latest; it blocks nothing."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 9, 10, 9)
        row.setSpacing(10)
        self._words = Words("", 13)
        self._act = Button("", "quiet")
        self._away = Button("OK", "quiet")
        self._do: Callable[[], object] | None = None
        self._act.clicked.connect(self._take)
        self._away.clicked.connect(self.hide)
        row.addWidget(Mark("close"), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._words, 1)
        row.addWidget(self._act, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self._away, 0, Qt.AlignmentFlag.AlignVCenter)
        self.hide()

    @property
    def sentence(self) -> str:
        """The sentence shown, "" when it was put away."""
        return "" if self.isHidden() else self._words.words

    def say(self, sentence: str, words: str = "", do: Callable[[], object] | None = None) -> None:
        """Show a sentence; with `words`, a button that does something about it."""
        self._words.set_words(sentence)
        self.setAccessibleName(sentence)
        self._do = do
        self._act.setVisible(do is not None)
        self._act.set_words(words)
        self.show()
        self.place()
        self.raise_()

    def place(self) -> None:
        """Stand at the foot of the window, clear of the run."""
        left = theme.scaled(140) + 16
        width = min(theme.scaled(WIDTH), self._window.width() - left - 16)
        buttons = sum(b.sizeHint().width() + 10 for b in (self._act, self._away) if not b.isHidden())
        tall = self._words.heightForWidth(width - buttons - 24 - theme.scaled(14) - 10) + 20
        self.setGeometry(left, self._window.height() - max(tall, theme.scaled(46)) - 14, width, max(tall, 46))

    def _take(self) -> None:
        do, self._do = self._do, None
        self.hide()
        if do is not None:
            do()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts it away."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate."""
        t = theme.tokens()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(t.close, 1))
        painter.setBrush(t.close_tint)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
