"""Where work begins: a new shelf, a new recipe for an ore type, and the demo that the first start opens on."""

from uuid import uuid4

from fluxlab import resources
from fluxlab.design.recipe import Line, Recipe, RouteName, Shelf, Target, Work
from fluxlab.ore.ore_types import OreType

NEW_CHARGE = 100.0
"""Charge that a new recipe starts with [g]."""


def new_id() -> str:
    """An id that no other ore type, recipe, flux or vessel has."""
    return uuid4().hex


def new_shelf() -> Shelf:
    """The shelf that a new library starts with: the common fluxes, a set of pots and moulds, a 0.1 g balance."""
    from fluxlab.materials.fluxes import shipped
    from fluxlab.vessel.house import house_crucibles, house_moulds

    return Shelf(fluxes=shipped(), crucibles=house_crucibles(), moulds=house_moulds())


def route_rows(route: RouteName, shelf: Shelf) -> tuple[str, ...]:
    """Fluxes that a route works with, as far as the shelf has them."""
    from fluxlab.fusion.routes import routes

    return tuple(uid for uid in routes()[route].free if shelf.flux(uid) is not None)


def route_targets(route: RouteName) -> tuple[Target, ...]:
    """Targets that a route starts with."""
    from fluxlab.fusion.routes import routes

    return tuple(
        Target(t.key, t.lo, t.hi, t.lo_kind, t.hi_kind, t.on, t.auto, t.convention) for t in routes()[route].targets
    )


def new_recipe(
    ore: OreType, shelf: Shelf, *, route: RouteName = "roast and melt", name: str = "", charge: float = NEW_CHARGE
) -> Recipe:
    """A first recipe for an ore type [charge in g]: the route's rows and targets, the shelf's first pot and mould."""
    return Recipe(
        uid=new_id(),
        name=name or f"{route.capitalize()}, {charge:.10g} g",
        ore=ore,
        charge=charge,
        pot_feed="calcine" if route == "roast and melt" or ore.stage == "calcine" else ore.stage,
        route=route,
        lines=tuple(Line(uid) for uid in route_rows(route, shelf)),
        targets=route_targets(route),
        crucible=_roomy_pot(shelf, charge, route),
        mould=_roomy_mould(shelf, charge),
    )


def suited_pot(shelf: Shelf, crucible: str, charge: float, route: RouteName) -> str:
    """The pot that is chosen, where its material stands the route, else the one that a new recipe would take."""
    from fluxlab.fusion.routes import routes

    chosen, materials = shelf.crucible(crucible), routes()[route].pots
    if chosen is None or chosen.material in (*materials, "other"):
        return crucible
    if not any(pot.material in materials for pot in shelf.crucibles):
        return crucible
    return _roomy_pot(shelf, charge, route)


# judgement: with two parts of flux a gram of charge takes 2.5 cm3 of powder, four when the pot is two thirds full, and
# gives 1 cm3 of melt, 1.5 with room in the mould
_POT_ROOM, _MOULD_ROOM = 4.0, 1.5


def _roomy_pot(shelf: Shelf, charge: float, route: RouteName) -> str:
    """The smallest pot of the best material for a route with room for a charge [g], the largest if none has."""
    from fluxlab.fusion.routes import routes
    from fluxlab.vessel.crucible import crucible_profile

    materials = routes()[route].pots
    best = next((m for m in materials if any(pot.material == m for pot in shelf.crucibles)), None)
    pots = [pot for pot in shelf.crucibles if best is None or pot.material == best]
    brims = [(p.brim, pot.uid) for pot in pots if (p := crucible_profile(pot)[0])]
    return _smallest(brims, _POT_ROOM * charge)


def _roomy_mould(shelf: Shelf, charge: float) -> str:
    """The smallest mould with room for a charge [g], the largest if none has."""
    from fluxlab.vessel.mould import mould_profile

    brims = [(p.brim, mould.uid) for mould in shelf.moulds if (p := mould_profile(mould)[0])]
    return _smallest(brims, _MOULD_ROOM * charge)


def _smallest(volumes: list[tuple[float, str]], wanted: float) -> str:
    if not volumes:
        return ""
    enough = [each for each in volumes if each[0] >= wanted]
    return min(enough)[1] if enough else max(volumes)[1]


def demo_work() -> Work:
    """The invented demo ore with a finished recipe on a new shelf."""
    from fluxlab.ore.demo import demo_ores

    shelf = new_shelf()
    ore = demo_ores()[0]
    plan = resources.toml("demo/recipe.toml")
    recipe = new_recipe(ore, shelf, name=plan["name"], charge=plan["charge"])
    return Work(
        Recipe(
            uid=plan["uid"],
            name=recipe.name,
            ore=ore,
            charge=recipe.charge,
            pot_feed=recipe.pot_feed,
            route=recipe.route,
            lines=recipe.lines,
            targets=recipe.targets,
            house=tuple(plan["house"].items()),
            crucible=plan["crucible"],
            mould=plan["mould"],
            pour_temperature=plan["pour_temperature"],
            hold=plan["hold"],
            mould_preheat=plan["mould_preheat"],
            dry=plan["dry"],
        ),
        shelf,
    )
