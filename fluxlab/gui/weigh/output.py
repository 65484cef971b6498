"""Printer and PDF: asked for, and only then touched."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog, QWidget

from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.paper import Paper

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

NO_PRINTER = "No printer is set up on this computer. Set one up, or save the ticket as a PDF."


def ask_path(beside: QWidget, name: str) -> Path | None:
    """Where the operator wants the PDF, None if nowhere."""
    safe = "".join("-" if sign in '/\\:*?"<>|' else sign for sign in name).strip() or "ticket"
    chosen, _ = QFileDialog.getSaveFileName(beside, "Save the ticket as a PDF", f"{safe}.pdf", "PDF (*.pdf)")
    if not chosen:
        return None
    path = Path(chosen)
    return path if path.suffix.lower() == ".pdf" else path.with_name(f"{path.name}.pdf")


def ask_printer(beside: QWidget, say: Callable[[str], object]) -> "QPrinter | None":
    """The printer that the operator chose, None if he did not or there is none."""
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo

    if not QPrinterInfo.availablePrinterNames():
        say(NO_PRINTER)
        return None
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    dialog = QPrintDialog(printer, beside)
    dialog.setWindowTitle("Print the ticket")
    return printer if dialog.exec() else None


def paper_problem(printer: "QPrinter", paper: Paper) -> str:
    """Why this printer cannot take the paper, "" when it can as far as it tells."""
    from PySide6.QtPrintSupport import QPrinterInfo

    info = QPrinterInfo(printer)
    sizes = info.supportedPageSizes()
    if paper.height is None or not sizes or info.supportsCustomPageSizes():
        return ""
    for size in sizes:
        found = size.size(size.Unit.Millimeter)
        if abs(found.width() - paper.width) < 2.0 and abs(found.height() - paper.height) < 2.0:
            return ""
    return f"{printer.printerName()} has no {paper.name} paper. Choose another paper, or save a PDF."


def print_on(printer: "QPrinter", paper: Paper, say: Callable[[str], object], ticket: Ticket) -> bool:
    """Whether the printer took the ticket; if not, the operator is told."""
    from fluxlab.gui.ticket_painter import print_ticket

    if print_ticket(ticket, printer, paper):
        return True
    say(f"{printer.printerName()} did not take the ticket. Look at the printer and try again, or save a PDF.")
    return False


def save_at(path: Path, paper: Paper, say: Callable[[str], object], ticket: Ticket) -> bool:
    """Whether the ticket was written; if not, the operator is told."""
    from fluxlab.gui.ticket_painter import write_pdf
    from fluxlab.store.problem import StoreProblem

    try:
        write_pdf(ticket, path, paper)
    except StoreProblem as problem:
        say(problem.sentence)
        return False
    return True
