"""Sweeps of one input, and the largest jump of the recipe that bisection leaves."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from fluxlab.blend.problem import Compiled, compile, update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Problem, Vec

Setter = Callable[[Compiled, float], None]


def inputs(p: Problem) -> dict[str, tuple[float, float, Setter]]:
    """Range and setter of each input that an operator may drag."""
    ore = float(p.scale[0]) / 0.3
    w = p.windows[0]

    def oxide(i: int) -> Setter:
        def change(c: Compiled, grams: float) -> None:
            b = p.b.copy()
            b[i] += grams / p.oxide_mass[i]
            update(c, b=b)

        return change

    def degree(c: Compiled, shift: float) -> None:
        update(c, limits={w.key: (w.lo + shift, w.hi + shift)})

    def width(c: Compiled, half: float) -> None:
        middle = 0.5 * (w.lo + w.hi)
        update(c, limits={w.key: (middle - half, middle + half)})

    def price(c: Compiled, factor: float) -> None:
        cost = p.cost.copy()
        cost[0] *= factor
        update(c, cost=cost)

    def stock(c: Compiled, grams: float) -> None:
        hi = p.hi.copy()
        hi[0] = max(grams, p.lo[0])
        update(c, bounds=(p.lo, hi))

    pot = next(w for w in p.windows if w.key == "loose charge volume")

    def volume(c: Compiled, share: float) -> None:
        update(c, limits={pot.key: (pot.lo, share * pot.hi)})

    return {
        "volume of the pot": (0.05, 1.2, volume),
        "silica in the ore": (0.0, 0.2 * ore, oxide(0)),
        "zinc oxide in the ore": (0.0, 0.2 * ore, oxide(9)),
        "degree limits": (-0.6, 0.6, degree),
        "width of the degree band": (0.0, 0.6, width),
        "price": (0.2, 5.0, price),
        "stock": (0.0, 1.0 * ore, stock),
    }


def worst_jump(p: Problem, name: str, points: int = 100, depth: int = 26) -> float:
    """Largest step of any component left after bisecting the four largest steps of a sweep [g per 100 g ore]."""
    first, last, change = inputs(p)[name]
    c, _ = compile(p)
    per_100 = 100.0 * 0.3 / float(p.scale[0])

    def recipe(t: float) -> Vec:
        change(c, t)
        return solve(c).x * per_100

    at = np.linspace(first, last, points)
    found = [recipe(float(t)) for t in at]
    steps = [float(np.abs(b - a).max()) for a, b in pairwise(found)]
    worst = 0.0
    for i in np.argsort(steps)[-4:].tolist():
        (t0, x0), (t1, x1) = (float(at[i]), found[i]), (float(at[i + 1]), found[i + 1])
        for _ in range(depth):
            t = 0.5 * (t0 + t1)
            x = recipe(t)
            if np.abs(x - x0).max() >= np.abs(x1 - x).max():
                t1, x1 = t, x
            else:
                t0, x0 = t, x
        worst = max(worst, float(np.abs(x1 - x0).max()))
    return worst
