"""What the pot asks of the rows that drive it, and what it keeps out of the slag, for the next round of the solver."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluxlab.design.charge import Fluxes
from fluxlab.design.layer_volume import layer_volume, metal_volume
from fluxlab.design.no_flux import NONE, NoFlux, no_flux
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.pot_oxygen import elements_of, native_metals, pot_oxygen, wanted_lead
from fluxlab.design.recipe import Target, Work
from fluxlab.design.row_roles import Agents
from fluxlab.fusion.brought_down import bare_iron
from fluxlab.fusion.deportment import pot_state
from fluxlab.fusion.pot_of import bases_of, pot_of, slag_keeps, without_salt
from fluxlab.fusion.redox_types import Wall
from fluxlab.fusion.sulphate import sulphate
from fluxlab.fusion.sulphate_left import sulphate_left
from fluxlab.fusion.sulphur_wanted import iron_in_all, iron_wanted, nitre_in_all
from fluxlab.fusion.where import Bases
from fluxlab.fusion.where_types import layer_masses
from fluxlab.materials.oxides import Vec
from fluxlab.ore.feed_types import Feed
from fluxlab.vessel.profile import Profile

DRIVEN = frozenset({"reducer_budget", "iron_for_sulphur", "nitre_for_sulphur"})
"""Targets whose ends the pot itself sets."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the charge asks for so that its sulphur makes no matte: metallic `iron` [g], or `nitre` [g KNO3]."""

    iron: float = 0.0
    nitre: float = 0.0


@dataclass(frozen=True, slots=True)
class OxygenAsked:
    """Oxygen taken by all but the reducers of the rows, `others`, and the oxygen wanted of both, `demand` [g O]."""

    others: float = 0.0
    demand: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class PotAsks:
    """What the pot asks of the rows, what of the charge is no slag, and what of that lies `under` it [cm3].

    Silver, gold and the lead of a button that is aimed at are not in that volume.
    """

    wanted: Wanted
    oxygen: OxygenAsked
    none: NoFlux
    under: float = 0.0


NOTHING_ASKED = PotAsks(Wanted(), OxygenAsked(), NONE)


def has_a_say(work: Work, feed: Feed, rows: Fluxes, each: Agents) -> bool:
    """Whether the pot has a say: there is sulphur, a reducer or iron may weigh something, or it sets an end of a
    target.

    What the wall of a pot by itself brings down is a few grams at most and is left in the slag.
    """
    driven = any(t.key in DRIVEN and t.on for t in work.recipe.targets)
    acts = (each.reducers + each.iron + each.sulphide > 0.0) & (rows.hi > 0.0)
    return driven or feed.sulphur > 0.0 or bool(acts.any())


def pot_asks(
    work: Work, feed: Feed, rows: Fluxes, each: Agents, x: Vec, pot: Profile | None, targets: Sequence[Target]
) -> PotAsks:
    """What the pot asks of the rows and keeps out of the slag, with so much of each row [g]."""
    recipe = work.recipe
    tables = own_tables(recipe.pot_figures, recipe.route)
    there = pot_oxygen(work, feed, rows, x, pot, tables)
    aim = wanted_lead(targets)
    redox = there.redox(aim)
    # unless a lead button is aimed at, what the wall brings down by itself is left in the slag: see `has_a_say`
    by_wall = aim is None and there.wall.likely > 0.0
    left = replace(there, wall=Wall()).redox(aim) if by_wall else redox
    elements = elements_of(feed, rows, x)
    copper = elements.get("Cu", 0.0)
    bound = iron_wanted(left.unburnt, there.sulphate_sulphur, copper)
    burnt = sulphate(left.burnt, there.melt, tables.sulphate)
    salts = sulphate_left(there.reducible, left, there.melt, burnt, recipe.pour_temperature, tables.sulphur)
    held, sulphur, dissolves = pot_of(
        elements,
        feed.charge,
        without_salt(there.slag, burnt.alkali + salts.alkali),
        left,
        bound,
        pot_state(left, feed.charge, bound, tables.deportment),
        flux_lead=there.rows.lead,
        native=native_metals(feed, rows, x),
        sulphate_sulphur=there.sulphate_sulphur,
        tables=tables,
    )
    bases, carbon = bases_of(held, sulphur.value, dissolves.value), float(each.reducers @ x)
    none = no_flux(left, there.slag, slag_keeps(bases.elements, bare_iron(left)), aim is not None, burnt, salts)
    return PotAsks(
        Wanted(
            iron_in_all(redox, there.rows.iron, there.sulphate_sulphur, copper, tables).value,
            nitre_in_all(there.sulphides, there.melt, carbon, tables),
        ),
        OxygenAsked(redox.supply - redox.spare - carbon, redox.demand),
        none,
        _under(bases, recipe.pour_temperature, aim is not None),
    )


def _under(bases: Bases, at: float, steered: bool) -> float:
    """Volume of base metals, matte and speiss [cm3]; a lead button that is aimed at is counted elsewhere."""
    metals = {s: w.button for s, w in bases.elements.items() if w.button > 0.0 and not (steered and s == "Pb")}
    matte, speiss = layer_masses(bases.elements, bases.matte, bases.speiss)
    layers = layer_volume("matte", matte + bases.matte.dissolved) + layer_volume("speiss", speiss)
    return metal_volume(metals, at) + layers
