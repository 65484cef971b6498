"""Where words can stand beside a mark of a chart without being written over another mark or other words."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from PySide6.QtCore import QRectF

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

LEADING, ASCENT = 15, 12
BESIDE, STEPS = 11, 4
"""How far from the middle of the mark words begin [px], and by how many lines they may be moved up or down."""
RING_AND_GAP = 9
NARROW = 110
"""Width to which words are broken where they find no place on fewer lines [px]."""


class Label(NamedTuple):
    """Words in lines, the box that they fill, and whether they end at its right side."""

    lines: tuple[str, ...]
    box: QRectF
    flush_right: bool

    def baselines(self) -> Iterator[tuple[str, float]]:
        """Each line with the place it is written at [px]."""
        for row, line in enumerate(self.lines):
            yield line, self.box.top() + row * theme.scaled(LEADING) + theme.scaled(ASCENT)


def above(word: str, mark: QRectF, height: float) -> Label:
    """A word over the ring at a height of a mark [px]."""
    wide, high = type_.width(word, 12), theme.scaled(ASCENT)
    return Label((word,), QRectF(mark.center().x() - wide / 2, height - RING_AND_GAP - high, wide, high + 2), False)


def placed(words: str, mark: QRectF, height: float, whole: QRectF, taken: Sequence[QRectF]) -> Label | None:
    """Words beside a mark, near a height of it [px]; None where all of the room is taken."""
    free = (label for label in _places(words, mark, height, whole) if _fits(label.box, whole, (mark, *taken)))
    return next(free, None)


def _places(words: str, mark: QRectF, height: float, whole: QRectF) -> Iterator[Label]:
    middle, step = mark.center().x(), theme.scaled(LEADING)
    right_first = middle < whole.center().x()
    for narrow in (False, True):
        for move in sorted(range(-STEPS, STEPS + 1), key=abs):
            for right in (right_first, not right_first):
                room = (whole.right() - middle if right else middle - whole.left()) - BESIDE
                lines = type_.lines(words, 12, min(room, theme.scaled(NARROW)) if narrow else room)
                wide = max(type_.width(line, 12) for line in lines)
                left = middle + BESIDE if right else middle - BESIDE - wide
                top = height - step / 2 + move * step
                yield Label(lines, QRectF(left, top, wide, len(lines) * step), not right)


def _fits(box: QRectF, whole: QRectF, taken: Sequence[QRectF]) -> bool:
    return whole.contains(box) and not any(box.intersects(other) for other in taken)
