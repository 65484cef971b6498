"""What the slag map asks of the design rooms, in the order in which it is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.widgets.fields import show_number

if TYPE_CHECKING:
    from fluxlab.design.map_axes import MapProblem
    from fluxlab.design.map_types import Axis, AxisPair, MapFrame, Outline, Point

Placed = frozenset[tuple[str, float]]
"""Rows that drags on the map have fixed, with their weights [g]."""
SHORT = {"degree": "degree", "borate": "borate", "flux_to_ore": "flux to ore"}
"""What a step on the map calls its axes."""
CELLS = 40
"""Points of the field along each axis: a row of so many is worked out in about one slice."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """Everything but the field: the choices of axes, the frame on the chosen ones, the problem behind it."""

    pairs: tuple[AxisPair, ...]
    frame: MapFrame | None
    problem: MapProblem | None


def pair_id(pair: AxisPair) -> str:
    """The name under which a choice of axes is remembered."""
    return f"{pair.x.key} {pair.y.key}"


def ground(work: Work, wanted: str) -> Ground:
    """The map of a recipe on the axes wanted, on the first pair where those cannot be drawn."""
    from fluxlab.design.balance import balance
    from fluxlab.design.map_report import axis_pairs, map_frame, map_problem

    found = balance(work)
    pairs = axis_pairs(found)
    if not pairs:
        return Ground((), None, None)
    pair = next((p for p in pairs if pair_id(p) == wanted), pairs[0])
    return Ground(pairs, map_frame(work, found, pair), map_problem(found, pair))


def sweep(work: Work, wanted: str) -> Iterator[object]:
    """The ground first, then the field row by row."""
    made = ground(work, wanted)
    yield made
    if made.problem is not None:
        from fluxlab.design.field_melts import field_melts
        from fluxlab.design.map_field import field

        yield from field(made.problem, field_melts(work), CELLS, CELLS)


def safe_region(work: Work, frame: MapFrame) -> Outline:
    """Where the musts hold for nine in ten of the likely ores. It takes its time, and a problem of its own."""
    from fluxlab.design.balance import balance
    from fluxlab.design.map_report import map_problem
    from fluxlab.design.map_safe import safe_outline

    return safe_outline(work, map_problem(balance(work), frame.pair), frame.outline)


def freed(work: Work, placed: Placed) -> Work:
    """The recipe with those rows free that a drag on the map has fixed, so that another drag can move them."""
    lines = tuple(
        replace(line, grams=None) if (line.flux, line.grams) in placed else line for line in work.recipe.lines
    )
    return work if lines == work.recipe.lines else replace(work, recipe=replace(work.recipe, lines=lines))


def fixed_since(before: Work, after: Work) -> Placed:
    """The rows that are fixed now and were free before, with their weights [g]."""
    were = {line.flux for line in before.recipe.lines if line.grams is not None}
    now = ((line.flux, line.grams) for line in after.recipe.lines)
    return frozenset((flux, grams) for flux, grams in now if grams is not None and flux not in were)


def try_at(work: Work, placed: Placed, problem: MapProblem, x: float, y: float) -> tuple[str, Work]:
    """The recipe at a point of the map with its free rows held there, quick enough to follow the hand."""
    work = freed(work, placed)
    from fluxlab.design import edits
    from fluxlab.design.map_report import recipe_at

    free = {line.flux for line in work.recipe.lines if line.grams is None}
    rows = tuple((flux, grams) for flux, grams in recipe_at(problem, x, y).weights if flux in free)
    return edits.paste_weights(work, rows)


def put_at(work: Work, placed: Placed, problem: MapProblem, point: Point, before: Point) -> tuple[str, Work]:
    """The edit that brings the recipe to a point of the map, and its label."""
    from fluxlab.design import edits
    from fluxlab.design.map_report import recipe_at
    from fluxlab.design.settle import settle

    work = freed(work, placed)
    label = _label(problem.pair, before, point)
    mend = settle(work, recipe_at(problem, *point).weights, label)
    _, made = getattr(edits, mend.edit)(work, *mend.arguments)
    return label, made


def _label(pair: AxisPair, before: Point, after: Point) -> str:
    """The step in words: "Degree 1.42 → 1.66 on the map"."""
    named = []
    for axis, old, new in zip((pair.x, pair.y), before, after, strict=True):
        figures = f"{old:.{axis.decimals}f}", f"{new:.{axis.decimals}f}"
        if figures[0] != figures[1]:
            named.append(f"{SHORT.get(axis.key, axis.label)} {figures[0]} → {figures[1]}")
    words = f"{', '.join(named) or SHORT.get(pair.x.key, pair.x.label)} on the map"
    return words[:1].upper() + words[1:]


def place_of(report: Report, pair: AxisPair) -> Point | None:
    """Where the recipe of a report lies on the axes; None where it has no such quantity."""
    x, y = _value(report, pair.x), _value(report, pair.y)
    return None if x is None or y is None else (x, y)


def _value(report: Report, axis: Axis) -> float | None:
    if axis.key.startswith("flux:"):
        return next((line.grams for line in report.lines if f"flux:{line.flux}" == axis.key), None)
    if axis.key == "flux_to_ore":
        return report.flux_to_ore
    return next((target.value for target in report.targets if target.key == axis.key), None)


def broken_musts(report: Report) -> frozenset[str]:
    """The ends of targets, as the sides of the outline name them, that the recipe breaks."""
    return frozenset(
        f"{target.key}#{side}"
        for target in report.targets
        for side, state, kind in (("lo", "below", target.lo_kind), ("hi", "above", target.hi_kind))
        if target.on and target.state == state and kind == "must"
    )


def note(report: Report) -> str:
    """What the colours of the map mean."""
    return f"Pa·s at {show_number(report.work.recipe.pour_temperature, 0)} °C"
