"""Plates that answer a question about the recipe: the ways out, and the reasons."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from fluxlab.design.plain_types import Mend
from fluxlab.gui import theme
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words

if TYPE_CHECKING:
    from fluxlab.design.offer_types import Offer
    from fluxlab.design.why_types import WhyReport

WIDTH = 420
NO_WAY = "Everything asked for holds, and no jar is empty: there is nothing to mend."
STUCK = "No single change was found that lets everything hold. Turn a must into a wish, or ask for less."


class Plate(Panel):
    """A plate with a title, a line under it, and rows that scroll where they are many."""

    mended = Signal(object)

    def __init__(self, title: str, note: str, window: QWidget) -> None:
        super().__init__(title, window)
        self._tallest = window.height() - theme.scaled(160)
        self.body.addWidget(Words(title, 14, bold=True))
        if note:
            self.body.addWidget(Words(note, 13, tone="ink2", room=WIDTH))
        self.rows = Scroller(title, 120)

    def finish(self) -> None:
        """Take the rows in, as tall as they are or as the window allows."""
        self.rows.body.addStretch(1)
        wide = theme.scaled(WIDTH) + 30
        self.rows.setFixedWidth(wide)
        self.rows.setFixedHeight(min(self.rows.content_height(wide - 10), self._tallest))
        self.body.addWidget(self.rows)

    def add_mend(self, sentence: str, mend: Mend) -> None:
        """A sentence with the button that does what it says."""
        block = QVBoxLayout()
        block.setSpacing(3)
        block.addWidget(Words(sentence, 13, room=WIDTH))
        button = Button(mend.words, "quiet")
        button.setAccessibleDescription(sentence)
        button.clicked.connect(lambda: self._mend(mend))
        block.addWidget(button)
        self.rows.body.addLayout(block)
        self.rows.body.addSpacing(8)

    def add_part(self, title: str, lines: Iterator[tuple[str, str]]) -> None:
        """A titled part of lines, each a name in bold over its sentence; left out where there is none."""
        found = list(lines)
        if not found:
            return
        self.rows.body.addWidget(Words(title, 13, bold=True, room=WIDTH))
        for name, sentence in found:
            said = f"{name}: {sentence}" if name else sentence
            self.rows.body.addWidget(Words(said, 12, tone="ink2", room=WIDTH))
        self.rows.body.addSpacing(8)

    def _mend(self, mend: Mend) -> None:
        self.shut()
        self.mended.emit(mend)


class WaysOut(Plate):
    """Every single change that lets what is asked for hold, each with its button."""

    def __init__(self, offers: "tuple[Offer, ...]", fighting: bool, window: QWidget) -> None:
        note = "" if offers else STUCK if fighting else NO_WAY
        super().__init__("Ways out", note, window)
        for offer in offers:
            self.add_mend(offer.sentence, offer.mend)
        if offers:
            self.finish()


class Why(Plate):
    """Why the recipe is as it is: flux by flux, limit by limit, oxide by oxide."""

    def __init__(self, why: "WhyReport", window: QWidget) -> None:
        super().__init__("Why this recipe", "What holds each flux, and what it would take to move it.", window)
        self.add_part("Each flux", ((line.name, line.sentence) for line in why.lines))
        self.add_part("What opening a limit buys", (("", limit.sentence) for limit in why.limits))
        self.add_part("One more gram in the charge", (("", oxide.sentence) for oxide in why.oxides))
        self.finish()
