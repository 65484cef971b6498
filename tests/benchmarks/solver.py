"""Figures of the solver, each with scipy's linprog on the same problems in the same run.

Run from the repository root: python -m tests.benchmarks.solver [instances]. Times are the best of three, in
microseconds; "in linprogs" is the median of the ratios problem by problem.
"""

import subprocess
import sys
from collections.abc import Callable
from time import perf_counter
from typing import Any

import numpy as np
from scipy.optimize import linprog

from fluxlab.blend.chance import draw, probability, robust
from fluxlab.blend.explain import conflict, effects, why
from fluxlab.blend.landscape import boundary, heat
from fluxlab.blend.problem import Compiled, compile, update
from fluxlab.blend.rounding import round_recipe
from fluxlab.blend.solve import solve, strict
from tests.benchmarks.chance_and_map import main as recipes
from tests.blend.instances import literal_rows, realistic
from tests.blend.sweeps import inputs, worst_jump

SIZES = (6, 12, 16)


def best_of(work: Callable[[], Any], repeats: int = 3) -> float:
    """Shortest of a few runs [us]."""
    times = []
    for _ in range(repeats):
        began = perf_counter()
        work()
        times.append(perf_counter() - began)
    return min(times) * 1e6


def compiled(n: int, conflicting: bool, count: int) -> list[Compiled]:
    """Problems of one size that can hold, or that cannot."""
    out: list[Compiled] = []
    seed = 10_000
    while len(out) < count:
        c, _ = compile(realistic(seed, n, conflicting))
        if (strict(c.system(), "auto").status < 0) == conflicting:
            out.append(c)
        seed += 1
    return out


def keystroke(c: Compiled, priced: bool = True) -> None:
    """One edit of the ore and everything up to the result."""
    update(c, b=c.b)
    solve(c, priced)


def scipy_linprog(c: Compiled) -> Callable[[], Any]:
    """The same problem as a linear program for scipy, assembled beforehand."""
    p = c.problem
    A, h = literal_rows(p)
    return lambda: linprog(p.cost, A_ub=-A, b_ub=-h, bounds=np.column_stack((np.minimum(p.lo, p.hi), p.hi)))


def scipy_nearest(c: Compiled) -> Callable[[], Any]:
    """The question that a conflict really asks, as one linear program: least cost plus priced violation."""
    p = c.problem
    A, h = literal_rows(p)
    rows = len(h)
    soft = np.hstack((A, np.eye(rows)))
    cost = np.concatenate((p.cost, np.full(rows, 1e3)))
    bounds = np.vstack((np.column_stack((np.minimum(p.lo, p.hi), p.hi)), np.tile((0.0, np.inf), (rows, 1))))
    return lambda: linprog(cost, A_ub=-soft, b_ub=-h, bounds=bounds)


def line(name: str, times: list[float], references: list[float] | None = None) -> None:
    text = f"{name:<44}{np.median(times):>10.0f}{np.percentile(times, 99):>10.0f}"
    if references is not None:
        text += f"{np.median(np.array(times) / np.array(references)):>14.3f}"
    print(text)


def whole_solves(count: int) -> dict[int, list[Compiled]]:
    feasible = {}
    print(f"{'whole solve [us]':<44}{'median':>10}{'p99':>10}{'in linprogs':>14}")
    for n in SIZES:
        for conflicting in (False, True):
            problems = compiled(n, conflicting, count)
            if not conflicting:
                feasible[n] = problems
            ours = [best_of(lambda c=c: keystroke(c)) for c in problems]  # type: ignore[misc]
            theirs = [best_of(scipy_linprog(c)) for c in problems]
            line(f"{n} fluxes, {'conflicting' if conflicting else 'feasible'}", ours, theirs)
            if not conflicting:
                bare = [best_of(lambda c=c: keystroke(c, False)) for c in problems]  # type: ignore[misc]
                line("    without the prices of limits", bare, theirs)
            line("    scipy linprog", theirs)
            if conflicting:
                soft = [best_of(scipy_nearest(c)) for c in problems]
                line("    against scipy linprog with slack", ours, soft)
    own = [best_of(lambda c=c: solve(compile(c.problem, "numpy")[0])) for c in feasible[12][: count // 4]]  # type: ignore[misc]
    line("12 fluxes, feasible, own kernel, with compile", own)
    return feasible


def explanations(feasible: dict[int, list[Compiled]], count: int) -> None:
    print(f"\n{'explanations and chances, 12 fluxes [us]':<44}{'median':>10}{'p99':>10}")
    some = feasible[12][:count]
    results = [solve(c) for c in some]
    pairs = list(zip(some, results, strict=True))
    line("effects of all 16 oxides", [best_of(lambda c=c, r=r: effects(c, r)) for c, r in pairs])  # type: ignore[misc]
    line("why, every flux", [best_of(lambda c=c, r=r: why(c, r)) for c, r in pairs])  # type: ignore[misc]
    fighting = compiled(12, True, count)
    line("conflict with its reliefs", [best_of(lambda c=c: conflict(c)) for c in fighting])  # type: ignore[misc]
    samples = [draw(c.b, 0.06, 1000, 1) for c in some]
    triples = [(c, r.x, B) for (c, r), B in zip(pairs, samples, strict=True)]
    line("chance of a recipe, 1,000 samples", [best_of(lambda t=t: probability(*t)) for t in triples])  # type: ignore[misc]
    line("robust recipe, 1,000 samples", [best_of(lambda t=t: robust(t[0], t[2], 0.9)) for t in triples])  # type: ignore[misc]


def rounding(feasible: dict[int, list[Compiled]]) -> None:
    print(f"\n{'rounding to 0.1 g':<44}{'all kept':>10}{'musts':>10}{'median us':>12}{'p99 us':>10}{'cost +%':>9}")
    for n, problems in feasible.items():
        done, times, extra = [], [], []
        for c in problems:
            r = solve(c)
            began = perf_counter()
            rounded = round_recipe(c, r.x)
            times.append((perf_counter() - began) * 1e6)
            done.append(rounded)
            extra.append(100.0 * (rounded.cost / r.cost - 1.0))
        kept, musts = sum(d.kept_all for d in done), sum(d.kept_musts for d in done)
        counts = f"{f'{kept}/{len(done)}':>10}{f'{musts}/{len(done)}':>10}"
        spent = f"{np.median(times):>12.0f}{np.percentile(times, 99):>10.0f}"
        print(f"{f'{n} fluxes':<44}{counts}{spent}{np.median(extra):>9.2f}")


def map_of_cells(feasible: dict[int, list[Compiled]]) -> None:
    print(f"\n{'map 60 x 60 [ms]':<44}{'outline':>10}{'field':>10}{'in linprogs':>14}")
    for n, problems in feasible.items():
        c = problems[0]
        v = {w.key: w.value for w in solve(c).windows}
        X = np.linspace(0.5, 1.5, 60) * v["silicate degree"]
        Y = np.linspace(0.02, 0.95, 60)
        keys = ("silicate degree", X, "borate fraction")
        edge = best_of(lambda c=c, k=keys: boundary(c, *k)) / 1e3  # type: ignore[misc]
        field = best_of(lambda c=c, k=keys, Y=Y: list(heat(c, *k, Y)), 1) / 1e3  # type: ignore[misc]
        reference = best_of(scipy_linprog(c)) / 1e3
        print(f"{f'{n} fluxes':<44}{edge:>10.1f}{field:>10.1f}{(edge + field) / reference:>14.1f}")


def jumps(count: int) -> None:
    worst: dict[str, float] = {}
    for n in SIZES:
        for seed in range(count):
            for conflicting in (False, True):
                p = realistic(20_000 + seed, n, conflicting)
                for name in inputs(p):
                    worst[name] = max(worst.get(name, 0.0), worst_jump(p, name))
    print(f"\nworst jump in {len(worst) * len(SIZES) * count * 2} bisected sweeps [g per 100 g ore]")
    for name, jump in worst.items():
        print(f"    {name:<40}{jump:.1e}")


def start_up() -> None:
    code = (
        "import time, numpy\n"
        "def resident(): return int(open('/proc/self/statm').read().split()[1]) / 256\n"
        "before = resident(); began = time.perf_counter()\n"
        "{body}\n"
        "print(time.perf_counter() - began, resident() - before)"
    )
    bodies = {
        "the solver": "import fluxlab.blend.solve, fluxlab.blend.explain, fluxlab.blend.rounding, daqp",
        "daqp alone": "import daqp",
        "scipy.optimize": "import scipy.optimize",
    }
    print(f"\n{'start-up on top of numpy':<44}{'ms':>10}{'MiB':>10}")
    for name, body in bodies.items():
        runs = []
        for _ in range(7):
            command = [sys.executable, "-c", code.format(body=body)]
            out = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
            runs.append((1e3 * float(out[0]), float(out[1])))
        ms, mib = np.median(np.array(runs), axis=0)
        print(f"{name:<44}{ms:>10.1f}{mib:>10.1f}")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    feasible = whole_solves(count)
    explanations(feasible, min(count, 50))
    rounding(feasible)
    map_of_cells(feasible)
    jumps(max(1, count // 50))
    if sys.platform == "linux":
        start_up()
    print()
    recipes()


if __name__ == "__main__":
    main()
