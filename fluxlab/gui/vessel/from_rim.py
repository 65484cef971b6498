"""How far below the rim a pot is full, cold and hot, in its empty part; and the half and two-thirds marks."""

from PySide6.QtGui import QPainter

from fluxlab.gui import theme
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.vessel.frame import Frame
from fluxlab.gui.vessel.marks import Dimension, Word, level_mark, plate
from fluxlab.gui.vessel.shape import Shape

MARK_OVERHANG = 6.0
MARKS = ("½", "⅔")


def side_room() -> float:
    """Room that the marks need beside a pot [px]."""
    return MARK_OVERHANG + 4.0 + max(theme.metrics(14).horizontalAdvance(mark) for mark in MARKS)


def draw_from_rim(painter: QPainter, frame: Frame, shape: Shape, level: float, side: float, t: Tokens) -> float:
    """Lowest place of the distance from rim to level [px], drawn on one side of the axis with its millimetres."""
    gap = shape.depth - level
    x = frame.axis + side * 0.5 * shape.rim_radius * frame.scale
    number = Word(f"{abs(gap):.0f} mm", 13, True, t.no if gap <= -0.5 else t.ink)
    if gap <= -0.5:
        lines = (number, Word("over", 13, False, t.no))
        return plate(painter, lines, x, frame.y(shape.depth) + number.height + 6.0, t.sheet).bottom()
    rim, wide = frame.y(shape.depth), shape.rim_radius * frame.scale
    line = Dimension(x, rim, frame.y(level), frame.axis + side * (wide - 2.0), number)
    line.draw(painter, t.edge, t.sheet)
    return max(line.box.bottom(), frame.y(level))


def draw_marks(
    painter: QPainter, frame: Frame, shape: Shape, half: float | None, two_thirds: float | None, t: Tokens
) -> None:
    """Draw the marks of half and two thirds across both walls, named on the right."""
    for text, level in zip(MARKS, (half, two_thirds), strict=True):
        if level is None:
            continue
        y = frame.y(level)
        inner, outer = shape.radius(level) * frame.scale, shape.outer_radius(level) * frame.scale
        level_mark(painter, frame.axis + inner - MARK_OVERHANG, frame.axis + outer + MARK_OVERHANG, y, t.hand)
        level_mark(painter, frame.axis - outer - MARK_OVERHANG, frame.axis - inner + MARK_OVERHANG, y, t.hand)
        word = Word(text, 14, False, t.hand)
        word.centred(painter, frame.axis + outer + MARK_OVERHANG + 3.0 + word.width / 2.0, y)
