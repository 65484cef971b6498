"""Figures of what a recipe asks of the solver: chance, safer recipe, reasons, offers, map, limit on the viscosity.

Run from the repository root: python -m tests.benchmarks.chance_and_map. Times are the best of a few, in milliseconds;
"in linprogs" divides by scipy's linprog on the same recipe's problem in the same run.
"""

from collections.abc import Callable
from dataclasses import replace
from time import perf_counter
from typing import Any

import numpy as np
from scipy.optimize import linprog

from fluxlab.design.balance import Balance, balance
from fluxlab.design.chance import chance, pour_of_recipe
from fluxlab.design.evaluate import evaluate
from fluxlab.design.likely import likely
from fluxlab.design.map_axes import axis_pairs, map_problem
from fluxlab.design.map_field import Melts, field
from fluxlab.design.map_report import map_frame, map_outline, recipe_at
from fluxlab.design.map_safe import safe_outline
from fluxlab.design.offers import offers
from fluxlab.design.recipe import Target, Work
from fluxlab.design.safer import safer
from fluxlab.design.start import demo_work
from fluxlab.design.why_report import why_report
from fluxlab.ore.samples import CHECK, pot_samples
from fluxlab.slag.viscosity import log_viscosity
from tests.blend.instances import literal_rows
from tests.works import DIRTY, with_target, work_of

OFF = Target("viscosity", on=False)


def best_of(work: Callable[[], Any], repeats: int = 7) -> float:
    """Shortest of a few runs [ms]."""
    work()
    times = []
    for _ in range(repeats):
        began = perf_counter()
        work()
        times.append(perf_counter() - began)
    return min(times) * 1e3


def one_linprog(found: Balance) -> float:
    """The same problem as one linear program for scipy, assembled beforehand [ms]."""
    c = found.compiled
    limits = zip(c.problem.windows, c.window_lo.tolist(), c.window_hi.tolist(), strict=True)
    p = replace(c.problem, b=c.b, windows=tuple(replace(w, lo=lo, hi=hi) for w, lo, hi in limits))
    A, h = literal_rows(p)
    size = np.maximum(np.linalg.norm(A, axis=1), 1e-12)
    bounds = np.column_stack((np.minimum(p.lo, p.hi), p.hi))
    return best_of(lambda: linprog(np.ones(len(p.cost)), A_ub=-A / size[:, None], b_ub=-h / size, bounds=bounds))


def figures(work: Work) -> list[tuple[str, float]]:
    """What each thing takes [ms]."""
    bare = with_target(work, OFF)
    found, plain = balance(work), balance(bare)
    recipe, pair = work.recipe, axis_pairs(found)[0]
    m = map_problem(plain, axis_pairs(plain)[0])
    n = map_problem(found, pair)
    whole = map_outline(m)
    middle = (whole.xs[len(whole.xs) // 2], 0.5 * (whole.low[len(whole.xs) // 2] + whole.high[len(whole.xs) // 2]))
    law, still = Melts(log_viscosity), Melts(lambda slags, t: slags[:, 0])
    limited = with_target(work, Target("viscosity", hi=0.5 * 10.0 ** float(log_viscosity(found.n, 1150.0))))
    thin = replace(work, recipe=replace(recipe, goal="thinnest slag"))
    feed = plain.feed
    return [
        ("whole recipe, no limit on the viscosity", best_of(lambda: balance(bare))),
        ("    with a limit that is not reached", best_of(lambda: balance(work))),
        ("    with half the viscosity asked for", best_of(lambda: balance(limited), 3)),
        ("    thinnest slag", best_of(lambda: balance(thin), 3)),
        ("whole report", best_of(lambda: evaluate(work), 3)),
        (
            "1,000 likely ores",
            best_of(lambda: pot_samples(recipe.ore, recipe.pot_feed, feed.dry, plain.ferric_share, recipe.roast)),
        ),
        ("    with what targets need of them", best_of(lambda: likely(bare, plain, CHECK))),
        ("chance of every target, 1,000 ores", best_of(lambda: chance(bare, plain))),
        ("    with the viscosity of each", best_of(lambda: chance(work, found, pour_of_recipe(found)))),
        ("safer recipe, 9 in 10", best_of(lambda: safer(bare, plain, 0.9), 3)),
        ("every reason in words", best_of(lambda: why_report(work, found))),
        ("ways out, none needed", best_of(lambda: offers(work, found))),
        ("map: outline of 60 columns", best_of(lambda: map_outline(m), 3)),
        ("map: all that is drawn at once", best_of(lambda: map_frame(bare, plain, axis_pairs(plain)[0]), 3)),
        ("map: field 60 x 60, recipes alone", best_of(lambda: list(field(m, still)), 1)),
        ("map: field 60 x 60 with the viscosity", best_of(lambda: list(field(m, law)), 1)),
        ("map: one row of it", best_of(lambda: next(field(m, law)))),
        ("map: where nine in ten hold", best_of(lambda: safe_outline(bare, m, whole), 1)),
        ("map: recipe under a drag", best_of(lambda: recipe_at(m, *middle))),
        ("    with its viscosity kept", best_of(lambda: recipe_at(n, *middle))),
    ]


def main() -> None:
    works = {"demo": demo_work(), "clean": work_of(), "dirty": work_of(DIRTY, charge=60.0)}
    told = {name: figures(work) for name, work in works.items()}
    reference = {name: one_linprog(balance(work)) for name, work in works.items()}
    print(f"{'a recipe [ms]':<44}" + "".join(f"{name:>10}" for name in works) + f"{'in linprogs':>14}")
    for i, (what, _) in enumerate(told["demo"]):
        times = [told[name][i][1] for name in works]
        ratio = np.median([t / reference[name] for t, name in zip(times, works, strict=True)])
        print(f"{what:<44}" + "".join(f"{t:>10.2f}" for t in times) + f"{ratio:>14.2f}")
    print(f"{'one scipy linprog':<44}" + "".join(f"{reference[name]:>10.2f}" for name in works))
    for name, work in works.items():
        found = balance(work)
        safe = safer(work, balance(work), 0.98)
        print(f"{name}: {chance(work, found).sentence}. {safe.sentence}")


if __name__ == "__main__":
    main()
