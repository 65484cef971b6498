"""Head, column titles and foot of a ticket's pages."""

from dataclasses import dataclass

from fluxlab.design.ticket import Ticket, printable
from fluxlab.gui.ticket.blocks import Block
from fluxlab.gui.ticket.sheet import HAIR, RULE, Sheet, leading, lines_of, width

SMALL, TITLE, LINE = 8.5, 16.0, 10.5
READING = 26.0


@dataclass(frozen=True, slots=True)
class Column:
    """The text column of a page: left and right edge [mm], and whether everything stands in it."""

    left: float
    right: float
    narrow: bool

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left


def head(ticket: Ticket, column: Column) -> Block:
    """Name of the paper, copy and date, ore, recipe, and what is melted; a mark while blocks are outstanding."""
    name = "Weigh-out ticket" if ticket.kind == "charge" else "Batch ticket"
    issued = lines_of(ticket.issued, SMALL, column.width)
    beside = not column.narrow and width(f"{name}    {ticket.issued}", SMALL, True) < column.width
    title = lines_of(ticket.title, TITLE, column.width, True, 3)
    under = lines_of(ticket.recipe, LINE, column.width, True, 2) + lines_of(ticket.subtitle, LINE, column.width)
    bold = len(lines_of(ticket.recipe, LINE, column.width, True, 2))
    waiting = ", ".join(caution.title for caution in printable(ticket))
    stamp = lines_of(f"Not yet confirmed: {waiting}", LINE, column.width - 4.0, True) if waiting else []

    def draw(sheet: Sheet, top: float) -> None:
        sheet.rule(column.left, column.right, top + 0.3, 0.6)
        y = top + 4.8
        sheet.left(column.left, y, name, SMALL, True)
        if beside:
            sheet.right(column.right, y, ticket.issued, SMALL)
        else:
            for line in issued:
                y += leading(SMALL)
                sheet.left(column.left, y, line, SMALL)
        y += 1.4
        for line in title:
            y += leading(TITLE)
            sheet.left(column.left, y - 0.6, line, TITLE, True)
        y += 0.2
        for at, line in enumerate(under):
            y += leading(LINE)
            sheet.left(column.left, y, line, LINE, at < bold)
        if stamp:
            from PySide6.QtCore import QRectF

            y += 2.0
            high = leading(LINE) * len(stamp) + 2.0
            sheet.box(QRectF(column.left + 0.3, y, column.width - 0.6, high), 0.5)
            for line in stamp:
                y += leading(LINE)
                sheet.left(column.left + 2.0, y, line, LINE, True)

    height = 4.8 + 1.4 + leading(TITLE) * len(title) + 0.2 + leading(LINE) * len(under) + 2.4
    if not beside:
        height += leading(SMALL) * len(issued)
    if stamp:
        height += leading(LINE) * len(stamp) + 4.0
    return Block(height, draw)


def head_again(ticket: Ticket, column: Column) -> Block:
    """The head of a following page: which ticket it is, in few lines."""
    words = f"{ticket.title}, {ticket.recipe}"
    lines = lines_of(words, LINE, column.width, True, 2)

    def draw(sheet: Sheet, top: float) -> None:
        sheet.rule(column.left, column.right, top + 0.3, 0.6)
        sheet.left(column.left, top + 4.8, "Continued", SMALL, True)
        sheet.right(column.right, top + 4.8, ticket.issued, SMALL)
        y = top + 5.4
        for line in lines:
            y += leading(LINE)
            sheet.left(column.left, y, line, LINE, True)

    return Block(5.4 + leading(LINE) * len(lines) + 2.4, draw)


def titles(column: Column, weight_right: float, name_left: float) -> Block:
    """The titles over the weights."""

    def draw(sheet: Sheet, top: float) -> None:
        sheet.rule(column.left, column.right, top, RULE)
        baseline = top + 3.5
        if not column.narrow:
            sheet.left(name_left, baseline, "in this order", SMALL)
        sheet.right(weight_right, baseline, "weigh, g", SMALL)
        sheet.right(column.right, baseline, "read, g", SMALL)
        sheet.rule(column.left, column.right, top + 5.0, HAIR)

    return Block(5.0, draw)


def foot(ticket: Ticket, column: Column, page: int, pages: int) -> Block:
    """What stands on every ticket, the sentence about rounding, the ticket's number, and the page of several."""
    number = f"fluxlab {ticket.number}" + (f"   page {page} of {pages}" if pages > 1 else "")
    own_line = column.narrow or width(number, SMALL, True) > 0.5 * column.width
    room = column.width - (0.0 if own_line else width(number, SMALL, True) + 5.0)
    # A ticket that blocks still hold back goes nowhere: its room is for the stamp and for what is to be done.
    goes_out = bool(ticket.standing) and not printable(ticket)
    standing = lines_of(" ".join(ticket.standing), SMALL, column.width) if goes_out else []
    sentence = standing + lines_of(ticket.footer, SMALL, room)

    def draw(sheet: Sheet, top: float) -> None:
        y = top
        for line in sentence:
            y += leading(SMALL)
            sheet.left(column.left, y - 0.8, line, SMALL)
        if own_line:
            y += leading(SMALL)
        sheet.right(column.right, max(y, top + leading(SMALL)) - 0.8, number, SMALL, True)

    return Block(leading(SMALL) * max(1, len(sentence) + (1 if own_line else 0)), draw)
