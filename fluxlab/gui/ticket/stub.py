"""The stub under the tear line, to be filled in after the pour."""

from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.blocks import Block
from fluxlab.gui.ticket.head import SMALL, Column
from fluxlab.gui.ticket.sheet import HAIR, Sheet, width

SIZE = 9.5
_LINE = 6.4


def stub(ticket: Ticket, column: Column, paper_width: float) -> Block:
    """Tear line across the paper, blanks for what came out, and one for the look of the slag."""
    across = 2 if column.narrow else len(ticket.stub)
    lines = [ticket.stub[at : at + across] for at in range(0, len(ticket.stub), across)]
    height = 6.4 + _LINE * (len(lines) + 1)

    def draw(sheet: Sheet, top: float) -> None:
        sheet.dashes(0.0, paper_width, top, 2.2, 1.4, 0.3)
        y = top + 4.6
        sheet.left(column.left, y, "After the pour", SMALL, True)
        if not column.narrow:
            sheet.right(column.right, y, "enter it under Melts", SMALL)
        for blanks in lines:
            y += _LINE
            _blanks(sheet, blanks, column, y)
        y += _LINE
        end = sheet.left(column.left, y, "Slag looked", SIZE)
        sheet.rule(end + 1.4, column.right, y + 0.6, HAIR)

    return Block(height, draw)


def _blanks(sheet: Sheet, blanks: tuple[tuple[str, str], ...], column: Column, baseline: float) -> None:
    gap = 8.0
    each = (column.width - gap * (len(blanks) - 1)) / len(blanks)
    for at, (name, unit) in enumerate(blanks):
        left = column.left + at * (each + gap)
        start = sheet.left(left, baseline, name, SIZE) + 1.4
        end = left + each - width(unit, SIZE) - 1.4
        sheet.rule(start, end, baseline + 0.6, HAIR)
        sheet.left(end + 1.4, baseline, unit, SIZE)
