"""The roast of a described ore: the state to reckon with, and what is left with its range."""

from dataclasses import dataclass, replace

import numpy as np

from fluxlab.issue import Issue, note, warning
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.mix_types import Mix
from fluxlab.ore.partial_roast import PartialRoast, partial_roast
from fluxlab.ore.roast_arrays import arrays, outcome
from fluxlab.ore.roast_kinetics import course
from fluxlab.ore.roast_programme import programme
from fluxlab.ore.roast_reading import ranges_of, roast_reading
from fluxlab.ore.roast_state import planned_state, sound_plan, states_around
from fluxlab.ore.roast_types import PERFECT, Programme, Ranges, RoastFigures, RoastPlan, RoastReading
from fluxlab.ore.silver_in_roast import silver_loss

POINTS = 251
"""States tried for the ranges of a planned roast."""
_EVEN = np.full(POINTS, 1.0 / POINTS)
_FAR = 1.5
"""The likely state may miss the weight by this much [% of raw] before the shares of the minerals are doubted."""
_AS_PLANNED = "roast as planned: memory and judgement"


@dataclass(frozen=True, slots=True, eq=False)
class RoastOf:
    """The roast of one gram of a mix: `left` is None where the perfect roast is reckoned with."""

    left: PartialRoast | None
    figures: RoastFigures
    programme: Programme
    issues: tuple[Issue, ...]


def roast_of(m: Mix, plan: RoastPlan, moisture: float = 0.0) -> RoastOf:
    """The roast of a described material by its plan, per gram; `moisture` [g/g] of the material as weighed.

    An assay that is used as it is has no minerals to burn one after the other: the perfect roast stands, and says so.
    """
    plan, issues = sound_plan(plan)
    minerals, shares = tuple(e.mineral for e in m.entries), np.array([e.likely for e in m.entries])
    a = arrays(minerals)
    steps = programme(a, m.entries, plan)
    loss = _silver_loss(m, plan)
    if plan.kind == "perfect" or m.pooled or not m.entries:
        perfect = partial_roast(minerals, shares, PERFECT)
        figures = RoastFigures(plan.kind, PERFECT, _fixed(perfect), loss, own=plan.figures)
        doubt = (_no_minerals(),) if plan.kind != "perfect" and m.pooled else ()
        return RoastOf(None, figures, steps, (*issues, *doubt))
    way = course(a, shares, plan)
    state = planned_state(a, shares, plan, way)
    left = partial_roast(minerals, shares, state)
    states, _ = states_around(a, m.entries, plan, way, POINTS, doubtful=False)
    found = outcome(a, states)
    ranges = _holding(left, ranges_of(found, 100.0 * (found.calcine - 1.0), _EVEN, _AS_PLANNED))
    if plan.kind == "planned":
        return RoastOf(left, RoastFigures(plan.kind, state, ranges, loss, own=plan.figures), steps, issues)
    reading = roast_reading(a, m.entries, plan, way, moisture)
    left = partial_roast(minerals, shares, reading.state)
    ranges = replace(_holding(left, reading.ranges), change=ranges.change)
    figures = RoastFigures(plan.kind, reading.state, ranges, loss, reading, plan.figures)
    return RoastOf(left, figures, steps, (*issues, *reading.issues, *_doubted(reading, left)))


def _holding(left: PartialRoast, likely: Ranges) -> Ranges:
    """The ranges with the figures of the state itself as their values."""
    own = _fixed(left)
    return Ranges(
        change=_around(own.change.value, likely.change),
        sulphur=_around(own.sulphur.value, likely.sulphur),
        sulphide_sulphur=_around(own.sulphide_sulphur.value, likely.sulphide_sulphur),
        sulphate_sulphur=_around(own.sulphate_sulphur.value, likely.sulphate_sulphur),
        arsenic=_around(own.arsenic.value, likely.arsenic),
    )


def _around(value: float, likely: Estimate) -> Estimate:
    return Estimate(value, min(value, likely.low), max(value, likely.high), likely.source)


def _fixed(left: PartialRoast) -> Ranges:
    """What a state leaves, without a range."""
    percent = 100.0 / left.roasted.mass if left.roasted.mass > 0.0 else 0.0
    sulphide, sulphate = percent * left.sulphide_sulphur, percent * left.sulphate_sulphur

    def of(value: float) -> Estimate:
        return Estimate(value, value, value, "the perfect roast")

    return Ranges(
        of(100.0 * left.change), of(sulphide + sulphate), of(sulphide), of(sulphate), of(percent * left.arsenic)
    )


def _silver_loss(m: Mix, plan: RoastPlan) -> Estimate:
    elements: dict[str, float] = {}
    for e in m.entries:
        for symbol, part in e.mineral.read.mass_fractions.items():
            elements[symbol] = elements.get(symbol, 0.0) + e.likely * part
    return silver_loss(elements, plan.finish_temperature, plan.silver_loss)


def _no_minerals() -> Issue:
    sentence = "An assay used as it is names no minerals: the perfect roast is reckoned with, whatever the plan."
    return warning("roast", sentence, "Tick the minerals that it stands for.")


def _doubted(reading: RoastReading, left: PartialRoast) -> tuple[Issue, ...]:
    """What is to be said where the weight fits the ore only with other shares than the likely ones."""
    reckoned = 100.0 * left.change
    if not reading.explained or abs(reckoned - reading.weighed) <= max(_FAR, 2.0 * reading.error):
        return ()
    sentence = (
        f"With the likely shares the roast would end at {reckoned:+.1f} %, the weight says {reading.weighed:+.1f} %:"
        " it asks for other shares."
    ).replace("-", "−")
    more = "Look for more pyrite, arsenic or carbonate, or for loss on the way."
    less = "Look for less pyrite or carbonate, or for more lead and lime."
    return (note("roast.after", sentence, more if reading.weighed < reckoned else less),)
