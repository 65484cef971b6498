"""Edits of the plan: charge, route, targets, vessels, temperatures, names."""

from collections.abc import Sequence
from dataclasses import replace

from fluxlab.design.edits.common import Edited, figure, grams, with_recipe
from fluxlab.design.recipe import GoalName, Line, RouteName, Target, Work
from fluxlab.ore.ore_types import Stage

# Targets given in grams belong to a charge and follow it.
SCALED_TARGETS = frozenset(
    {"lead_button", "litharge_left", "soda_for_sulphur", "iron_for_sulphur", "nitre_for_sulphur"}
)


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def set_charge(work: Work, mass: float) -> Edited:
    """Set the mass of what goes into the pot [g]; fixed rows, their limits and the house recipe keep pace."""
    recipe = work.recipe
    label = f"Charge {grams(recipe.charge)} → {grams(mass)}"
    if recipe.charge <= 0 or mass <= 0:
        return label, with_recipe(work, charge=mass)
    f = mass / recipe.charge
    lines = tuple(
        replace(line, grams=_times(line.grams, f), least=_times(line.least, f), most=_times(line.most, f))
        for line in recipe.lines
    )
    targets = tuple(
        replace(t, lo=_times(t.lo, f), hi=_times(t.hi, f)) if t.key in SCALED_TARGETS else t for t in recipe.targets
    )
    house = tuple((flux, weight * f) for flux, weight in recipe.house)
    return label, with_recipe(work, charge=mass, lines=lines, targets=targets, house=house)


def set_pot_feed(work: Work, stage: Stage) -> Edited:
    """Say whether raw ore, concentrate or calcine goes into the pot."""
    return f"Into the pot goes {stage}", with_recipe(work, pot_feed=stage)


def set_target(work: Work, target: Target) -> Edited:
    """Set a target's band, its kinds, or switch it on or off."""
    old = next((t for t in work.recipe.targets if t.key == target.key), None)
    targets = (
        (*work.recipe.targets, target)
        if old is None
        else tuple(target if t.key == target.key else t for t in work.recipe.targets)
    )
    name = target.key.replace("cap:", "").replace("_", " ")
    if not target.on:
        label = f"Target {name} off"
    else:
        low = "" if target.lo is None else f" from {figure(target.lo)}"
        high = "" if target.hi is None else f" to {figure(target.hi)}"
        label = f"Target {name}{low}{high}" if low or high else f"Target {name}"
    return label, with_recipe(work, targets=targets)


def set_targets(work: Work, targets: Sequence[Target]) -> Edited:
    """Set several targets at once: one undo step."""
    labels = []
    for target in targets:
        label, work = set_target(work, target)
        labels.append(label)
    return (labels[0] if len(labels) == 1 else f"{len(labels)} targets"), work


def set_route(work: Work, route: RouteName) -> Edited:
    """Change the route: its targets replace the old ones and rows that it works with are added free.

    Rows that only the old route works with go, unless the operator has put a weight or a limit on them. A pot that does
    not stand the route is changed for one that does, where the shelf has one.
    """
    from fluxlab.design.start import route_rows, route_targets, suited_pot

    recipe, shelf = work.recipe, work.shelf
    wanted = route_rows(route, shelf)
    leaving = set(route_rows(recipe.route, shelf)) - set(wanted)
    kept = tuple(line for line in recipe.lines if line.flux not in leaving or _set_by_hand(line))
    present = {line.flux for line in kept}
    lines = kept + tuple(Line(uid) for uid in wanted if uid not in present)
    crucible = suited_pot(shelf, recipe.crucible, recipe.charge, route)
    label, pot = f"Route {route}", shelf.crucible(crucible)
    if pot is not None and crucible != recipe.crucible:
        label += f", pot: {pot.name}"
    return label, with_recipe(work, route=route, targets=route_targets(route), lines=lines, crucible=crucible)


def _set_by_hand(line: Line) -> bool:
    return any(weight is not None for weight in (line.grams, line.least, line.most))


def set_goal(work: Work, goal: GoalName) -> Edited:
    """Choose what the solver aims at."""
    return f"Aim: {goal}", with_recipe(work, goal=goal)


def set_ferric_share(work: Work, share: float | None) -> Edited:
    """Set the part of the iron that counts as Fe2O3 [0..1], None = by the route."""
    word = "by the route" if share is None else f"{100 * share:.4g} %"
    return f"Iron left ferric: {word}", with_recipe(work, ferric_share=share)


def set_pour_temperature(work: Work, celsius: float) -> Edited:
    """Set the pour temperature [degC]."""
    return f"Pour at {figure(celsius)} °C", with_recipe(work, pour_temperature=celsius)


def set_hold(work: Work, minutes: float) -> Edited:
    """Set how long the quiet melt is held before the pour [min]."""
    return f"Hold {figure(minutes)} min", with_recipe(work, hold=minutes)


def set_feeds(work: Work, feeds: int) -> Edited:
    """Set in how many parts the charge goes into the pot."""
    return ("Feed all at once" if feeds <= 1 else f"Feed in {feeds} parts"), with_recipe(work, feeds=max(1, feeds))


def set_mould_preheat(work: Work, celsius: float | None) -> Edited:
    """Set the temperature of the mould at the pour [degC], None = not confirmed."""
    word = "not confirmed" if celsius is None else f"{figure(celsius)} °C"
    return f"Mould preheat {word}", with_recipe(work, mould_preheat=celsius)


def set_dry(work: Work, dry: bool) -> Edited:
    """Record whether charge, flux, pot and mould were dried."""
    return "Dried" if dry else "Not confirmed dry", with_recipe(work, dry=dry)


def set_scrap(work: Work, scrap: bool) -> Edited:
    """Record whether metal scrap or unknown pieces are in the charge."""
    return "Scrap in the charge" if scrap else "No scrap in the charge", with_recipe(work, scrap=scrap)


def set_crucible(work: Work, uid: str) -> Edited:
    """Choose the pot."""
    pot = work.shelf.crucible(uid)
    return f"Pot: {pot.name if pot else uid}", with_recipe(work, crucible=uid)


def set_mould(work: Work, uid: str) -> Edited:
    """Choose the mould."""
    mould = work.shelf.mould(uid)
    return f"Mould: {mould.name if mould else uid}", with_recipe(work, mould=uid)


def rename_recipe(work: Work, name: str) -> Edited:
    """Give the recipe another name."""
    return f"Rename to {name}", with_recipe(work, name=name)


def set_notes(work: Work, text: str) -> Edited:
    """Replace the recipe's notes."""
    return "Notes", with_recipe(work, notes=text)


def keep_as_house(work: Work, weights: Sequence[tuple[str, float]]) -> Edited:
    """Keep these weights [g] as the recipe to stay close to."""
    return "Keep as house recipe", with_recipe(work, house=tuple(weights))
