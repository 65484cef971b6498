"""Edits of the operator's own figures in place of shipped ones of memory or judgement."""

from fluxlab.design.edits.common import Edited, figure, with_recipe
from fluxlab.design.recipe import Work


def set_crystal_figure(work: Work, name: str, value: float | None) -> Edited:
    """Set one of the operator's own limits for crystals [mass % or degC]; None = the shipped one.

    A figure that makes no sense leaves the work as it was, and the label says why.
    """
    from fluxlab.design.crystal_figures import sensible_crystals

    others = tuple(pair for pair in work.recipe.crystal_figures if pair[0] != name)
    said = " ".join(part for part in name.split("|") if part)
    if value is None:
        return f"Crystals: {said} as shipped", with_recipe(work, crystal_figures=others)
    _, refused = sensible_crystals({name: value})
    if refused:
        return refused[0].sentence, work
    kept = tuple(sorted((*others, (name, value))))
    return f"Crystals: {said} {figure(value)}", with_recipe(work, crystal_figures=kept)


def set_pot_figure(work: Work, name: str, value: float | None) -> Edited:
    """Set one of the operator's own figures of the pot, in the unit of its row in the report; None = the shipped one.

    A figure that makes no sense leaves the work as it was, and the label says why.
    """
    from fluxlab.design.pot_figures import named, refusal

    recipe = work.recipe
    others = tuple(pair for pair in recipe.pot_figures if pair[0] != name)
    if value is None:
        return f"In the pot: {named(name)} as shipped", with_recipe(work, pot_figures=others)
    if why := refusal(dict(others), recipe.route, name, value):
        return why, work
    kept = tuple(sorted((*others, (name, value))))
    return f"In the pot: {named(name)} {figure(value)}", with_recipe(work, pot_figures=kept)
