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
from fluxlab.design.pour_volume import volume_factor
from fluxlab.design.recipe import GoalName, Recipe, Target, Work
from fluxlab.design.resolve import resolved, target_issues
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
    """One solved recipe: `n` [mol] the oxides of the slag, `x` [g] the rows of the flux table, `button` [g Pb]."""

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
    issues: tuple[Issue, ...]


def balance(work: Work) -> Balance:
    """The recipe solved. Always an answer; what is odd about the input stands in its issues."""
    recipe = work.recipe
    rows = fluxes(work)
    pot, mould, issues = _vessels(work)
    weights = rows.fixed
    steered = any(t.key == "lead_button" and t.on for t in recipe.targets)
    moves = _answer_moves_the_question(rows) or pot is not None or mould is not None
    nitrates = nitrate_rows(rows, work.shelf)
    melt = _first_melt(work, rows)
    found = _round(work, with_nitre(rows, nitrates, melt), pot, mould, weights, steered, melt)
    for _ in range(_ROUNDS if moves else 0):
        asked = found.x
        factor = volume_factor(found.n, recipe.pour_temperature)
        melt = melt_of(found.n)
        kept = None if steered else found.compiled
        found = _round(work, with_nitre(rows, nitrates, melt), pot, mould, asked, steered, melt, factor, kept)
        if float(np.abs(found.x - asked).max(initial=0.0)) <= _SAME:
            break
    return replace(found, issues=(*found.feed.issues, *_of_rows(found), *target_issues(recipe.targets), *issues))


def _first_melt(work: Work, rows: Fluxes) -> Melt:
    """The melt of the feed and of the rows that cannot move."""
    recipe = work.recipe
    return melt_of(material(recipe.ore, recipe.pot_feed, recipe.charge, 1.0, recipe.roast).oxides + rows.Y @ rows.fixed)


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


def _round(
    work: Work,
    rows: Fluxes,
    pot: Profile | None,
    mould: Profile | None,
    weights: Vec,
    steered: bool,
    melt: Melt,
    factor: float = 1.0,
    compiled: Compiled | None = None,
) -> Balance:
    """One solve, with iron and metals as the given weights [g] leave them and the melt's volume by this factor.

    A problem that is compiled already takes over the new amounts, volumes and limits, the rest staying as it was.
    """
    recipe = work.recipe
    ferric = _ferric(recipe, rows, weights)
    feed = material(recipe.ore, recipe.pot_feed, recipe.charge, ferric, recipe.roast)
    ore_lead = lead_of_feed(feed, melt)
    setting = replace(_setting(recipe, rows, feed, pot, mould, weights, ore_lead, steered), volume_factor=factor)
    targets = resolved(recipe.targets, feed, rows)
    if compiled is None:
        compiled, _ = compile(_problem(work, rows, setting, targets, feed.oxides, steered))
    else:
        now = limits(setting, targets)
        for key, num in volume_rows(setting, targets).items():
            if key in compiled.index:
                redefine(compiled, key, num)
        update(compiled, b=feed.oxides, limits={key: now[key] for key in compiled.index if key in now})
    result = _solved(compiled, recipe)
    x = result.x[: len(rows.lines)]
    n, button = feed.oxides + rows.Y @ x, 0.0
    if steered:
        n = n.copy()
        button = min(max(float(rows.power @ x) + ore_lead, 0.0), float(n[_PB]) * _LEAD)
        n[_PB] -= button / _LEAD
    return Balance(feed, rows, targets, setting, compiled, result, ferric, n, x, button, ())


def _solved(compiled: Compiled, recipe: Recipe) -> Result:
    """The answer to the problem; a limit on viscosity is left in it as the tangent at the answer."""
    limited = VISCOSITY if VISCOSITY in compiled.index else ""
    if recipe.goal == "thinnest slag":
        return thinnest(compiled, law(recipe.pour_temperature), limited)
    return solve_under(compiled, limited, law(recipe.pour_temperature)) if limited else solve(compiled)


def _problem(work: Work, rows: Fluxes, setting: Setting, targets: tuple[Target, ...], b: Vec, steered: bool) -> Problem:
    recipe, count = work.recipe, len(rows.lines)
    house = dict(recipe.house)
    cost = np.nan_to_num(rows.price) if recipe.goal == "least cost" else np.ones(count)
    problem = Problem(
        oxides=OXIDES,
        components=tuple(line.flux for line in rows.lines),
        Y=rows.Y,
        b=b,
        cost=cost,
        lo=rows.lo,
        hi=rows.hi,
        ref=np.array([house.get(line.flux, 0.0) for line in rows.lines]),
        scale=np.full(count, _SCALE * recipe.charge if recipe.charge > 0.0 else 30.0),
        step=np.full(count, work.shelf.balance_step),
        windows=windows(setting, targets),
        goal=GOALS[recipe.goal],
        oxide_mass=MASS,
    )
    return _with_button(problem, rows, setting.ore_lead) if steered else problem


def _with_button(p: Problem, rows: Fluxes, ore_lead: float) -> Problem:
    """The problem with the lead of the button taken out of the slag.

    What the feed itself throws down or keeps up is a row of its own, locked at one: as an amount of PbO it could be
    less than nothing, which no amount may be.
    """
    Y = p.Y.copy()
    Y[_PB] -= rows.power / _LEAD
    feed_column = np.zeros((len(OXIDES), 1))
    feed_column[_PB] = -ore_lead / _LEAD

    def longer(f: Functional) -> Functional:
        return Functional(f.u, np.append(f.v, 0.0), f.c)

    return replace(
        p,
        components=(*p.components, FEED),
        Y=np.hstack((Y, feed_column)),
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


def _setting(
    recipe: Recipe,
    rows: Fluxes,
    feed: Feed,
    pot: Profile | None,
    mould: Profile | None,
    weights: Vec,
    ore_lead: float,
    steered: bool,
) -> Setting:
    at = recipe.pour_temperature
    precious = {"Ag": feed.silver, "Au": feed.gold}
    button = max(float(rows.power @ weights) + ore_lead, 0.0) if steered else 0.0
    if steered:
        lead = button
    else:
        lead = feed.lead + float(rows.Y[_PB] @ weights) * _LEAD
    copper = feed.copper + float(rows.Y[INDEX["Cu2O"]] @ weights) * 2.0 * atomic_mass("Cu")
    metal = precious | ({"Pb": button} if steered else {})
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
        pot=pot,
        mould=mould,
        temperature=at,
    )
