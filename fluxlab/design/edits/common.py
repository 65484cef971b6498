"""What the edits share: replacing a part of the work, and figures in labels."""

from dataclasses import replace
from typing import Any

from fluxlab.design.recipe import Line, Recipe, Work

Edited = tuple[str, Work]


def with_recipe(work: Work, **changes: Any) -> Work:
    """The work with fields of its recipe replaced."""
    return replace(work, recipe=replace(work.recipe, **changes))


def with_ore(work: Work, **changes: Any) -> Work:
    """The work with fields of its ore type replaced."""
    return with_recipe(work, ore=replace(work.recipe.ore, **changes))


def with_shelf(work: Work, **changes: Any) -> Work:
    """The work with fields of its shelf replaced."""
    return replace(work, shelf=replace(work.shelf, **changes))


def flux_name(work: Work, uid: str) -> str:
    """The name of a flux as the operator knows it; its id if the shelf has lost it."""
    component = work.shelf.flux(uid)
    return component.name if component else uid


def grams(value: float | None) -> str:
    """A mass for a label: "12.5 g", "free" for None."""
    return "free" if value is None else f"{figure(value)} g"


def figure(value: float | None) -> str:
    """A figure for a label, without needless zeros."""
    return "none" if value is None else f"{value:.10g}"


def line_index(recipe: Recipe, flux: str) -> int | None:
    """Row of a flux in the table, None if it has none."""
    return next((i for i, line in enumerate(recipe.lines) if line.flux == flux), None)


def with_line(work: Work, index: int, line: Line) -> Work:
    """The work with one row of the flux table replaced."""
    lines = work.recipe.lines
    return with_recipe(work, lines=(*lines[:index], line, *lines[index + 1 :]))


def replace_by_uid(items: tuple[Any, ...], item: Any) -> tuple[Any, ...]:
    """The items with the one of the same id replaced, or the item appended."""
    if any(i.uid == item.uid for i in items):
        return tuple(item if i.uid == item.uid else i for i in items)
    return (*items, item)
