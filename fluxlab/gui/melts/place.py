"""The Melts place: an empty frame until melts can be recorded."""

from typing import Protocol, cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.melts.frame import EmptyAxes, EmptyTable, Ring
from fluxlab.gui.tables.page import GAP, Page, PageColumn, Room
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

TITLES = (
    ("Melt", 0.0, False),
    ("Recipe", 0.14, False),
    ("Button, g", 0.38, False),
    ("Slag", 0.6, False),
    ("Min", 0.82, True),
    ("Silver back", 1.0, True),
)
SENTENCE = (
    "This version cannot record a melt yet: keep the stub of the weigh-out ticket, it asks for what will be entered "
    "here."
)


class _Frame(Protocol):
    def go(self, name: str) -> None:
        """Open a place."""


class MeltsPlace(QWidget):
    """Nothing is shown that was not recorded."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.page = Page("Melts", self)
        self.page.add(self._record(), Room(460, 798, 1))
        self.page.add(self._none(), Room(260, 370))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.page)

    def _record(self) -> PageColumn:
        column = PageColumn()
        record = Section("Melt record", "no melts")
        record.body.addWidget(EmptyTable(TITLES))
        record.body.addStretch(1)
        charts = QHBoxLayout()
        charts.setSpacing(GAP)
        for title, note in (("Silver back", "%, by melt"), ("How the ore narrowed", "%, by melt")):
            part = Section(title, note)
            part.body.addWidget(EmptyAxes("melt"))
            charts.addWidget(part, 1)
        column.body.addWidget(record, 3)
        column.body.addSpacing(16)
        column.body.addLayout(charts, 2)
        return column

    def _none(self) -> PageColumn:
        column = PageColumn()
        section = Section("Last melt")
        section.body.addWidget(Ring())
        section.body.addWidget(Words(SENTENCE, 13, tone="ink2"))
        section.body.addSpacing(12)
        self.show_ticket = Button("Show the weigh-out ticket", "solid")
        self.show_ticket.clicked.connect(lambda: cast(_Frame, self.window()).go("Weigh-out"))
        section.body.addWidget(self.show_ticket, 0, Qt.AlignmentFlag.AlignLeft)
        section.body.addStretch(1)
        column.body.addWidget(section, 1)
        return column

    def refresh(self) -> None:
        """Nothing here depends on the bench yet."""

    def commit_pending(self) -> None:
        """Nothing can be typed here yet."""
