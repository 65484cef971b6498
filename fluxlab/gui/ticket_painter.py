"""The ticket on paper: pages for the screen, a PDF file, or a printer.

Usable without a window: `write_pdf` starts what it needs of Qt by itself.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QGuiApplication, QPagedPaintDevice, QPageLayout, QPageSize, QPainter, QPdfWriter

from fluxlab.design.ticket import Ticket, TicketCaution, printable
from fluxlab.gui import theme
from fluxlab.gui.ticket.layout import Layout, lay_out
from fluxlab.gui.ticket.paper import PAPERS, Paper, default_paper, paper_of
from fluxlab.store.files import write_atomic

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

__all__ = [
    "PAPERS",
    "Layout",
    "Paper",
    "TicketBlocked",
    "default_paper",
    "lay_out",
    "paper_of",
    "pdf_bytes",
    "print_ticket",
    "write_pdf",
]

_PDF_DPI = 1200
_MM_PER_INCH = 25.4
_standing: list[QGuiApplication] = []


class TicketBlocked(Exception):  # noqa: N818 (the blocks are what matters)
    """The ticket may not go out: `blocks` are still outstanding."""

    def __init__(self, blocks: tuple[TicketCaution, ...]) -> None:
        titles = ", ".join(block.title for block in blocks)
        super().__init__(f"The ticket is stopped by: {titles}.")
        self.blocks = blocks


def write_pdf(ticket: Ticket, path: Path, paper: Paper) -> None:
    """Write a ticket as a PDF file, whole or not at all.

    Raises TicketBlocked while a block is outstanding, and StoreProblem with a sentence when the disk refuses.
    """
    write_atomic(path, pdf_bytes(ticket, paper), "save the ticket as")


def pdf_bytes(ticket: Ticket, paper: Paper) -> bytes:
    """A ticket as a PDF document. Raises TicketBlocked while a block is outstanding."""
    _refuse_blocked(ticket)
    _ensure_qt()
    layout = lay_out(ticket, paper)
    content = QByteArray()
    buffer = QBuffer(content)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_PDF_DPI)
    writer.setTitle(f"Weigh-out ticket {ticket.number}: {ticket.title}, {ticket.recipe}")
    writer.setCreator("fluxlab")
    _set_page(writer, layout, paper)
    _paint(writer, layout, _PDF_DPI / _MM_PER_INCH)
    buffer.close()
    return bytes(content.data())


def print_ticket(ticket: Ticket, printer: "QPrinter", paper: Paper) -> bool:
    """Whether the printer took the ticket. Raises TicketBlocked while a block is outstanding."""
    _refuse_blocked(ticket)
    layout = lay_out(ticket, paper)
    printer.setFullPage(True)
    printer.setDocName(f"fluxlab ticket {ticket.number}")
    _set_page(printer, layout, paper)
    return _paint(printer, layout, printer.resolution() / _MM_PER_INCH)


def _refuse_blocked(ticket: Ticket) -> None:
    blocks = printable(ticket)
    if blocks:
        raise TicketBlocked(blocks)


def _ensure_qt() -> None:
    """Start Qt without a screen when no program has started it, as from the command line."""
    if QGuiApplication.instance() is None:
        _standing.append(QGuiApplication(["fluxlab", "-platform", "offscreen"]))
        theme.load_fonts()


def _set_page(device: QPagedPaintDevice, layout: Layout, paper: Paper) -> None:
    device.setPageSize(_page_size(layout, paper))
    device.setPageOrientation(QPageLayout.Orientation.Portrait)
    device.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0), QPageLayout.Unit.Millimeter)


def _page_size(layout: Layout, paper: Paper) -> QPageSize:
    named = {"a5": QPageSize.PageSizeId.A5, "a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}
    if paper.key in named:
        return QPageSize(named[paper.key])
    size = QSizeF(layout.width, layout.height)
    return QPageSize(size, QPageSize.Unit.Millimeter, paper.name, QPageSize.SizeMatchPolicy.ExactMatch)


def _paint(device: QPagedPaintDevice, layout: Layout, dots_per_mm: float) -> bool:
    painter = QPainter()
    if not painter.begin(device):
        return False
    for page in range(len(layout.pages)):
        if page and not device.newPage():
            painter.end()
            return False
        painter.save()
        painter.scale(dots_per_mm, dots_per_mm)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        layout.draw(painter, page)
        painter.restore()
    return painter.end()
