"""Recipes for tests of the design room: invented ores on a new shelf."""

from dataclasses import replace

from fluxlab.design.recipe import Line, Recipe, Shelf, Target, Work
from fluxlab.design.report_types import Report
from fluxlab.design.start import new_recipe, new_shelf
from fluxlab.ore.ore_types import Grade, OreType, Share

CLEAN = OreType(
    "clean",
    "Clean sulphide",
    minerals=(
        Share("Pyrite", 40, 30, 50),
        Share("Quartz", 25, 18, 32),
        Share("Galena", 10, 6, 15),
        Share("Sphalerite (pure)", 10, 6, 14),
        Share("Calcite", 8, 4, 12),
        Share("Orthoclase", 7, 3, 12),
    ),
    silver=Grade(300, "oz/short ton"),
)
DIRTY = OreType(
    "dirty",
    "Gangue-rich sulphide",
    minerals=(
        Share("Quartz", 55, 45, 65),
        Share("Orthoclase", 20, 12, 28),
        Share("Calcite", 10, 5, 15),
        Share("Pyrite", 15, 10, 20),
    ),
    silver=Grade(50, "oz/short ton"),
)


def work_of(ore: OreType = CLEAN, route: str = "roast and melt", **recipe: object) -> Work:
    """A new recipe for an ore, dried and with a warm mould, fields replaced as given."""
    shelf = new_shelf()
    made = new_recipe(ore, shelf, route=route)  # type: ignore[arg-type]
    return Work(replace(made, dry=True, mould_preheat=200.0, **recipe), shelf)  # type: ignore[arg-type]


def equipped(work: Work) -> Work:
    """The work with the gear stated on the card of the workshop, without which no ticket prints."""
    card = replace(work.shelf.workshop, ppe=True)
    return replace(work, shelf=replace(work.shelf, workshop=card))


def pure_shelf(shelf: Shelf, **powers: float) -> Shelf:
    """The shelf with every flux pure, and lead powers replaced as given (id with _ for -)."""
    by_id = {uid.replace("_", "-"): power for uid, power in powers.items()}
    return replace(
        shelf,
        fluxes=tuple(
            replace(c, purity=1.0, purity_range=0.0, lead_power=by_id.get(c.uid, c.lead_power)) for c in shelf.fluxes
        ),
    )


def with_lines(work: Work, *lines: Line) -> Work:
    return replace(work, recipe=replace(work.recipe, lines=lines))


def with_targets(work: Work, *targets: Target) -> Work:
    return replace(work, recipe=replace(work.recipe, targets=targets))


def with_target(work: Work, target: Target) -> Work:
    kept = tuple(t for t in work.recipe.targets if t.key != target.key)
    return with_targets(work, *kept, target)


def grams(work: Work, report: object) -> dict[str, float]:
    return {line.flux: line.grams for line in report.lines}  # type: ignore[attr-defined]


def empty_recipe() -> Recipe:
    return Recipe("empty", "Nothing", OreType("none", "No ore"))


def musts_broken(report: Report) -> list[str]:
    """Targets of a report that had to hold and do not, by key."""
    return [
        t.key
        for t in report.targets
        if t.on and ((t.state == "below" and t.lo_kind == "must") or (t.state == "above" and t.hi_kind == "must"))
    ]
