"""A ticket laid out on a paper: what stands where on which page."""

from dataclasses import dataclass

from PySide6.QtGui import QPainter

from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.blocks import CLOSE, ROOMY, TIGHT, Block, Density, Placed, share_out, space
from fluxlab.gui.ticket.cautions import caution_box
from fluxlab.gui.ticket.facts import draw_fact, fact_height
from fluxlab.gui.ticket.head import Column, foot, head, head_again
from fluxlab.gui.ticket.paper import Paper
from fluxlab.gui.ticket.rows import weighing_blocks
from fluxlab.gui.ticket.sheet import Sheet
from fluxlab.gui.ticket.stub import stub
from fluxlab.gui.ticket.vessels import draw_vessels, drawings_height

_FACTS_WIDTH = 62.0


@dataclass(frozen=True, slots=True)
class Layout:
    """Pages of a ticket: size of each on paper [mm], and what stands on it in units of `enlargement` mm."""

    width: float
    height: float
    enlargement: float
    pages: tuple[tuple[Placed, ...], ...]

    def draw(self, painter: QPainter, page: int) -> None:
        """Draw a page, counted from 0; the painter's unit is a millimetre and its origin the paper's corner."""
        painter.save()
        painter.scale(self.enlargement, self.enlargement)
        sheet = Sheet(painter)
        for placed in self.pages[page]:
            painter.save()
            placed.block.draw(sheet, placed.top)
            painter.restore()
        painter.restore()


def lay_out(ticket: Ticket, paper: Paper) -> Layout:
    """A ticket on a paper, enlarged and roomy as far as it keeps to one page; else on as few pages as it takes."""
    tried = []
    for enlargement, density in ((e, d) for e in paper.enlargements for d in (ROOMY, CLOSE, TIGHT)):
        layout = _at(ticket, paper, enlargement, density)
        if len(layout.pages) == 1:
            return layout
        tried.append(layout)
    return min(tried[-3:], key=lambda layout: len(layout.pages))


def _at(ticket: Ticket, paper: Paper, enlargement: float, density: Density) -> Layout:
    wide, margin = paper.width / enlargement, paper.margin / enlargement
    column = Column(margin, wide - margin, paper.narrow)
    top, again = head(ticket, column), head_again(ticket, column)
    blocks = [*weighing_blocks(ticket, column, density.pitch), *_below(ticket, column, density)]
    tail = stub(ticket, column, wide) if ticket.stub else None
    start, restart = margin + top.height, margin + again.height
    foot_height = foot(ticket, column, 1, 1).height
    if paper.height is None:
        pages = share_out([*blocks, *([space(3.0), tail] if tail else [])], start, start, float("inf"))
        high = pages[0][-1].top + pages[0][-1].block.height + 2.0 + foot_height + margin
    else:
        high = paper.height / enlargement
        pages = _on_sheets(blocks, tail, start, restart, high - margin - foot_height - 1.0)
        if len(pages) > 1:
            foot_height = foot(ticket, column, len(pages), len(pages)).height
            pages = _on_sheets(blocks, tail, start, restart, high - margin - foot_height - 1.0)
    finished = []
    for at, page in enumerate(pages):
        under = foot(ticket, column, at + 1, len(pages))
        over = Placed(again if at else top, margin)
        finished.append((over, *page, Placed(under, high - margin - under.height)))
    return Layout(paper.width, high * enlargement, enlargement, tuple(finished))


def _on_sheets(
    blocks: list[Block], tail: Block | None, start: float, restart: float, bottom: float
) -> list[list[Placed]]:
    """Parts on sheets, the stub at the bottom of the last one."""
    pages = share_out(blocks, start, restart, bottom)
    if tail:
        last = pages[-1]
        end = last[-1].top + last[-1].block.height if last else start
        if end + 1.5 + tail.height > bottom:
            pages.append([])
        pages[-1].append(Placed(tail, bottom - tail.height))
    return pages


def _below(ticket: Ticket, column: Column, density: Density) -> list[Block]:
    blocks: list[Block] = []
    if ticket.facts:
        blocks.append(space(1.4))
        blocks.extend(_facts(ticket, column, density))
    if ticket.cautions:
        blocks += [space(1.6), caution_box(ticket.cautions, column, density.caution)]
    if ticket.facts and column.narrow:
        high = drawings_height(ticket, column.width, density.drawings)
        if high > 0.0:
            blocks += [space(2.0), _drawings(ticket, column.left, column.width, high, density.drawings)]
    return blocks


def _facts(ticket: Ticket, column: Column, density: Density) -> list[Block]:
    beside = 0.0 if column.narrow else drawings_height(ticket, column.width - _FACTS_WIDTH, density.drawings)
    room = _FACTS_WIDTH if beside else column.width
    heights = [fact_height(fact, room, density) for fact in ticket.facts]

    def draw(sheet: Sheet, top: float) -> None:
        y = top
        for fact, height in zip(ticket.facts, heights, strict=True):
            draw_fact(sheet, fact, column.left, y, room, density)
            y += height
        if beside:
            down = max(0.0, (sum(heights) - beside) / 2.0)
            draw_vessels(sheet, ticket, column.left + room, top + down, column.width - room, density.drawings)

    return [Block(max(sum(heights), beside), draw)]


def _drawings(ticket: Ticket, left: float, wide: float, high: float, room: float) -> Block:
    return Block(high, lambda sheet, top: draw_vessels(sheet, ticket, left, top, wide, room))
