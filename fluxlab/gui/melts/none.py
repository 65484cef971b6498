"""The right column while there is no melt: one sentence and one button."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.glyph import WORDS, glyph_at
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

WITH_TICKET = "No melt of this ore type is on record: write down what came out, and the next one starts from it."
WITHOUT = "A melt is recorded against its ticket, and none was printed for this ore type yet."


class Ring(QWidget):
    """The dashed ring with its words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(WORDS["unknown"])
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """One line."""
        return QSize(200, theme.scaled(36))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw glyph and words."""
        painter = QPainter(self)
        t = theme.tokens()
        box = QRectF(self.rect())
        size = theme.scaled(18)
        glyph_at(painter, 0, box.center().y(), size, "unknown", t)
        type_.left(painter, size + 8, type_.middle(box, 18, True), WORDS["unknown"], 18, t.ink2, True)


class NoMelt(Section):
    """Nothing is shown that was not recorded."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Last melt", "", (), parent)
        self.sentence = Words("", 13, tone="ink2")
        self.record = Button("Record a melt", "solid")
        self.show_ticket = Button("Show the weigh-out ticket", "solid")
        self.body.addWidget(Ring())
        self.body.addWidget(self.sentence)
        self.body.addSpacing(12)
        holder = QWidget()
        row = QVBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        for button in (self.record, self.show_ticket):
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addWidget(holder)
        self.show_tickets(False)

    def show_tickets(self, there: bool) -> None:
        """Offer to record a melt where there is a ticket, else the way to one."""
        self.sentence.set_words(WITH_TICKET if there else WITHOUT)
        self.record.setVisible(there)
        self.show_ticket.setVisible(not there)
