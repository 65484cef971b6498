"""What the pot asks of the rows that drive it, and what it keeps out of the slag, for the next round of the solver."""

from collections.abc import Iterable
from dataclasses import dataclass

from fluxlab.design.charge import Fluxes
from fluxlab.design.no_flux import NONE, NoFlux, no_flux
from fluxlab.design.pot_oxygen import pot_oxygen, wanted_lead
from fluxlab.design.recipe import Target, Work
from fluxlab.design.row_roles import Agents
from fluxlab.fusion.sulphur_wanted import iron_in_all, nitre_in_all
from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, Vec
from fluxlab.ore.feed_types import Feed
from fluxlab.vessel.profile import Profile

DRIVEN = frozenset({"reducer_budget", "iron_for_sulphur", "nitre_for_sulphur"})
"""Targets whose ends the pot itself sets."""
_COPPER = 2.0 * atomic_mass("Cu")


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
    """What the pot asks of the rows, and what of the charge is no flux."""

    wanted: Wanted
    oxygen: OxygenAsked
    none: NoFlux


NOTHING_ASKED = PotAsks(Wanted(), OxygenAsked(), NONE)


def has_a_say(work: Work, feed: Feed, rows: Fluxes, each: Agents) -> bool:
    """Whether the pot has a say: there is sulphide or metallic iron, or a target is on whose ends it sets."""
    driven = any(t.key in DRIVEN and t.on for t in work.recipe.targets)
    return driven or feed.sulphide > 0.0 or bool(((each.iron + each.sulphide > 0.0) & (rows.hi > 0.0)).any())


def pot_asks(
    work: Work, feed: Feed, rows: Fluxes, each: Agents, x: Vec, pot: Profile | None, targets: Iterable[Target]
) -> PotAsks:
    """What the pot asks of the rows and keeps out of the slag, with so much of each row [g]."""
    there = pot_oxygen(work, feed, rows, x, pot)
    redox = there.redox(wanted_lead(targets))
    iron, carbon = there.rows.iron, float(each.reducers @ x)
    copper = feed.elements.get("Cu", 0.0) + float(rows.Y[INDEX["Cu2O"]] @ x) * _COPPER
    return PotAsks(
        Wanted(
            iron_in_all(redox, iron, there.sulphate_sulphur, copper).value,
            nitre_in_all(there.sulphides, there.reducible, there.melt, carbon),
        ),
        OxygenAsked(redox.supply - carbon, redox.demand),
        no_flux(redox, there.slag, iron),
    )
