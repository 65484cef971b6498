"""Where words stand in the fluidity chart, so that none lies on another: x and baseline of each [px]."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QRectF

from fluxlab.design.fluid_types import FluidCurve, FluidReport
from fluxlab.gui import theme
from fluxlab.gui.charts import marks
from fluxlab.gui.charts.fluid_words import at_temperature, grip_words, plain_limit, value_words
from fluxlab.gui.charts.scale import Field
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number

GAP = 10.0
RING = 7.0
Spot = tuple[float, float, str]


def grip_box(field: Field, fluid: FluidReport) -> QRectF:
    """The plate at the top of the pour line that takes the hand."""
    wide = type_.width(grip_words(fluid), 12, True) + 2 * marks.PAD
    x = max(0.0, min(field.width - wide, field.x(fluid.pour) - wide / 2))
    return QRectF(round(x), 3.0, round(wide), theme.scaled(18))


def figure_start(field: Field, fluid: FluidReport) -> tuple[float, bool]:
    """Where the figure at the pour begins, and whether it stands before the line."""
    x, wide = round(field.x(fluid.pour)), type_.width(value_words(fluid), 13, True)
    turned = x + 16 + wide > field.width
    return (x - 16 - wide if turned else x + 16), turned


def limit_spot(field: Field, fluid: FluidReport) -> Spot | None:
    """The words at the limit; None where it is not in the field."""
    if fluid.limit is None:
        return None
    y = round(field.y(fluid.limit))
    if not 0 <= y <= field.height:
        return None
    words = f"limit {plain_limit(fluid.limit)}"
    wide = type_.width(words, 12)
    taken = field.x(fluid.pour) + 16 + type_.width(value_words(fluid), 13, True) + 2 * marks.PAD
    x = 8.0 if taken > field.width - wide - GAP else field.width - wide - marks.PAD
    return x, y - 1 - theme.metrics(12).descent() - 1, words


def melted_spots(field: Field, fluid: FluidReport) -> tuple[Spot, Spot] | None:
    """The two lines at the temperature of the last crystal, clear of its ring; None where that is not in the field."""
    if fluid.melt_free is None:
        return None
    celsius = fluid.melt_free.value
    seen = at_temperature(fluid, celsius)
    y = None if seen is None else field.y(seen.value)
    if y is None or not 0 <= y <= field.height:
        return None
    words = ("all melted", f"{show_number(celsius, 0)} °C")
    room = max(type_.width(words[0], 12), type_.width(words[1], 12, True))
    base, x = grip_box(field, fluid).bottom() + theme.scaled(16), field.x(celsius)
    down = base + theme.scaled(15)
    near = base - theme.metrics(12).ascent() - RING < y < down + theme.metrics(12).descent() + RING
    off = RING + marks.PAD + 1 if near else 6.0
    clash = grip_box(field, fluid).left() - 14 < x < field.x(fluid.pour) + 6
    turned = x + off + room > field.width or (clash and x - off - room > 0)
    start = x - off - room if turned else x + off
    return (start, base, words[0]), (start, down, words[1])


def opinion_spots(field: Field, fluid: FluidReport) -> list[Spot]:
    """The names of the opinions, each beside its line where they differ most and nothing else stands.

    Where no such place is free they stand one over the other at the foot on the left.
    """
    curve = fluid.curve
    if curve is None or not curve.opinions:
        return []
    taken = list(taken_boxes(field, fluid))
    for k in _most_apart(field, curve):
        spots = _beside_lines(field, curve, k)
        if _free([box_of(spot) for spot in spots], taken, field):
            return spots
    return _at_the_foot(field, curve)


def taken_boxes(field: Field, fluid: FluidReport) -> Iterator[QRectF]:
    """What other words and the pour line take up."""
    yield grip_box(field, fluid).adjusted(-2, -2, 2, 2)
    x, (start, _) = field.x(fluid.pour), figure_start(field, fluid)
    end = start + type_.width(value_words(fluid), 13, True)
    left, right = min(x - 12, start - marks.PAD), max(x + 12, end + marks.PAD)
    yield QRectF(left, 0, right - left, field.height)
    limit, melted = limit_spot(field, fluid), melted_spots(field, fluid)
    if limit is not None:
        yield box_of(limit)
    for spot in melted or ():
        yield box_of(spot)


def box_of(spot: Spot) -> QRectF:
    """The plate of words at a place."""
    return marks.word_box(spot[0], spot[1], spot[2], 12)


def _free(boxes: Sequence[QRectF], taken: Sequence[QRectF], field: Field) -> bool:
    inside = QRectF(1, 0, field.width - 1, field.height)
    apart = all(not a.intersects(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    return apart and all(inside.contains(box) and not any(box.intersects(each) for each in taken) for box in boxes)


def _most_apart(field: Field, curve: FluidCurve) -> list[int]:
    """The temperatures in the field, those at which the opinions differ most first."""
    lines = [opinion.viscosity for opinion in curve.opinions]

    def apart(k: int) -> float:
        values = [line[k] for line in lines]
        return max(values) / min(values) if min(values) > 0.0 else 0.0

    seen = [k for k, celsius in enumerate(curve.temperatures) if 0 <= field.x(celsius) <= field.width]
    return sorted(seen, key=apart, reverse=True)


def _named(curve: FluidCurve, k: int) -> list[tuple[str, tuple[float, ...]]]:
    """Names and lines of the opinions, the thinnest at a temperature first."""
    ordered = sorted(curve.opinions, key=lambda opinion: opinion.viscosity[k])
    return [(f"{each.name}, {show_number(100 * each.weight, 0)} %", each.viscosity) for each in ordered]


def _beside_lines(field: Field, curve: FluidCurve, k: int) -> list[Spot]:
    spots = []
    for place, (words, line) in enumerate(_named(curve, k)):
        wide = type_.width(words, 12)
        x = max(marks.PAD + 2, min(field.x(curve.temperatures[k]) - wide / 2, field.width - wide - marks.PAD))
        spots.append((x, _beside(field, line, curve.temperatures, x, x + wide, place > 0), words))
    return spots


def _at_the_foot(field: Field, curve: FluidCurve) -> list[Spot]:
    """Names at the lower left, the thickest on top."""
    step, named = theme.scaled(16), _named(curve, len(curve.temperatures) - 1)
    return [(8.0, field.height - 24.0 - place * step, words) for place, (words, _) in enumerate(named)]


def _beside(
    field: Field, line: tuple[float, ...], temperatures: tuple[float, ...], left: float, right: float, over: bool
) -> float:
    """The baseline of words over or under a line between two places."""
    under = [field.y(v) for t, v in zip(temperatures, line, strict=True) if left - 8 <= field.x(t) <= right + 8]
    measure = theme.metrics(12)
    return min(under) - 4 - measure.descent() if over else max(under) + 4 + measure.ascent()
