"""The rows of a ticket: tick box, name, weight, and a line for the reading; the total under a double rule."""

from PySide6.QtCore import QRectF

from fluxlab.design.ticket import Ticket
from fluxlab.design.ticket_rows import TicketRow
from fluxlab.gui.ticket.blocks import Block
from fluxlab.gui.ticket.head import READING, Column, titles
from fluxlab.gui.ticket.sheet import HAIR, RULE, STRONG, Sheet, capital, leading, lines_of, width

NAME, WEIGHT, HINT = 13.0, 21.0, 9.0
BOX = 5.0
_AFTER_BOX = 9.4
_GAP = 5.0


def weighing_blocks(ticket: Ticket, column: Column, pitch: float) -> list[Block]:
    """One block for each weighing and one for the total, which stays with the last weighing."""
    following = (*ticket.rows[1:], None)
    rows = [_row(ticket, row, after, column, pitch) for row, after in zip(ticket.rows, following, strict=True)]
    total = _total(ticket, column, pitch)
    if rows:
        last = rows[-1]
        rows[-1] = Block(last.height, last.draw, keep=total.height, heading=last.heading)
    return [*rows, total]


def _weight_right(column: Column) -> float:
    return column.right - READING - _GAP


def _row(ticket: Ticket, row: TicketRow, after: TicketRow | None, column: Column, pitch: float) -> Block:
    weight = ticket.weight_text(row.grams)
    left, right = column.left + _AFTER_BOX, _weight_right(column)
    room = (column.right if column.narrow else right - width(weight, WEIGHT, True) - 3.0) - left
    names = lines_of(row.name, NAME, room, True, 3)
    beside = width(names[-1], NAME, True) + 2.0 + width(row.hint, HINT) <= room
    hints = [] if beside or not row.hint else lines_of(row.hint, HINT, room, most=2)
    text = leading(NAME) * len(names) + leading(HINT) * len(hints)
    height = text + 1.6 + pitch if column.narrow else max(pitch, text + 2.4)

    def draw(sheet: Sheet, top: float) -> None:
        if after and after.apart:
            sheet.dashes(column.left, column.right, top + height, 2.0, 1.2, STRONG)
        elif after:
            sheet.rule(column.left, column.right, top + height, HAIR)
        middle = top + 1.2 + text / 2.0 if column.narrow else top + height / 2.0
        sheet.box(QRectF(column.left + 0.3, middle - BOX / 2.0, BOX, BOX), 0.45)
        y = middle - text / 2.0 - (leading(NAME) - capital(NAME, True)) / 2.0
        for line in names:
            y += leading(NAME)
            end = sheet.left(left, y, line, NAME, True)
        if row.hint and beside:
            sheet.left(end + 2.0, y, row.hint, HINT)
        for line in hints:
            y += leading(HINT)
            sheet.left(left, y, line, HINT)
        _weight(sheet, ticket, row.grams, column, top + height - pitch if column.narrow else top, top + height)

    return Block(height, draw, heading=titles(column, right, left))


def _weight(sheet: Sheet, ticket: Ticket, grams: float, column: Column, top: float, bottom: float) -> None:
    baseline = (top + bottom) / 2.0 + capital(WEIGHT, True) / 2.0
    sheet.right(_weight_right(column), baseline, ticket.weight_text(grams), WEIGHT, True)
    sheet.rule(column.right - READING, column.right, baseline + 0.1, HAIR)


def _total(ticket: Ticket, column: Column, pitch: float) -> Block:
    left = column.left + (0.0 if column.narrow else _AFTER_BOX)
    lines = lines_of(ticket.total_name, NAME, column.width, True)
    room = _weight_right(column) - width(ticket.weight_text(ticket.total), WEIGHT, True) - 3.0 - left
    beside = not column.narrow and width(ticket.total_name, NAME, True) <= room
    above = 0.0 if beside else leading(NAME) * len(lines) + 1.0
    height = 1.2 + above + pitch + 1.6

    def draw(sheet: Sheet, top: float) -> None:
        for y in (top, top + 1.0):
            sheet.rule(column.left, column.right, y, 0.4)
        y = top + 1.2 + above
        middle = y + pitch / 2.0 + 0.4
        baseline = middle + capital(NAME, True) / 2.0 if beside else top + 1.2 + leading(NAME)
        for line in lines:
            sheet.left(left, baseline, line, NAME, True)
            baseline += leading(NAME)
        _weight(sheet, ticket, ticket.total, column, y + 0.4, y + pitch + 0.4)
        sheet.rule(column.left, column.right, top + height, RULE)

    return Block(height, draw)
