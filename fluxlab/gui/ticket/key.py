"""The words beside the layers of the drawings: each with its pattern, its mass, its volume and how thick it lies."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainterPath

from fluxlab.design.layers import Standing, layer_line, standing
from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.section import WORD, layer_filled, outline
from fluxlab.gui.ticket.sheet import RULE, Sheet, capital, leading, lines_of
from fluxlab.gui.vessel.from_report import inside_of_pot

_SWATCH, _GAP = 4.2, 1.8


def layers_of_pot(ticket: Ticket) -> tuple[Standing, ...]:
    """The layers in the pot of a ticket, from the bottom up."""
    inside = inside_of_pot(ticket.pot) if ticket.pot else None
    return (
        standing([each.layer for each in ticket.poured], inside, ticket.fill.melt_level)
        if inside and ticket.fill
        else ()
    )


def key_height(ticket: Ticket, wide: float) -> float:
    """Height of the words [mm]."""
    return sum(leading(WORD) * len(lines) for _, lines in _rows(ticket, wide))


def draw_key(sheet: Sheet, ticket: Ticket, left: float, top: float, wide: float) -> None:
    """Write the words, the uppermost layer first, as they lie."""
    y = top
    for each, lines in _rows(ticket, wide):
        high = capital(WORD)
        box = QPainterPath()
        box.addRect(QRectF(left, y + leading(WORD) - 0.9 - high - 0.2, _SWATCH, high + 0.4))
        layer_filled(sheet, box, each.layer.kind)
        outline(sheet, box, RULE)
        for line in lines:
            y += leading(WORD)
            sheet.left(left + _SWATCH + _GAP, y - 0.9, line, WORD)


def _rows(ticket: Ticket, wide: float) -> list[tuple[Standing, list[str]]]:
    room = wide - _SWATCH - _GAP
    return [(each, lines_of(layer_line(each, ticket.mark), WORD, room)) for each in reversed(ticket.poured)]
