"""The line across the top: what lies on the bench, undo and redo by name, save, the menu."""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.run.run import BAND_LEFT, LABEL_LEFT, WIDTH
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button, icon_button

HEIGHT = 44


class Title(QWidget):
    """Ore in bold, then route and charge, then the state of the revision; each part as far as there is room."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.parts = ("", "", "")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def set_parts(self, ore: str, plan: str, state: str) -> None:
        """Show the three parts."""
        if (ore, plan, state) != self.parts:
            self.parts = (ore, plan, state)
            words = " · ".join(part for part in self.parts if part)
            self.setAccessibleName(words)
            self.setToolTip(words)
            self.update()

    def sizeHint(self) -> QSize:
        """Takes what is left."""
        return QSize(100, theme.scaled(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the parts that fit whole; the tooltip has them all."""
        painter = QPainter(self)
        t = theme.tokens()
        box = QRectF(self.rect())
        x = 0.0
        for words, size, bold, colour in zip(
            self.parts, (15, 13, 12), (True, False, False), (t.ink, t.ink, t.ink2), strict=True
        ):
            if not words:
                continue
            if x and x + type_.width(words, size, bold) > box.width():
                break
            x = type_.left(painter, x, type_.middle(box, 15), words, size, colour, bold) + 12


class TopLine(QWidget):
    """The top line with the mark of the program over the run."""

    undo = Signal()
    redo = Signal()
    save = Signal()
    menu = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Title(self)
        self.undo_button = Button("", "text", "undo", self)
        self.redo_button = icon_button("redo", "Redo", self)
        self.save_button = Button("Save", "solid", parent=self)
        self.menu_button = icon_button("menu", "Menu", self)
        self.undo_button.clicked.connect(self.undo)
        self.redo_button.clicked.connect(self.redo)
        self.save_button.clicked.connect(self.save)
        self.menu_button.clicked.connect(self.menu)
        self.save_button.hide()
        self._row = QHBoxLayout(self)
        self._row.setSpacing(6)
        self._row.addWidget(self.title, 1)
        for button in (self.undo_button, self.redo_button, self.save_button, self.menu_button):
            self._row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
        self._redress()
        self.set_steps(None, None)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self._row.setContentsMargins(theme.scaled(WIDTH) + 16, 0, 14, 0)
        self.update()

    def set_steps(self, undo: str | None, redo: str | None) -> None:
        """Name the steps that undo and redo would take."""
        for button, step, verb in ((self.undo_button, undo, "Undo"), (self.redo_button, redo, "Redo")):
            button.setEnabled(step is not None)
            words = verb if step is None else f"{verb}: {step}"
            button.setToolTip(words)
            button.setAccessibleName(words)
        room = 26
        self.undo_button.set_words("" if undo is None or len(undo) > 2 * room else undo)

    def set_save(self, words: str) -> None:
        """Show the save button with these words; none hides it."""
        self.save_button.setVisible(bool(words))
        if words:
            self.save_button.set_words(words)

    def let_lead(self, save: bool) -> None:
        """One solid button a page: saving leads unless the page has a button of its own that does."""
        self.save_button.set_look("solid" if save else "quiet")

    def sizeHint(self) -> QSize:
        """44 px high."""
        return QSize(800, theme.scaled(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the tray, its edge and the mark: a button on its line."""
        painter = QPainter(self)
        t = theme.tokens()
        painter.fillRect(self.rect(), t.tray)
        painter.fillRect(QRectF(theme.scaled(WIDTH), self.height() - 1, self.width(), 1), t.rule)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(t.ink)
        middle = self.height() / 2
        painter.drawEllipse(QRectF(BAND_LEFT + 5, middle - 10, 15, 15))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(QRectF(BAND_LEFT, middle + 8, 25, 2), t.ink)
        type_.left(painter, theme.scaled(LABEL_LEFT), type_.middle(QRectF(self.rect()), 15), "fluxlab", 15, t.ink, True)
