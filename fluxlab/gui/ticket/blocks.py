"""Parts of a ticket that are set one under the other, and their share-out to pages."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fluxlab.gui.ticket.sheet import Sheet

Draw = Callable[[Sheet, float], None]


@dataclass(frozen=True, slots=True)
class Block:
    """A part with its height [mm] and how it is drawn from a top edge.

    `keep` is how much of what follows must stand on the same page [mm]; `heading` is repeated where a page begins with
    this part; `cut` gives what of it fits into a room and what is left, for parts that may be cut.
    """

    height: float
    draw: Draw
    keep: float = 0.0
    heading: "Block | None" = None
    cut: "Callable[[float], tuple[Block | None, Block | None]] | None" = None


@dataclass(frozen=True, slots=True)
class Placed:
    """A part and its top edge on the page [mm]."""

    block: Block
    top: float


def share_out(blocks: Sequence[Block], first_top: float, next_top: float, bottom: float) -> list[list[Placed]]:
    """Parts on pages between a top edge (the first page has its own) and a bottom edge [mm].

    A part taller than a page gets one of its own.
    """
    pages: list[list[Placed]] = [[]]
    y = first_top
    waiting = list(blocks)
    while waiting:
        block = waiting.pop(0)
        page = pages[-1]
        heading = block.heading if not page else None
        start = y + (heading.height if heading else 0.0)
        if start + block.height + block.keep <= bottom + 1e-6 or (not page and block.cut is None):
            if heading:
                page.append(Placed(heading, y))
            page.append(Placed(block, start))
            y = start + block.height
            continue
        fits, rest = block.cut(bottom - start) if block.cut else (None, block)
        if fits is not None:
            page.append(Placed(fits, start))
        elif not page and rest is not None:
            page.append(Placed(rest, start))
            rest = None
        if rest is not None:
            waiting.insert(0, rest)
            pages.append([])
            y = next_top
        else:
            y = start + (fits.height if fits else block.height)
    return pages


@dataclass(frozen=True, slots=True)
class Density:
    """How closely a ticket is set: height of a weighing [mm], size of cautions, fact values and fact notes [pt], space
    after a fact [mm], most height of the drawings without their words [mm]."""

    pitch: float
    caution: float
    value: float
    note: float
    after_fact: float
    drawings: float


ROOMY = Density(10.0, 9.5, 11.5, 8.5, 1.1, 42.0)
CLOSE = Density(8.8, 9.5, 11.5, 8.5, 0.8, 38.0)
TIGHT = Density(8.0, 8.5, 10.5, 8.0, 0.3, 32.0)


def space(height: float) -> Block:
    """White space [mm]."""
    return Block(height, lambda _sheet, _top: None)
