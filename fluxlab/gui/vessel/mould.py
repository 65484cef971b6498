"""The mould in section after the pour: slag, matte, speiss and metal, and the freeboard."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath

from fluxlab.gui import theme
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.vessel.frame import Frame, filling
from fluxlab.gui.vessel.from_rim import draw_from_rim
from fluxlab.gui.vessel.ink import dashed, outline
from fluxlab.gui.vessel.marks import Word, leader, plate
from fluxlab.gui.vessel.shape import Shape
from fluxlab.gui.vessel.walls import draw_iron

_BOTH = (1.0, -1.0)
_SPILL = 8.0
_FAR = 12.0
"""Where there is room, words by leaders stand so far off the mould [px]."""


@dataclass(frozen=True, slots=True)
class MouldDrawing:
    """What the section of a mould shows: where each layer ends above the tip [mm], and the words beside.

    The slag's level is None where it is not known. A layer that ends no higher than the one below it is not there. The
    first of each layer's words is bold.
    """

    shape: Shape
    slag_level: float | None = None
    slag_words: tuple[str, ...] = ()
    metal_level: float = 0.0
    metal_words: tuple[str, ...] = ()
    speiss_level: float = 0.0
    speiss_words: tuple[str, ...] = ()
    matte_level: float = 0.0
    matte_words: tuple[str, ...] = ()

    @property
    def under_slag(self) -> float:
        """Where the slag begins [mm]."""
        return max(self.metal_level, self.speiss_level, self.matte_level)

    @property
    def notes(self) -> tuple[tuple[float, tuple[str, ...]], ...]:
        """Middles of the layers under the slag [mm] with their words, from above."""
        metal, speiss = self.metal_level, max(self.metal_level, self.speiss_level)
        return (
            ((speiss + self.matte_level) / 2.0, self.matte_words),
            ((metal + speiss) / 2.0, self.speiss_words),
            (metal / 2.0, self.metal_words),
        )


def draw_mould(painter: QPainter, frame: Frame, mould: MouldDrawing, t: Tokens, room: float) -> None:
    """Draw a mould's section after the pour; `room` is how far to the right of the axis words may run [px]."""
    level = mould.slag_level
    if level is not None and level > 0.0:
        _layers(painter, frame, mould, level, t)
    draw_iron(painter, frame, mould.shape, t)
    if level is not None and level > 0.0:
        reached = draw_from_rim(painter, frame, mould.shape, level, 1.0, t)
        _on_the_slag(painter, frame, mould, reached, t)
        _beside(painter, frame, mould, t, room)


def _layers(painter: QPainter, frame: Frame, mould: MouldDrawing, level: float, t: Tokens) -> None:
    shape = mould.shape
    top = min(level, shape.depth)
    colours = (t.metal, t.iron, t.matte, t.slag)
    low = 0.0
    for end, colour in zip((mould.metal_level, mould.speiss_level, mould.matte_level, top), colours, strict=True):
        high = min(end, top)
        if high > low:
            layer = filling(frame, shape, low, high, _BOTH)
            painter.fillPath(layer, colour)
            outline(painter, layer, t.ink)
            low = high
    if level > shape.depth + 0.5:
        for side in _BOTH:
            over = shape.depth + _SPILL / frame.scale
            spill = QPainterPath(frame.at(0.0, over))
            spill.quadTo(frame.at(side * shape.rim_radius, over), frame.at(side * shape.rim_radius, shape.depth))
            dashed(painter, spill, t.no)


def _on_the_slag(painter: QPainter, frame: Frame, mould: MouldDrawing, reached: float, t: Tokens) -> None:
    """The slag's words as far as there is room, between the metal and how low the freeboard's number reaches [px]."""
    low, high = mould.under_slag, (frame.floor - reached) / frame.scale
    for said in shorter(mould.slag_words):
        lines = [Word(text, 13, at == 0, t.onslag) for at, text in enumerate(said)]
        half = 0.5 * sum(word.height for word in lines) / frame.scale
        wide = max(word.width for word in lines)
        # where a mould narrows to its tip, words that are too wide half way up still fit under the surface
        for z in (low + 0.62 * (high - low), high - half - 1.0 / frame.scale):
            if z - half > low and wide < 1.96 * mould.shape.radius(max(z - half, 0.0)) * frame.scale:
                plate(painter, lines, frame.axis, frame.y(z), None)
                return


def shorter(words: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The words, then less and less of them: without the last line, the mass without its kind, the name alone."""
    bare = (*words[:1], *(word.partition(" oxides")[0] for word in words[1:2]))
    tried = [words, words[:2], bare, words[:1]]
    return [said for said in dict.fromkeys(tried) if said]


def _beside(painter: QPainter, frame: Frame, mould: MouldDrawing, t: Tokens, room: float) -> None:
    """Matte, speiss and metal by leaders, from the foot upwards so that the words end beside it."""
    said = [
        (z, [Word(text, 13, at == 0, t.ink if at == 0 else t.ink2) for at, text in enumerate(words)])
        for z, words in mould.notes
        if words
    ]
    if not said:
        return
    at_edge = room - max(word.width for _, lines in said for word in lines) - 10.0
    knee = frame.axis + min(at_edge, max(mould.shape.half_width * frame.scale, 40.0) + _FAR)
    height = sum(word.height for _, lines in said for word in lines)
    y = frame.y(-mould.shape.foot) - height + 0.5 * said[0][1][0].height
    for z, lines in said:
        # words of several layers reach up to where the wall is wide
        _clear(painter, QPointF(knee + 7.0, y - 0.5 * lines[0].height), lines, t)
        leader(painter, frame.at(0.4 * mould.shape.radius(z), z), QPointF(knee, y), lines, t.ink2)
        y += sum(word.height for word in lines)


def _clear(painter: QPainter, corner: QPointF, lines: list[Word], t: Tokens) -> None:
    """Paint the sheet under words, so that no hatching runs through them."""
    width, height = max(word.width for word in lines), sum(word.height for word in lines)
    painter.fillRect(QRectF(corner.x(), corner.y(), width + 3.0, height), t.sheet)


def words_beside(mould: MouldDrawing) -> float:
    """Room that the words by leaders need right of the axis [px], past the foot."""
    words = tuple(text for _, lines in mould.notes for text in lines)
    return max((theme.metrics(13, True).horizontalAdvance(text) for text in words), default=0.0) + 18.0
