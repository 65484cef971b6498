"""The Weigh-out place: the ticket as it will print, what speaks against it, and the way out to paper."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, cast

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.ticket import Ticket, hidden_by, printable
from fluxlab.design.ticket_reckoned import weighed_otherwise
from fluxlab.gui.bridge import Bench
from fluxlab.gui.tables.page import Page, PageColumn, Room
from fluxlab.gui.ticket.paper import PAPERS, Paper, default_paper, paper_of
from fluxlab.gui.weigh import output
from fluxlab.gui.weigh.cautions import CautionList
from fluxlab.gui.weigh.desk import Desk
from fluxlab.gui.weigh.preview import TicketPreview
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.segments import Segments
from fluxlab.gui.widgets.words import Words

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

PAPER_VIEW = "weigh.paper"
LEFT, RIGHT = Room(300, 372, 1), Room(340, 780, 3)


class _Melts(Protocol):
    def begin(self) -> None:
        """Enter a melt for the latest ticket."""


class _Frame(Protocol):
    places: dict[str, _Melts]

    def go(self, name: str) -> None:
        """Open a place."""


class WeighPlace(QWidget):
    """It reads the bench's report; what it changes is only which blocks are confirmed and what has been printed."""

    def __init__(self, bench: Bench, parent: QWidget | None = None, desk: Desk | None = None) -> None:
        super().__init__(parent)
        self.bench, self.desk = bench, desk or Desk(bench)
        self.paper = default_paper()
        self.ask_path: Callable[[QWidget, str], Path | None] = output.ask_path
        self.ask_printer: Callable[[QWidget, Callable[[str], object]], QPrinter | None] = output.ask_printer
        self.ticket: Ticket | None = None
        self.issued = Words("", 13, tone="ink2")
        self.keeps = Words("", 12, tone="ink2")
        self.rounding = Words("", 12, tone="ink2")
        self.papers = Segments("Paper", [(paper.key, paper.name) for paper in PAPERS])
        self.papers.chosen.connect(self.choose_paper)
        self.cautions = CautionList()
        self.cautions.confirmed.connect(self._confirm)
        self.waiting = Words("", 13, tone="no")
        self.done = Words("", 13, tone="ink2")
        self.print_button = Button("Print", "solid", "printer")
        self.pdf_button = Button("Save PDF", "quiet")
        self.print_button.clicked.connect(self.print_)
        self.pdf_button.clicked.connect(self.save_pdf)
        self.out_button = Button("Record what came out", "text")
        self.out_button.clicked.connect(self._record_melt)
        self.size_button = Button("Larger", "text")
        self.size_button.clicked.connect(self._toggle_size)
        self.preview = TicketPreview()
        self.closed_words = Words("", 14, tone="no", room=420)
        self.closed = _beside_mark(self.closed_words)
        self.page = Page("Weigh-out", self)
        self.page.add(self._left(), LEFT)
        self.page.add(self._right(), RIGHT)
        row = QVBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.page)
        self.setFocusProxy(self.print_button)
        shortcut = QShortcut(QKeySequence(QKeySequence.StandardKey.Print), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.print_)
        bench.changed.connect(self._changed)
        bench.kept.connect(self._changed)
        self.papers.set_current(self.paper.key)
        self.refresh()

    def _left(self) -> PageColumn:
        column = PageColumn()
        ticket = Section("Ticket")
        ticket.body.addWidget(self.issued)
        ticket.body.addWidget(self.keeps)
        ticket.body.addWidget(self.rounding)
        ticket.body.addSpacing(8)
        ticket.body.addWidget(self.papers, 0, Qt.AlignmentFlag.AlignLeft)
        scroller = Scroller("Cautions", 120)
        cautions = Section("Before it is weighed out")
        cautions.body.addWidget(self.cautions)
        scroller.body.addWidget(cautions)
        scroller.body.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(10)
        buttons.addWidget(self.print_button)
        buttons.addWidget(self.pdf_button)
        buttons.addStretch(1)
        column.body.addWidget(ticket)
        column.body.addSpacing(22)
        column.body.addWidget(scroller, 1)
        column.body.addSpacing(8)
        for words in (self.waiting, self.done):
            column.body.addWidget(words)
        column.body.addWidget(self.out_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.body.addSpacing(6)
        column.body.addLayout(buttons)
        column.body.addSpacing(14)
        return column

    def _right(self) -> PageColumn:
        column = PageColumn()
        self.preview_section = Section("As it will print", tools=(self.size_button,))
        self.preview_section.body.addSpacing(4)
        self.preview_section.body.addWidget(self.closed)
        self.preview_section.body.addWidget(self.preview, 1)
        column.body.addWidget(self.preview_section, 1)
        column.body.addSpacing(14)
        return column

    def _changed(self) -> None:
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the ticket of the recipe as it is now."""
        ticket = self.desk.ticket(datetime.now())
        self.ticket = ticket
        blocks, shut = printable(ticket), hidden_by(ticket)
        self.issued.set_words(ticket.issued[0].upper() + ticket.issued[1:])
        self.cautions.show_ticket(ticket, self.bench.report.cautions)
        titles = ", ".join(block.title for block in blocks)
        self.waiting.set_words(f"Not yet: {titles}." if blocks else "")
        self.waiting.setVisible(bool(blocks))
        self.done.setVisible(bool(self.done.words))
        self.out_button.setVisible(bool(self.done.words) and self.bench.library is not None)
        first = self.desk.saves_first
        self.keeps.set_words(f"The recipe is kept as revision {ticket.revision} when it goes out." if first else "")
        self.keeps.setVisible(first)
        otherwise = weighed_otherwise(self.bench.report, ticket.rows, ticket.decimals, ticket.mark)
        self.rounding.set_words(otherwise)
        self.rounding.setVisible(bool(otherwise))
        self.print_button.set_words(f"Print copy {ticket.copy}")
        for button in (self.print_button, self.pdf_button):
            button.setEnabled(not blocks)
            button.setToolTip(f"Stopped by: {titles}" if blocks else "")
        self.closed_words.set_words(
            "The ticket stays shut. " + " ".join(block.sentence for block in shut) if shut else ""
        )
        self.closed.setVisible(bool(shut))
        self.preview.setVisible(not shut)
        self.size_button.setVisible(not shut)
        self.preview.show_ticket(None if shut else ticket, self.paper)
        pages = self.preview.pages
        note = self.paper.name + (f", {pages} pages" if pages > 1 else "")
        self.preview_section.set_note("" if shut else f"{note}, not yet confirmed" if blocks else note)

    def commit_pending(self) -> None:
        """Nothing is typed here."""

    def put_back(self, views: dict[str, str]) -> None:
        """Use the paper that was used last."""
        paper = paper_of(views.get(PAPER_VIEW, ""))
        if paper is not None:
            self._use(paper)

    def left_at(self) -> dict[str, str]:
        """The paper in use, for the next start."""
        return {PAPER_VIEW: self.paper.key}

    def choose_paper(self, key: str) -> None:
        """Use another paper."""
        paper = paper_of(key)
        if paper is not None and paper is not self.paper:
            self._use(paper)

    def _use(self, paper: Paper) -> None:
        self.paper = paper
        self.papers.set_current(paper.key)
        self.refresh()

    def _confirm(self, rule: str, on: bool) -> None:
        self.desk.confirm(rule, on)
        self.refresh()

    def _toggle_size(self) -> None:
        self.preview.set_wide(not self.preview.wide)
        self.size_button.set_words("Whole page" if self.preview.wide else "Larger")

    def print_(self) -> None:
        """Ask for a printer and print the next copy."""
        if self.ticket is None or printable(self.ticket):
            return
        printer = self.ask_printer(self, self._say)
        if printer is None:
            return
        problem = output.paper_problem(printer, self.paper)
        if problem:
            self._say(problem)
            return
        self._issue(partial(output.print_on, printer, self.paper, self._say), f"printed on {printer.printerName()}")

    def save_pdf(self) -> None:
        """Ask for a place and write the next copy there as a PDF."""
        if self.ticket is None or printable(self.ticket):
            return
        ticket = self.ticket
        path = self.ask_path(self, f"{ticket.title}, {ticket.recipe}, ticket {ticket.number}")
        if path is not None:
            self._issue(partial(output.save_at, path, self.paper, self._say), f"saved as {path}")

    def _issue(self, put: Callable[[Ticket], bool], how: str) -> None:
        ticket = self.desk.issue(put)
        if ticket is not None:
            said = f"Ticket {ticket.number} {how} at {ticket.when:%H:%M}."
            asked = any(caution.confirmed for caution in ticket.cautions)
            self.done.set_words(f"{said} The next copy asks for its confirmations again." if asked else said)
        self.refresh()

    def _record_melt(self) -> None:
        """Go on to the melt of the ticket that has just gone out."""
        frame = cast(_Frame, self.window())
        frame.go("Melts")
        frame.places["Melts"].begin()

    def _say(self, sentence: str) -> None:
        self.bench.refused.emit(sentence)


def _beside_mark(words: Words) -> QWidget:
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 8, 0, 0)
    layout.setSpacing(9)
    layout.addWidget(Mark("no"), 0, Qt.AlignmentFlag.AlignTop)
    layout.addWidget(words, 1)
    return row
