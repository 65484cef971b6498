"""The ticket of a jar of mixed flux on a plate: preview, cautions, print and PDF."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.batch import BatchRow
from fluxlab.design.batch_cautions import batch_cautions
from fluxlab.design.recipe import Shelf
from fluxlab.design.ticket import Ticket, build_batch, hidden_by, printable
from fluxlab.design.ticket_rows import holds
from fluxlab.gui import theme
from fluxlab.gui.ticket.paper import PAPERS, default_paper, paper_of
from fluxlab.gui.weigh import output
from fluxlab.gui.weigh.cautions import CautionList
from fluxlab.gui.weigh.preview import TicketPreview
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.segments import Segments
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words
from fluxlab.materials.flux_types import Component

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

LOOK, WIDE, HIGH = 330, 340, 450


def open_batch_ticket(
    shelf: Shelf, window: QWidget, beside: QWidget, jar: Component, rows: tuple[BatchRow, ...]
) -> "BatchTicket":
    """Open the plate beside a part of the window."""
    plate = BatchTicket(jar, rows, shelf, window)
    plate.open_at(beside)
    return plate


class BatchTicket(Panel):
    """The plate. It changes nothing on the shelf."""

    def __init__(self, jar: Component, rows: tuple[BatchRow, ...], shelf: Shelf, window: QWidget) -> None:
        super().__init__(f"Batch ticket of {jar.name}", window)
        self._jar, self._rows, self._shelf = jar, rows, shelf
        self._apart = [row.flux for row in rows if (part := shelf.flux(row.flux)) and holds(part, "nitrate", shelf)]
        self._cautions = batch_cautions(rows, shelf)
        self._confirmed: frozenset[str] = frozenset()
        self.copy = 1
        self.paper = default_paper()
        self.ask_path: Callable[[QWidget, str], Path | None] = output.ask_path
        self.ask_printer: Callable[[QWidget, Callable[[str], object]], QPrinter | None] = output.ask_printer
        self.papers = Segments("Paper", [(paper.key, paper.name) for paper in PAPERS])
        self.papers.set_current(self.paper.key)
        self.papers.chosen.connect(self._choose)
        self.list = CautionList()
        self.list.confirmed.connect(self._confirm)
        self.preview = TicketPreview()
        self.preview.setFixedSize(theme.scaled(LOOK), min(theme.scaled(HIGH), window.height() - 40))
        self.print_button = Button("Print", "solid", "printer")
        self.pdf_button = Button("Save PDF", "quiet")
        self.print_button.clicked.connect(self.print_)
        self.pdf_button.clicked.connect(self.save_pdf)
        self.done = Words("", 12, tone="ink2", room=WIDE)
        buttons = QHBoxLayout()
        buttons.addWidget(self.print_button)
        buttons.addWidget(self.pdf_button)
        buttons.addStretch(1)
        scroller = Scroller("Cautions", 60)
        scroller.setFixedWidth(theme.scaled(WIDE))
        scroller.body.addWidget(self.list)
        scroller.body.addStretch(1)
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(Words(f"Batch of {jar.name}", 14, bold=True))
        right.addWidget(self.papers, 0, Qt.AlignmentFlag.AlignLeft)
        right.addWidget(scroller, 1)
        right.addWidget(self.done)
        right.addLayout(buttons)
        both = QHBoxLayout()
        both.setSpacing(16)
        both.addWidget(self.preview)
        both.addLayout(right)
        self.body.addLayout(both)
        self._show()

    def ticket(self) -> Ticket:
        """The ticket as it would go out now."""
        return build_batch(
            self._jar.name,
            self._rows,
            step=self._shelf.balance_step,
            copy=self.copy,
            when=datetime.now(),
            apart=self._apart,
            cautions=self._cautions,
            confirmed=self._confirmed,
            mark=QLocale().decimalPoint(),
        )

    def _show(self) -> None:
        ticket = self.ticket()
        self.list.show_ticket(ticket, self._cautions)
        blocked = bool(printable(ticket))
        self.print_button.setEnabled(not blocked)
        self.pdf_button.setEnabled(not blocked)
        self.preview.show_ticket(None if hidden_by(ticket) else ticket, self.paper)
        self.done.setVisible(bool(self.done.words))
        self.adjustSize()

    def _choose(self, key: str) -> None:
        self.paper = paper_of(key) or self.paper
        self._show()

    def _confirm(self, rule: str, on: bool) -> None:
        self._confirmed = self._confirmed | {rule} if on else self._confirmed - {rule}
        self._show()

    def print_(self) -> None:
        """Ask for a printer and print."""
        printer = self.ask_printer(self, self._say)
        if printer is None:
            return
        problem = output.paper_problem(printer, self.paper)
        if problem:
            self._say(problem)
        else:
            self._put(partial(output.print_on, printer, self.paper, self._say), f"printed on {printer.printerName()}")

    def save_pdf(self) -> None:
        """Ask for a place and write a PDF there."""
        path = self.ask_path(self, f"{self._jar.name}, batch ticket {self.copy}")
        if path is not None:
            self._put(partial(output.save_at, path, self.paper, self._say), f"saved as {path}")

    def _put(self, put: Callable[[Ticket], bool], how: str) -> None:
        ticket = self.ticket()
        if printable(ticket) or not put(ticket):
            return
        self.copy += 1
        self._confirmed = frozenset()
        self.done.set_words(f"Copy {ticket.copy} {how} at {ticket.when:%H:%M}.")
        self._show()

    def _say(self, sentence: str) -> None:
        whisper(self.print_button, sentence)
