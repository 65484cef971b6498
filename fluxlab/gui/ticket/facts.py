"""The two-line facts: label, value in bold, note under it."""

from fluxlab.design.ticket_facts import Fact
from fluxlab.gui.ticket.blocks import Density
from fluxlab.gui.ticket.sheet import Sheet, leading, lines_of

LABEL = 9.0
_VALUE_LEFT = 16.0


def fact_height(fact: Fact, room: float, density: Density) -> float:
    """Height of one fact in a column `room` mm wide, with white space after it [mm]."""
    values, notes = _lines(fact, room, density)
    return leading(density.value) * len(values) + leading(density.note) * len(notes) + density.after_fact


def draw_fact(sheet: Sheet, fact: Fact, left: float, top: float, room: float, density: Density) -> None:
    """Write one fact."""
    values, notes = _lines(fact, room, density)
    y = top
    for at, line in enumerate(values):
        y += leading(density.value)
        if at == 0:
            sheet.left(left, y - 0.9, fact.label, LABEL)
        sheet.left(left + _VALUE_LEFT, y - 0.9, line, density.value, True)
    for line in notes:
        y += leading(density.note)
        sheet.left(left + _VALUE_LEFT, y - 0.9, line, density.note)


def _lines(fact: Fact, room: float, density: Density) -> tuple[list[str], list[str]]:
    inside = room - _VALUE_LEFT
    return lines_of(fact.value, density.value, inside, True, 3), lines_of(fact.note, density.note, inside, most=3)
