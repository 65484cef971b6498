"""The report of a recipe: pure, complete and quick, the only thing that views, ticket and command line read."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from fluxlab.blend.explain import conflict, why
from fluxlab.blend.problem import update
from fluxlab.blend.rounding import round_recipe
from fluxlab.blend.solve import solve
from fluxlab.blend.types import KEPT_DOWN
from fluxlab.blend.words import conflict_sentence, note_issue
from fluxlab.design import verdicts as plain
from fluxlab.design.balance import Balance, balance
from fluxlab.design.cautions import cautions
from fluxlab.design.chance import chance
from fluxlab.design.facts_of import facts_of
from fluxlab.design.facts_pot import with_fluid, with_pot
from fluxlab.design.fill_report import fill_report
from fluxlab.design.fluid_report import at_pour, fluid_report
from fluxlab.design.holding import status_of
from fluxlab.design.mould_report import mould_report
from fluxlab.design.ore_report import ore_report
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.pot_report import pot_report
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import LineReport, OreReport, Report, SolveReport, TargetReport
from fluxlab.design.slag_report import slag_report
from fluxlab.design.standing import just_missed
from fluxlab.design.target_report import target_reports
from fluxlab.design.why import why as why_words
from fluxlab.design.windows import words
from fluxlab.fusion.routes import routes
from fluxlab.issue import Issue, Severity
from fluxlab.materials.oxides import Vec

_WISH = "flux_to_ore"


def evaluate(work: Work) -> Report:
    """Everything that is known of a recipe before the furnace is lit. Never raises for odd input."""
    found = balance(work)
    figures = own_tables(work.recipe.pot_figures, work.recipe.route)
    fill = fill_report(found, figures)
    sources = {t.key: t.source for t in routes()[work.recipe.route].targets}
    targets = target_reports(found, found.targets, sources)
    ore = ore_report(found.feed, work.recipe.ore)
    limit = _precious_limit(work, ore)
    fluid = fluid_report(work, found)
    pot = pot_report(work, found, fill, at_pour(fluid), dict(work.recipe.pot_figures))
    mould = mould_report(work, found, pot)
    litres = pot.gas.litres
    chances = chance(work, found, targets=targets)
    rules = cautions(with_fluid(with_pot(facts_of(work, found, fill, mould), pot, found.feed.charge), fluid))
    reasons = why(found.compiled, found.result)
    without, held_by = _without_wish(found)
    flux = float(found.fluxes.is_flux @ found.x)
    price = np.where(found.x > 0.0, found.fluxes.price, 0.0)
    return Report(
        work=work,
        ore=ore,
        lines=_lines(work, found, reasons),
        flux_mass=flux,
        flux_cost=None if np.isnan(price).any() or not price.any() else float(price @ found.x),
        flux_to_ore=flux / found.feed.charge if found.feed.charge > 0.0 else None,
        flux_mass_without_wish=without,
        without_wish=held_by,
        charge_total=found.feed.charge + float(found.x.sum()),
        targets=targets,
        slag=slag_report(found),
        fill=fill,
        mould=mould,
        verdicts=(
            plain.melt_verdict(targets, fluid),
            plain.fit_verdict(targets, fill, mould, pot.gas),
            plain.metal_verdict(pot, limit, ore.roast, targets),
            plain.safe_verdict(rules, litres),
            plain.sure_verdict(chances, targets, ore.roast),
        ),
        cautions=rules,
        solve=_solve_report(found, targets),
        issues=_distinct((*found.issues, *(ore.lot.issues if ore.lot else ()), *_solver_issues(found))),
        precious_metal_limit=limit,
        gas_litres=litres,
        fluid=fluid,
        pot=pot,
        chance=chances,
    )


@dataclass(frozen=True, slots=True)
class RoundedWeights:
    """Weights in whole balance steps: `grams` by flux [g], whether every must still holds, words for the foot."""

    grams: Mapping[str, float]
    kept: bool
    sentence: str


def rounded_weights(work: Work, report: Report | None = None) -> RoundedWeights:
    """The recipe on the grid of the balance so that every must that held still holds [g].

    The charge goes to its nearest step first: what is weighed is what has to hold.
    """
    step = work.shelf.balance_step
    weighed = round(work.recipe.charge / step) * step
    found = balance(replace(work, recipe=replace(work.recipe, charge=weighed)))
    rounded = round_recipe(found.compiled, found.result.x)
    grams = {line.flux: round(float(g), 9) for line, g in zip(found.fluxes.lines, rounded.x, strict=False)}
    on_balance = f"rounded to the {step:.10g} g balance, re-added"
    gave_way = any(_must_broken(t) for t in (report or evaluate(work)).targets)
    if gave_way:
        return RoundedWeights(grams, False, f"{on_balance}; a target gave way before rounding, see above")
    if rounded.kept_musts:
        return RoundedWeights(grams, True, f"{on_balance}, every must still holds")
    key = (rounded.too_coarse or (rounded.broken[0].key if rounded.broken else "")).partition("#")[0]
    name = words(key)["label"].lower() if key else "a target"
    return RoundedWeights(grams, False, f"{on_balance}; this balance is too coarse for {name}: weigh finer")


def _must_broken(t: TargetReport) -> bool:
    below = t.state == "below" and t.lo_kind == "must"
    return t.on and (below or (t.state == "above" and t.hi_kind == "must"))


def _lines(work: Work, found: Balance, reasons: tuple[str, ...]) -> tuple[LineReport, ...]:
    """One row per line of the recipe, in its order; hidden rows are left out, unknown fluxes kept and marked."""
    rows, targets = found.fluxes, {t.key: t for t in found.targets}
    total = float(found.x.sum())
    at = {line.flux: i for i, line in enumerate(rows.lines)}
    reports = []
    for line in work.recipe.lines:
        if line.hidden:
            continue
        i = at.get(line.flux)
        if i is None:
            words_ = "Not on the shelf"
            none = (0.0, line.grams is not None, 0.0, line.least, line.most, None, None, 0.0, words_, True)
            reports.append(LineReport(line.flux, line.flux, "", *none))
            continue
        component, grams = rows.components[i], float(found.x[i])
        reports.append(
            LineReport(
                flux=line.flux,
                name=component.name,
                form=component.form,
                grams=grams,
                fixed=line.grams is not None,
                share=100.0 * grams / total if total > 0.0 else 0.0,
                least=line.least,
                most=line.most,
                stock=component.stock,
                cost=None if component.price is None else float(rows.price[i]) * grams,
                loose_volume=float(rows.loose[i]) * grams,
                why=why_words(reasons[i], line, component, targets, grams),
            )
        )
    return tuple(reports)


def _precious_limit(work: Work, ore: OreReport) -> float | None:
    """Silver and gold that the charge holds at most [g]; None where neither assay nor minerals tell."""
    held = ore.silver + ore.gold
    known = work.recipe.ore.silver is not None or work.recipe.ore.gold is not None
    return held if known or held > 0.0 else None


def _without_wish(found: Balance) -> tuple[float | None, str]:
    """Flux of the recipe without the flux-to-ore wish [g], and what then holds it up; None when the wish is off."""
    wish = next((t for t in found.targets if t.key == _WISH and t.on and t.lo is not None), None)
    key = f"{_WISH}#lo"
    if wish is None or wish.lo is None or key not in found.compiled.index:
        return None, ""
    update(found.compiled, limits={key: (-np.inf, np.inf)})
    bare = solve(found.compiled, priced=False)
    reasons = why(found.compiled, bare)
    update(found.compiled, limits={key: (wish.lo, np.inf)})
    x = bare.x[: len(found.fluxes.lines)]
    return float(found.fluxes.is_flux @ x), _held_up_by(reasons, x)


def _held_up_by(reasons: tuple[str, ...], x: Vec) -> str:
    """The targets that hold the flux up, by label, in the order of the weights they hold."""
    keys: dict[str, float] = {}
    for key, grams in zip(reasons, x, strict=False):
        name = key.partition("#")[0]
        if not key.startswith(("@", KEPT_DOWN)) and grams > 0.0:
            keys[name] = keys.get(name, 0.0) + float(grams)
    return ", ".join(words(name)["label"].lower() for name in sorted(keys, key=lambda k: -keys[k]))


def _solve_report(found: Balance, targets: tuple[TargetReport, ...]) -> SolveReport:
    r = found.result
    gave_way = tuple(t.sentence for t in targets if t.on and t.state in ("below", "above"))
    near = [t.sentence for t in targets if just_missed(t)]
    sentences, status = [*gave_way, *near], status_of(found, bool(gave_way))
    if status in ("relaxed", "impossible"):
        fight = conflict(found.compiled)
        if fight is not None:
            sentences.append(conflict_sentence(found.compiled.problem, fight))
    return SolveReport(status, tuple(sentences), gave_way, r.residual, r.kernel, r.solves)


def _solver_issues(found: Balance) -> list[Issue]:
    """What the solver had to mend in the numbers, as far as the operator can do something about it."""
    told = [note_issue(found.compiled.problem, n) for n in found.result.notes if n.code not in ("fixed", "all_locked")]
    return [issue for issue in told if issue.severity is not Severity.NOTE]


def _distinct(issues: tuple[Issue, ...]) -> tuple[Issue, ...]:
    return tuple(dict.fromkeys(issues))
