"""The box of cautions: glyph, one word, sentence."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF

from fluxlab.design.report_types import Answer
from fluxlab.design.ticket import TicketCaution
from fluxlab.gui.ticket.blocks import Block
from fluxlab.gui.ticket.head import Column
from fluxlab.gui.ticket.sheet import BLACK, Sheet, capital, leading, lines_of, width
from fluxlab.gui.tokens import LIGHT
from fluxlab.gui.widgets.glyph import draw_button_glyph

_GLYPH, _INSIDE, _AFTER_GLYPH = 3.2, 2.0, 5.0
_GLYPHS: dict[str, Answer] = {"block": "no", "warn": "close", "caution": "close"}


def caution_box(cautions: Sequence[TicketCaution], column: Column, size: float) -> Block:
    """All cautions in one box, in a size [pt]; cut between cautions where a page ends."""
    left = column.left + _INSIDE
    words = left + _AFTER_GLYPH
    titles = max(width(caution.title, size, True) for caution in cautions) + 3.0
    stacked = column.narrow or titles > 0.3 * column.width
    text_left = words if stacked else words + titles
    room = column.right - _INSIDE - text_left
    texts = [lines_of(caution.sentence, size, room) for caution in cautions]
    states = [_state(caution) for caution in cautions]
    under = [
        bool(state) and width(f"{text[-1]}  ", size) + width(state, size, True) > room
        for text, state in zip(texts, states, strict=True)
    ]
    heights = [leading(size) * (len(text) + stacked + below) + 0.7 for text, below in zip(texts, under, strict=True)]
    height = sum(heights) + 2.4

    def draw(sheet: Sheet, top: float) -> None:
        sheet.box(QRectF(column.left + 0.3, top + 0.3, column.width - 0.6, height - 0.6), 0.5)
        y = top + 0.9
        for caution, text, state, below, tall in zip(cautions, texts, states, under, heights, strict=True):
            baseline = y + leading(size)
            _glyph(sheet, left, baseline - capital(size, True) / 2.0, _GLYPHS[caution.level])
            sheet.left(words, baseline, caution.title, size, True)
            if stacked:
                baseline += leading(size)
            for line in text:
                end = sheet.left(text_left, baseline, line, size)
                baseline += leading(size)
            if below:
                sheet.left(text_left, baseline, state, size, True)
            elif state:
                sheet.left(end + width("  ", size), baseline - leading(size), state, size, True)
            y += tall

    def cut(space: float) -> tuple[Block | None, Block | None]:
        used, fits = 2.4, 0
        while fits < len(cautions) and used + heights[fits] <= space:
            used += heights[fits]
            fits += 1
        upper = caution_box(cautions[:fits], column, size) if fits else None
        lower = caution_box(cautions[fits:], column, size) if fits < len(cautions) else None
        return upper, lower

    return Block(height, draw, cut=cut if len(cautions) > 1 else None)


def _state(caution: TicketCaution) -> str:
    if caution.level != "block":
        return ""
    if caution.confirmed:
        return "Confirmed."
    return "Not yet confirmed." if caution.lift == "operator" else "Not to be weighed out."


def _glyph(sheet: Sheet, left: float, middle: float, answer: Answer) -> None:
    painter = sheet.painter
    painter.save()
    painter.translate(left, middle - _GLYPH / 2.0)
    painter.scale(0.1, 0.1)
    draw_button_glyph(painter, QRectF(0.0, 0.0, 10.0 * _GLYPH, 10.0 * _GLYPH), answer, LIGHT, BLACK)
    painter.restore()
