"""The solve of a recipe: feed, fluxes and targets brought together, and what the solver made of them."""

from dataclasses import dataclass, replace

import numpy as np

from fluxlab.blend.problem import Compiled, compile, redefine, update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Result
from fluxlab.blend.viscosity_cut import solve_under, thinnest
from fluxlab.design.charge import Fluxes, fluxes
from fluxlab.design.lead_law import lead_of_feed, lead_of_wall, nitrate_rows, with_iron, with_nitre
from fluxlab.design.melt_law import VISCOSITY, law
from fluxlab.design.no_flux import NoFlux
from fluxlab.design.pot_asks import NOTHING_ASKED, PotAsks, has_a_say, pot_asks
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.pot_oxygen import pot_oxygen, wall_of_pot, wanted_lead
from fluxlab.design.pour_volume import volume_factor
from fluxlab.design.question import LEAD, PB, Question, Round, problem_of, setting_of
from fluxlab.design.recipe import Recipe, Target, Work
from fluxlab.design.resolve import resolved, target_issues
from fluxlab.design.row_roles import agents
from fluxlab.design.windows import Setting, limits, volume_rows
from fluxlab.fusion.melt import melt_of
from fluxlab.fusion.redox_types import Wall
from fluxlab.fusion.routes import routes
from fluxlab.fusion.tables import Tables
from fluxlab.issue import Issue, Severity
from fluxlab.materials.oxides import INDEX, Vec
from fluxlab.ore.feed import feed as material
from fluxlab.ore.feed_types import Feed
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile

# Iron, lead and the melt's volume depend on the answer; so many rounds, fewer only where another would change nothing
# that counts [g], so that nothing jumps.
_ROUNDS, _SAME = 4, 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """One solved recipe: `n` [mol] the oxides of the slag, `x` [g] the rows of the flux table, `button` [g Pb].

    `whole` [mol] are the oxides of the charge, with those that are no flux (`none`) and those that the button takes;
    the problem was solved with what was `assumed` to be no flux. `tables` are those of the pot.
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
    tables: Tables


def balance(work: Work) -> Balance:
    """The recipe solved. Always an answer; what is odd about the input stands in its issues."""
    recipe = work.recipe
    rows = with_iron(fluxes(work), work.shelf)
    pot, mould, issues = _vessels(work)
    steered = any(t.key == "lead_button" and t.on for t in recipe.targets)
    first = material(recipe.ore, recipe.pot_feed, recipe.charge, 1.0, recipe.roast)
    each = agents(rows, work.shelf)
    asks = has_a_say(work, first, rows, each)
    moves = asks or _answer_moves_the_question(rows) or pot is not None or mould is not None
    tables = own_tables(recipe.pot_figures, recipe.route)
    wall = wall_of_pot(work, pot, tables)
    q = Question(work, rows, each, nitrate_rows(rows, work.shelf), pot, mould, wall, steered, asks, tables)
    # the melt of the feed and of the rows that cannot move
    now = Round(rows.fixed, melt_of(first.oxides + rows.Y @ rows.fixed), NOTHING_ASKED)
    found, pot_has = _solve(q, now)
    for _ in range(_ROUNDS if moves else 0):
        factor = volume_factor(found.n, recipe.pour_temperature)
        kept = None if steered or asks else found.compiled
        near = found.result.x if asks else None
        now = Round(found.x, melt_of(found.whole), pot_has, factor, kept, near)
        found, pot_has = _solve(q, now)
        if float(np.abs(found.x - now.weights).max(initial=0.0)) <= _SAME:
            break
    return replace(found, issues=(*found.feed.issues, *_of_rows(found), *target_issues(recipe.targets), *issues))


def _pot_asks(q: Question, feed: Feed, x: Vec, targets: tuple[Target, ...]) -> PotAsks:
    """What the pot asks of the rows and keeps out of the slag, as an answer leaves it."""
    return pot_asks(q.work, feed, q.rows, q.agents, x, q.pot, targets) if q.asks else NOTHING_ASKED


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


def _solve(q: Question, now: Round) -> tuple[Balance, PotAsks]:
    """One solve, with iron and metals as the given weights leave them, and what the pot then asks.

    A problem that is compiled already takes over the new amounts, volumes and limits, the rest staying as it was.
    """
    recipe, rows = q.work.recipe, with_nitre(q.rows, q.nitrates, now.melt, q.tables)
    ferric = _ferric(q, rows, now.weights)
    feed = material(recipe.ore, recipe.pot_feed, recipe.charge, ferric, recipe.roast)
    ore_lead = lead_of_feed(feed, now.melt, q.tables) + (lead_of_wall(q.wall) if q.steered else 0.0)
    setting = setting_of(q, rows, feed, now, ore_lead)
    targets = resolved(recipe.targets, feed, rows, now.pot)
    b, compiled = now.pot.none.left(feed.oxides), now.compiled
    if compiled is None:
        compiled, _ = compile(problem_of(q, rows, setting, targets, b, now.pot.none))
    else:
        limit = limits(setting, targets)
        for key, num in volume_rows(setting, targets).items():
            if key in compiled.index:
                redefine(compiled, key, num)
        update(compiled, b=b, limits={key: limit[key] for key in compiled.index if key in limit})
    result = _solved(compiled, recipe, now.near)
    x = result.x[: len(rows.lines)]
    whole = feed.oxides + rows.Y @ x
    asks = _pot_asks(q, feed, x, targets)
    n, button = asks.none.slag(whole), 0.0
    if q.steered:
        button = min(max(float(rows.power @ x) + ore_lead, 0.0), float(n[PB]) * LEAD)
        n[PB] -= button / LEAD
    found = Balance(
        feed,
        rows,
        targets,
        setting,
        compiled,
        result,
        ferric,
        n,
        x,
        button,
        whole,
        asks.none,
        now.pot.none,
        (),
        q.tables,
    )
    return found, asks


def _solved(compiled: Compiled, recipe: Recipe, near: Vec | None) -> Result:
    """The answer to the problem; a limit on viscosity is left in it as the tangent at the answer."""
    limited = VISCOSITY if VISCOSITY in compiled.index else ""
    if recipe.goal == "thinnest slag":
        return thinnest(compiled, law(recipe.pour_temperature), limited)
    return solve_under(compiled, limited, law(recipe.pour_temperature), near) if limited else solve(compiled)


def _ferric(q: Question, rows: Fluxes, weights: Vec) -> float:
    """Share of the iron that stays ferric [0..1]: the recipe's own figure, its route's, or by the balance of oxygen.

    What the wall of a pot by itself takes to FeO is left ferric, as its lead is left in the slag (`has_a_say`).
    """
    recipe = q.work.recipe
    if recipe.ferric_share is not None:
        return recipe.ferric_share
    state = routes()[recipe.route].iron
    if state != "by reducer":
        return 1.0 if state == "ferric" else 0.0
    feed = material(recipe.ore, recipe.pot_feed, recipe.charge, 1.0, recipe.roast)
    there = replace(pot_oxygen(q.work, feed, rows, weights, q.pot, q.tables), wall=Wall())
    return there.redox(wanted_lead(recipe.targets)).ferric
