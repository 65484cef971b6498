"""The problem of a recipe for the solver: rows, targets, and what the round before says of iron, metals and the pot."""

from dataclasses import dataclass, replace

import numpy as np

from fluxlab.blend.problem import Compiled
from fluxlab.blend.types import Functional, Goal, Problem
from fluxlab.design.charge import Fluxes
from fluxlab.design.no_flux import NoFlux, salt_volume
from fluxlab.design.pot_asks import PotAsks
from fluxlab.design.recipe import GoalName, Target, Work
from fluxlab.design.row_roles import Agents
from fluxlab.design.windows import Setting, windows
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.redox_types import Wall
from fluxlab.fusion.tables import Tables
from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, MASS, OXIDES, Vec
from fluxlab.ore.feed_types import Feed
from fluxlab.slag.metals import liquid_metal_volume
from fluxlab.vessel.profile import Profile

GOALS: dict[GoalName, Goal] = {
    "least flux": Goal("mass"),
    "least cost": Goal("cost"),
    "closest to house recipe": Goal("closest"),
    # The thinnest recipe is found first; the problem then stays close to it.
    "thinnest slag": Goal("closest"),
}
PB, LEAD = INDEX["PbO"], atomic_mass("Pb")
FEED = "@feed"
"""The locked row that stands for the lead and the alkali which the feed itself takes out of the slag or puts in."""
# A flux moves about as easily as a third of the charge.
_SCALE = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Question:
    """What stays the same from round to round; `wall` [g C] gives the carbon of the pot, `tables` are those of the pot,
    the operator's own figures in them."""

    work: Work
    rows: Fluxes
    agents: Agents
    nitrates: tuple[Vec, Vec]
    pot: Profile | None
    mould: Profile | None
    wall: Wall
    steered: bool
    asks: bool
    tables: Tables


@dataclass(frozen=True, slots=True, eq=False)
class Round:
    """What one round takes from the one before: weights [g], the melt, the volume factor, what the pot asks."""

    weights: Vec
    melt: Melt
    pot: PotAsks
    factor: float = 1.0
    compiled: Compiled | None = None
    near: Vec | None = None


def problem_of(
    q: Question, rows: Fluxes, setting: Setting, targets: tuple[Target, ...], b: Vec, none: NoFlux
) -> Problem:
    """The problem of one round: `b` [mol] the oxides that the feed brings, less what of its alkali is no flux."""
    recipe, shelf, count = q.work.recipe, q.work.shelf, len(rows.lines)
    house = dict(recipe.house)
    cost = np.nan_to_num(rows.price) if recipe.goal == "least cost" else np.ones(count)
    problem = Problem(
        oxides=OXIDES,
        components=tuple(line.flux for line in rows.lines),
        Y=none.left(rows.Y),
        b=b,
        cost=cost,
        lo=rows.lo,
        hi=rows.hi,
        ref=np.array([house.get(line.flux, 0.0) for line in rows.lines]),
        scale=np.full(count, _SCALE * recipe.charge if recipe.charge > 0.0 else 30.0),
        step=np.full(count, shelf.balance_step),
        windows=windows(setting, targets),
        goal=GOALS[recipe.goal],
        oxide_mass=MASS,
    )
    if not (q.steered or q.asks):
        return problem
    taken = -none.ahead
    if q.steered:
        taken[PB] -= setting.ore_lead / LEAD
        problem.Y[PB] -= rows.power / LEAD
    return _with_feed(problem, taken)


def _with_feed(p: Problem, taken: Vec) -> Problem:
    """The problem with what the feed itself takes out of the slag or puts in (oxides) [mol].

    It is a row of its own, locked at one: as an amount it could be less than nothing, which no amount may be.
    """

    def longer(f: Functional) -> Functional:
        return Functional(f.u, np.append(f.v, 0.0), f.c)

    return replace(
        p,
        components=(*p.components, FEED),
        Y=np.hstack((p.Y, taken[:, None])),
        cost=np.append(p.cost, 0.0),
        lo=np.append(p.lo, 1.0),
        hi=np.append(p.hi, 1.0),
        ref=np.append(p.ref, 1.0),
        scale=np.append(p.scale, 1.0),
        step=np.append(p.step, 1.0),
        windows=tuple(replace(w, num=longer(w.num), den=None if w.den is None else longer(w.den)) for w in p.windows),
    )


def setting_of(q: Question, rows: Fluxes, feed: Feed, now: Round, ore_lead: float) -> Setting:
    """What the targets of one round are measured against; `ore_lead` [g Pb] the feed itself and the wall of
    the pot bring down."""
    recipe, weights = q.work.recipe, now.weights
    at = recipe.pour_temperature
    precious = {"Ag": feed.silver, "Au": feed.gold}
    there = feed.lead + float(rows.Y[PB] @ weights) * LEAD
    lead = max(min(float(rows.power @ weights) + ore_lead, there), 0.0) if q.steered else there
    copper = feed.copper + float(rows.Y[INDEX["Cu2O"]] @ weights) * 2.0 * atomic_mass("Cu")
    metal = precious | ({"Pb": lead} if q.steered else {})
    return Setting(
        fluxes=rows,
        charge=feed.charge,
        heap=feed.charge / feed.bulk_density if feed.bulk_density > 0.0 else 0.0,
        gangue=feed.earthy_gangue,
        metal_volume=liquid_metal_volume(metal, at).volume.value,
        cover_metal=liquid_metal_volume(precious | {"Pb": lead, "Cu": copper}, at).volume.value,
        ore_lead=ore_lead,
        sulphur=feed.sulphur,
        feeds=max(1, recipe.feeds),
        pot=q.pot,
        mould=q.mould,
        temperature=at,
        volume_factor=now.factor,
        agents=q.agents,
        salt_volume=salt_volume(now.pot.none, at),
        under_volume=now.pot.under,
        borax_left=1.0 - now.pot.none.share,
        oxygen=now.pot.oxygen,
    )
