"""The pot in half section, cold on the left and hot on the right."""

from dataclasses import dataclass

from PySide6.QtGui import QPainter, QPainterPath

from fluxlab.gui import theme
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.vessel.brushes import stippled
from fluxlab.gui.vessel.frame import Frame, filling, heap
from fluxlab.gui.vessel.from_rim import draw_from_rim, draw_marks
from fluxlab.gui.vessel.ink import dashed, outline, soft
from fluxlab.gui.vessel.marks import Word, centre_line, plate
from fluxlab.gui.vessel.shape import Shape
from fluxlab.gui.vessel.textures import bubbles
from fluxlab.gui.vessel.walls import draw_clay

DOME = 14.0
_LEFT, _RIGHT = (-1.0,), (1.0,)
_SIZES = (18, 16, 14, 13)


@dataclass(frozen=True, slots=True)
class PotDrawing:
    """What the section of a pot shows: levels above the floor [mm], None where not known, and the words on them.

    `heap_words` stand on the charge, `melt_words` on the melt; `part` names the feed that is drawn, empty for all;
    `under_level` is how high the melt of earlier feeds stands under it. The heap swells to `swollen_level` before it
    melts; foam on the melt reaches to `foam_level`. Metal, speiss and matte are told by where they
    end; one that ends no higher than the one below it is not there.
    """

    shape: Shape
    half_level: float | None = None
    two_thirds_level: float | None = None
    heap_level: float | None = None
    heap_words: str = ""
    part: str = ""
    under_level: float = 0.0
    swollen_level: float | None = None
    melt_level: float | None = None
    melt_words: tuple[str, ...] = ()
    metal_level: float = 0.0
    speiss_level: float = 0.0
    matte_level: float = 0.0
    foam_level: float | None = None

    @property
    def under_melt(self) -> float:
        """Where the slag begins [mm]."""
        return max(self.metal_level, self.speiss_level, self.matte_level)

    @property
    def cold_level(self) -> float | None:
        """How high the charge stands at its worst while it is solid [mm]."""
        return self.heap_level if self.swollen_level is None else self.swollen_level

    @property
    def hot_level(self) -> float | None:
        """How high melt and foam stand [mm]."""
        return self.foam_level if self.foam_level is not None else self.melt_level


def headroom() -> float:
    """Room above the rim for the two moments and what heaps over it [px]."""
    return theme.metrics(13).height() + 20.0


def draw_pot(painter: QPainter, frame: Frame, pot: PotDrawing, t: Tokens) -> None:
    """Draw a pot's half section; `frame` says where and at which scale."""
    shape = pot.shape
    if pot.heap_level is not None and pot.heap_level > 0.0:
        _charge(painter, frame, shape, pot.heap_level, pot.under_level, t)
        _swelling(painter, frame, pot, pot.heap_level, t)
    if pot.melt_level is not None and pot.melt_level > 0.0:
        _melt(painter, frame, pot, pot.melt_level, t)
    draw_clay(painter, frame, shape, t)
    rim = frame.y(shape.depth)
    centre_line(painter, frame.axis, rim - headroom(), frame.y(-shape.foot) + 8.0, t.ink2)
    _moments(painter, frame, pot, rim, t)
    _on_the_charge(painter, frame, pot, t)
    draw_marks(painter, frame, shape, pot.half_level, pot.two_thirds_level, t)
    if pot.heap_level is not None:
        draw_from_rim(painter, frame, shape, pot.heap_level, -1.0, t)
        _named_swelling(painter, frame, pot, t)
    reached = rim
    if pot.hot_level is not None:
        reached = draw_from_rim(painter, frame, shape, pot.hot_level, 1.0, t)
    _on_the_melt(painter, frame, pot, reached, t)


def _charge(painter: QPainter, frame: Frame, shape: Shape, level: float, under: float, t: Tokens) -> None:
    crown = min(0.06 * shape.rim_radius, 0.3 * level)
    body = heap(frame, shape, level, crown, _LEFT, DOME / frame.scale)
    painter.fillPath(body, t.charge)
    stippled(painter, body, soft(t.ink, 170))
    outline(painter, body, t.ink)
    if 0.0 < under < level:
        melted = filling(frame, shape, 0.0, min(under, shape.depth), _LEFT)
        painter.fillPath(melted, t.melt)
        outline(painter, melted, t.ink)


def _melt(painter: QPainter, frame: Frame, pot: PotDrawing, melt: float, t: Tokens) -> None:
    shape = pot.shape
    if pot.foam_level is not None and pot.foam_level > melt:
        body = filling(frame, shape, min(melt, shape.depth), min(pot.foam_level, shape.depth), _RIGHT)
        top = _risen_line(frame, shape, pot.foam_level, 1.0)
        if pot.foam_level > shape.depth:
            body.addPath(_under(top, frame, shape))
        bubbles(painter, body, t.heat, t.heat_tint, 2.6, 0.9)
        dashed(painter, top, t.no if pot.foam_level > shape.depth else t.heat)
    low = 0.0
    colours = (t.metal, t.iron, t.matte, t.melt)
    for end, colour in zip((pot.metal_level, pot.speiss_level, pot.matte_level, melt), colours, strict=True):
        high = min(end, melt)
        if high > low:
            layer = filling(frame, shape, low, min(high, shape.depth), _RIGHT)
            painter.fillPath(layer, colour)
            outline(painter, layer, t.ink)
            low = high


def _swelling(painter: QPainter, frame: Frame, pot: PotDrawing, heap_level: float, t: Tokens) -> None:
    """How high the heap swells before it melts, dashed over the cold side."""
    if pot.swollen_level is not None and pot.swollen_level > heap_level:
        line = _risen_line(frame, pot.shape, pot.swollen_level, -1.0)
        dashed(painter, line, t.no if pot.swollen_level > pot.shape.depth else t.heat)


def _named_swelling(painter: QPainter, frame: Frame, pot: PotDrawing, t: Tokens) -> None:
    """The word under the dashed line, beside the axis."""
    level, depth = pot.swollen_level, pot.shape.depth
    if level is None or pot.heap_level is None or level <= pot.heap_level:
        return
    word = Word("swells", 12, False, t.no if level > depth else t.ink)
    y = frame.y(min(level, depth)) + word.height / 2.0 + 3.0
    plate(painter, (word,), frame.axis - word.width / 2.0 - 6.0, y, t.sheet)


def _risen_line(frame: Frame, shape: Shape, level: float, side: float) -> QPainterPath:
    """The top of a swollen heap or of foam on one side of the axis; over the rim it domes."""
    if level <= shape.depth:
        line = QPainterPath(frame.at(0.0, level))
        line.lineTo(frame.at(side * shape.radius(level), level))
        return line
    top, rim = shape.depth + min(2.0 * (level - shape.depth), DOME / frame.scale), side * shape.rim_radius
    line = QPainterPath(frame.at(0.0, top))
    line.quadTo(frame.at(rim, top), frame.at(rim, shape.depth))
    return line


def _under(top: QPainterPath, frame: Frame, shape: Shape) -> QPainterPath:
    dome = QPainterPath(top)
    dome.lineTo(frame.at(0.0, shape.depth))
    dome.closeSubpath()
    return dome


def _moments(painter: QPainter, frame: Frame, pot: PotDrawing, rim: float, t: Tokens) -> None:
    cold, hot = Word("cold", 13, False, t.ink2), Word("hot", 13, False, t.ink2)
    for word, level, left in (
        (cold, pot.cold_level, frame.axis - 8.0 - cold.width),
        (hot, pot.hot_level, frame.axis + 8.0),
    ):
        over = level is not None and level > pot.shape.depth
        word.draw(painter, left, rim - (DOME + 5.0 if over else 10.0))


def _on_the_charge(painter: QPainter, frame: Frame, pot: PotDrawing, t: Tokens) -> None:
    if pot.heap_level is None or not pot.heap_words:
        return
    over = pot.heap_level > pot.shape.depth
    top = min(pot.heap_level, pot.shape.depth)
    z = pot.under_level + 0.55 * (top - pot.under_level) if 0.0 < pot.under_level < top else 0.55 * top
    room = pot.shape.radius(z) * frame.scale
    sizes = [size for size in _SIZES if theme.metrics(size, True).horizontalAdvance(pot.heap_words) + 14.0 < room]
    lines = [Word(pot.heap_words, sizes[0] if sizes else _SIZES[-1], True, t.no if over else t.ink)]
    if pot.part:
        lines.append(Word(pot.part, 12, False, t.ink2))
    plate(painter, lines, frame.axis - 0.5 * room, frame.y(z), t.sheet)


def _on_the_melt(painter: QPainter, frame: Frame, pot: PotDrawing, reached: float, t: Tokens) -> None:
    shape = pot.shape
    if pot.melt_level is None:
        return
    melt = min(pot.melt_level, shape.depth)
    low = min(pot.under_melt, melt)
    lines = [Word(text, 13 if at == 0 else 12, at == 0, t.ink) for at, text in enumerate(pot.melt_words)]
    room = (melt - low) * frame.scale
    while len(lines) > 1 and sum(word.height for word in lines) > room - 4.0:
        lines.pop()
    free = melt
    if lines:
        z = (low + melt) / 2.0
        x = frame.axis + 0.5 * shape.radius(z) * frame.scale
        box = plate(painter, lines, x, frame.y(z), None if lines[0].height < room else t.sheet)
        free = max(melt, (frame.floor - box.top()) / frame.scale)
    if pot.foam_level is not None:
        high = min(pot.foam_level, (frame.floor - reached) / frame.scale)
        word = Word("foam", 13, False, t.ink)
        if (high - free) * frame.scale > word.height + 6.0:
            z = (free + high) / 2.0
            plate(painter, (word,), frame.axis + 0.5 * shape.radius(z) * frame.scale, frame.y(z), t.sheet)
