"""Edits of the flux table."""

from collections.abc import Sequence
from dataclasses import replace

from fluxlab.design.edits.common import Edited, flux_name, grams, line_index, with_line, with_recipe
from fluxlab.design.recipe import Line, Work


def fix_weight(work: Work, flux: str, weight: float | None) -> Edited:
    """Fix a row at a weight [g], or let it free with None. A flux without a row gets one."""
    index = line_index(work.recipe, flux)
    if index is None:
        return add_flux(work, flux, weight)
    line = work.recipe.lines[index]
    label = f"{flux_name(work, flux)} {grams(line.grams)} → {grams(weight)}"
    return label, with_line(work, index, replace(line, grams=weight))


def set_limits(work: Work, flux: str, least: float | None, most: float | None) -> Edited:
    """Set what a row may weigh at least and at most [g]."""
    index = line_index(work.recipe, flux)
    if index is None:
        return f"{flux_name(work, flux)} limits", work
    line = replace(work.recipe.lines[index], least=least, most=most)
    low = "any" if least is None else grams(least)
    high = "any" if most is None else grams(most)
    return f"{flux_name(work, flux)} at least {low}, at most {high}", with_line(work, index, line)


def add_flux(work: Work, flux: str, weight: float | None = None) -> Edited:
    """Add a row for a flux, free unless a weight [g] is given."""
    if line_index(work.recipe, flux) is not None:
        return f"{flux_name(work, flux)} is there", work
    lines = (*work.recipe.lines, Line(flux, weight))
    return f"Add {flux_name(work, flux)}", with_recipe(work, lines=lines)


def remove_flux(work: Work, flux: str) -> Edited:
    """Take a row out of the table."""
    lines = tuple(line for line in work.recipe.lines if line.flux != flux)
    return f"Remove {flux_name(work, flux)}", with_recipe(work, lines=lines)


def move_flux(work: Work, flux: str, index: int) -> Edited:
    """Move a row so that it stands at `index`."""
    at = line_index(work.recipe, flux)
    if at is None:
        return f"Move {flux_name(work, flux)}", work
    lines = list(work.recipe.lines)
    line = lines.pop(at)
    lines.insert(max(0, min(index, len(lines))), line)
    return f"Move {flux_name(work, flux)}", with_recipe(work, lines=tuple(lines))


def hide_flux(work: Work, flux: str, hidden: bool) -> Edited:
    """Hide a row or show it again; a hidden row stays out of the recipe."""
    index = line_index(work.recipe, flux)
    if index is None:
        return f"Hide {flux_name(work, flux)}", work
    verb = "Hide" if hidden else "Show"
    return f"{verb} {flux_name(work, flux)}", with_line(work, index, replace(work.recipe.lines[index], hidden=hidden))


def free_all(work: Work) -> Edited:
    """Let every row free."""
    return "Free all rows", with_recipe(work, lines=tuple(replace(line, grams=None) for line in work.recipe.lines))


def paste_weights(work: Work, rows: Sequence[tuple[str, float | None]]) -> Edited:
    """Fix several rows at once [g], adding those that are missing: one undo step."""
    for flux, weight in rows:
        _, work = fix_weight(work, flux, weight)
    return f"Paste {len(rows)} weights", work


def stay_close(work: Work, weights: Sequence[tuple[str, float]]) -> Edited:
    """Stay as close to these weights [g] as the targets allow: they become the house recipe, and the aim is to keep to
    it."""
    return "Keep close to these weights", with_recipe(work, house=tuple(weights), goal="closest to house recipe")


def swap_flux(work: Work, flux: str, by: str, weight: float | None = None) -> Edited:
    """Put another flux in the place of a row, free or fixed at a weight [g]; a row that it has already is used."""
    index = line_index(work.recipe, flux)
    if index is None or flux == by:
        return f"Swap {flux_name(work, flux)}", work
    label = f"{flux_name(work, by)} for {flux_name(work, flux)}"
    there = line_index(work.recipe, by)
    if there is None:
        return label, with_line(work, index, Line(by, weight))
    line = replace(work.recipe.lines[there], grams=weight, hidden=False)
    return label, remove_flux(with_line(work, there, line), flux)[1]
