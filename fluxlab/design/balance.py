"""The solve of a recipe: feed, fluxes and targets brought together, and what the solver made of them."""

from dataclasses import dataclass, replace

import numpy as np

from fluxlab.blend.problem import Compiled, compile, redefine, update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Functional, Goal, Problem, Result
from fluxlab.blend.viscosity_cut import solve_under, thinnest
from fluxlab.design.charge import Fluxes, fluxes
from fluxlab.design.lead_law import lead_of_feed, nitrate_rows, with_nitre
from fluxlab.design.melt_law import VISCOSITY, law
from fluxlab.design.no_flux import NoFlux, salt_volume
from fluxlab.design.pot_asks import NOTHING_ASKED, PotAsks, has_a_say, pot_asks
from fluxlab.design.pour_volume import volume_factor
from fluxlab.design.recipe import GoalName, Recipe, Target, Work
from fluxlab.design.resolve import resolved, target_issues
from fluxlab.design.row_roles import Agents, agents
from fluxlab.design.windows import Setting, limits, volume_rows, windows
from fluxlab.fusion.currency import oxygen_of_lead
from fluxlab.fusion.demand import ahead_of_iron, demands, ferric_share
from fluxlab.fusion.melt import Melt, melt_of
from fluxlab.fusion.routes import routes
from fluxlab.issue import Issue, Severity
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import INDEX, MASS, OXIDES, Vec
from fluxlab.ore.feed import feed as material
from fluxlab.ore.feed_types import Feed
from fluxlab.slag.metals import liquid_metal_volume
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile

GOALS: dict[GoalName, Goal] = {
    "least flux": Goal("mass"),
    "least cost": Goal("cost"),
    "closest to house recipe": Goal("closest"),
    # The thinnest recipe is found first; the problem then stays close to it.
    "thinnest slag": Goal("closest"),
}
_PB, _PBO, _LEAD = INDEX["PbO"], MASS[INDEX["PbO"]], atomic_mass("Pb")
FEED = "@feed"
"""The locked row that stands for the lead which the feed itself throws down or keeps up."""
# Iron, lead and the melt's volume depend on the answer; so many rounds, fewer only where another would change nothing
# that counts [g], so that nothing jumps.
_ROUNDS, _SAME = 4, 1e-9
# A flux moves about as easily as a third of the charge.
_SCALE = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """One solved recipe: `n` [mol] the oxides of the slag, `x` [g] the rows of the flux table, `button` [g Pb].

    `whole` [mol] are the oxides of the charge, with those that are no flux (`none`) and those that the button takes;
    the problem was solved with what was `assumed` to be no flux.
    """

    feed: Feed
    fluxes: Fluxes
    targets: tuple[Target, ...]
    setting: Setting
    compiled: Compiled
    result: Result
    ferric_share: float
    n: Vec
    x: Vec
    button: float
    whole: Vec
    none: NoFlux
    assumed: NoFlux
    issues: tuple[Issue, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Question:
    """What stays the same from round to round."""

    work: Work
    rows: Fluxes
    agents: Agents
    nitrates: tuple[Vec, Vec]
    pot: Profile | None
    mould: Profile | None
    steered: bool
    asks: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Round:
    """What one round takes from the one before: weights [g], the melt, the volume factor, what the pot asks."""

    weights: Vec
    melt: Melt
    pot: PotAsks
    factor: float = 1.0
    compiled: Compiled | None = None
    near: Vec | None = None


def balance(work: Work) -> Balance:
    """The recipe solved. Always an answer; what is odd about the input stands in its issues."""
    recipe = work.recipe
    rows = fluxes(work)
    pot, mould, issues = _vessels(work)
    steered = any(t.key == "lead_button" and t.on for t in recipe.targets)
    first = material(recipe.ore, recipe.pot_feed, recipe.charge, 1.0, recipe.roast)
    each = agents(rows, work.shelf)
    asks = has_a_say(work, first, rows, each)
    moves = asks or _answer_moves_the_question(rows) or pot is not None or mould is not None
    q = _Question(work, rows, each, nitrate_rows(rows, work.shelf), pot, mould, steered, asks)
    # the melt of the feed and of the rows that cannot move
    found = _solve(q, _Round(rows.fixed, melt_of(first.oxides + rows.Y @ rows.fixed), NOTHING_ASKED))
    for _ in range(_ROUNDS if moves else 0):
        asked = found.x
        factor = volume_factor(found.n, recipe.pour_temperature)
        kept = None if steered or asks else found.compiled
        near = found.result.x if asks else None
        found = _solve(q, _Round(asked, melt_of(found.whole), _pot_asks(q, found), factor, kept, near))
        if float(np.abs(found.x - asked).max(initial=0.0)) <= _SAME:
            break
    return replace(found, issues=(*found.feed.issues, *_of_rows(found), *target_issues(recipe.targets), *issues))


def _pot_asks(q: _Question, found: Balance) -> PotAsks:
    """What the pot asks of the rows and keeps out of the slag, as an answer leaves it."""
    return pot_asks(q.work, found.feed, q.rows, q.agents, found.x, q.pot, found.targets) if q.asks else NOTHING_ASKED


def _of_rows(found: Balance) -> tuple[Issue, ...]:
    """Issues of the rows; a mere note only where the row weighs something."""
    weighed = {f"lines.{line.flux}" for line, g in zip(found.fluxes.lines, found.x, strict=True) if g > 0.0}
    return tuple(i for i in found.fluxes.issues if i.severity is not Severity.NOTE or i.where in weighed)


def _vessels(work: Work) -> tuple[Profile | None, Profile | None, tuple[Issue, ...]]:
    crucible, mould = work.shelf.crucible(work.recipe.crucible), work.shelf.mould(work.recipe.mould)
    pot, pot_issues = crucible_profile(crucible) if crucible else (None, ())
    cone, mould_issues = mould_profile(mould) if mould else (None, ())
    return pot, cone, (*pot_issues, *mould_issues)


def _answer_moves_the_question(rows: Fluxes) -> bool:
    free = rows.hi > rows.lo
    metal = rows.Y[[INDEX["PbO"], INDEX["Cu2O"]]].sum(axis=0) > 0.0
    return bool((free & ((rows.power != 0.0) | metal)).any())


def _solve(q: _Question, now: _Round) -> Balance:
    """One solve, with iron and metals as the given weights leave them.

    A problem that is compiled already takes over the new amounts, volumes and limits, the rest staying as it was.
    """
    recipe, rows = q.work.recipe, with_nitre(q.rows, q.nitrates, now.melt)
    ferric = _ferric(recipe, rows, now.weights)
    feed = material(recipe.ore, recipe.pot_feed, recipe.charge, ferric, recipe.roast)
    ore_lead = lead_of_feed(feed, now.melt)
    setting = _setting(q, rows, feed, now, ore_lead)
    targets = resolved(recipe.targets, feed, rows, now.pot)
    b, compiled = now.pot.none.left(feed.oxides), now.compiled
    if compiled is None:
        compiled, _ = compile(_problem(q, rows, setting, targets, b, now.pot.none))
    else:
        limit = limits(setting, targets)
        for key, num in volume_rows(setting, targets).items():
            if key in compiled.index:
                redefine(compiled, key, num)
        update(compiled, b=b, limits={key: limit[key] for key in compiled.index if key in limit})
    result = _solved(compiled, recipe, now.near)
    x = result.x[: len(rows.lines)]
    whole = feed.oxides + rows.Y @ x
    found = Balance(
        feed, rows, targets, setting, compiled, result, ferric, whole, x, 0.0, whole, now.pot.none, now.pot.none, ()
    )
    none = _pot_asks(q, found).none
    n, button = none.slag(whole, float(q.agents.iron @ x)), 0.0
    if q.steered:
        button = min(max(float(rows.power @ x) + ore_lead, 0.0), float(n[_PB]) * _LEAD)
        n[_PB] -= button / _LEAD
    return replace(found, n=n, button=button, none=none)


def _solved(compiled: Compiled, recipe: Recipe, near: Vec | None) -> Result:
    """The answer to the problem; a limit on viscosity is left in it as the tangent at the answer."""
    limited = VISCOSITY if VISCOSITY in compiled.index else ""
    if recipe.goal == "thinnest slag":
        return thinnest(compiled, law(recipe.pour_temperature), limited)
    return solve_under(compiled, limited, law(recipe.pour_temperature), near) if limited else solve(compiled)


def _problem(
    q: _Question, rows: Fluxes, setting: Setting, targets: tuple[Target, ...], b: Vec, none: NoFlux
) -> Problem:
    recipe, shelf, count = q.work.recipe, q.work.shelf, len(rows.lines)
    house = dict(recipe.house)
    cost = np.nan_to_num(rows.price) if recipe.goal == "least cost" else np.ones(count)
    problem = Problem(
        oxides=OXIDES,
        components=tuple(line.flux for line in rows.lines),
        Y=none.rows(rows.Y, q.agents),
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
        taken[_PB] -= setting.ore_lead / _LEAD
        problem.Y[_PB] -= rows.power / _LEAD
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


def _ferric(recipe: Recipe, rows: Fluxes, weights: Vec) -> float:
    """Share of the iron that stays ferric, by the recipe's own figure or by its route [0..1]."""
    if recipe.ferric_share is not None:
        return recipe.ferric_share
    state = routes()[recipe.route].iron
    if state != "by reducer":
        return ferric_share(state, 1.0)
    oxygen = oxygen_of_lead(float(rows.power @ weights))
    if oxygen <= 0.0:
        return 1.0
    feed = material(recipe.ore, recipe.pot_feed, recipe.charge, 1.0, recipe.roast)
    iron = feed.oxides[INDEX["FeO"]] / 2.0 + feed.oxides[INDEX["Fe2O3"]]
    # The iron of the rows is in the same pot and is reduced with it.
    iron += float((rows.Y[INDEX["FeO"]] / 2.0 + rows.Y[INDEX["Fe2O3"]]) @ weights)
    litharge = float(rows.Y[_PB] @ weights) * _PBO
    reducible = {**feed.reducible, "PbO": feed.reducible.get("PbO", 0.0) + litharge}
    return ferric_share(state, float(iron) * formula("Fe2O3").mass, oxygen, ahead_of_iron(demands(reducible)))


def _setting(q: _Question, rows: Fluxes, feed: Feed, now: _Round, ore_lead: float) -> Setting:
    recipe, weights = q.work.recipe, now.weights
    at = recipe.pour_temperature
    precious = {"Ag": feed.silver, "Au": feed.gold}
    button = max(float(rows.power @ weights) + ore_lead, 0.0) if q.steered else 0.0
    lead = button if q.steered else feed.lead + float(rows.Y[_PB] @ weights) * _LEAD
    copper = feed.copper + float(rows.Y[INDEX["Cu2O"]] @ weights) * 2.0 * atomic_mass("Cu")
    metal = precious | ({"Pb": button} if q.steered else {})
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
        borax_left=1.0 - now.pot.none.share,
        oxygen=now.pot.oxygen,
    )
