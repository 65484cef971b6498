"""A limit on the viscosity, and the thinnest melt: a law that is no ratio, taken as a straight line time and again.

The law is a smooth function of the melt. At each pass it is replaced by its tangent at the recipe of the pass before,
which makes it a row like any other, and the recipe may move only so far, less from pass to pass. What is found is a
local optimum; nothing proves that there is no better one elsewhere. The number of passes and how far each may go are
fixed and nothing is accepted or refused on the way, so that the recipe of one start moves without jumps. Only where
the limit itself gives way are further starts tried and the one that misses least is taken.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from time import perf_counter

import numpy as np

from fluxlab.blend.elastic import CURVE, affordable, nearest
from fluxlab.blend.kernel import Kernel
from fluxlab.blend.problem import Compiled, redefine, update
from fluxlab.blend.solve import solve, strict, strict_trace
from fluxlab.blend.states import build
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import Functional, Result, Vec, WindowState

Law = Callable[[Vec], tuple[float, Vec]]
"""log10 of the viscosity of a melt [mol] and its derivative by the moles of each oxide; NaN where nothing is told."""

# How far each component may move in a pass, in units of its scale. Where the passes circle round the optimum the last
# ones decide how far beside the limit they end, by the square of their reach.
_REACH = (2.0, 2.0, 1.0, 1.0, 0.5, 0.5, 0.25, 0.12, 0.06, 0.03, 0.01, 0.003, 0.001)
_STILL = 1e-10
# The thinnest melt: pull towards the recipe of the pass before, in log10 per squared scale unit, and what a scale unit
# of flux must be worth, so that no flux is added for nothing. Judgement.
_PULL = (*(0.02,) * 12, 0.05, 0.1, 0.2, 0.5)
_THRIFT = 0.005


def solve_under(c: Compiled, key: str, law: Law, near: Vec | None = None) -> Result:
    """The recipe [g] with the window `key`, whose value is the law, under its upper limit [log10].

    Where the limit binds, the passes start `near` a recipe [g], or at the one without the limit: two recipes can be as
    good as each other, and who asks a little differently time and again should stay with the one.
    The window is left as the tangent at the recipe, so that whatever else asks the problem sees it there.
    """
    began = perf_counter()
    if not c.valid or not c.system().n:
        tangent(c, key, law, solve(c).x if c.valid else c.ref)
        return solve(c)
    k = c.index[key]
    if c.U[k].any():
        redefine(c, key, _nothing(c, k))
    bare = solve(c)
    known = tangent(c, key, law, bare.x)
    value = float(c.U[k] @ melt(c, bare.x) + c.C[k])
    if not known or value <= c.window_hi[k]:
        return _inside(c, bare, k, value)
    best = _passes(c, key, law, bare.x if near is None else np.clip(near, c.low, c.high), began) or solve(c)
    if any(w.key == key for w in best.opened):
        at = c.problem.windows[k].num
        for start in _starts(c):
            other = _passes(c, key, law, start, began)
            if other is not None and _missed(c, other) < _missed(c, best) - 1e-6:
                best, at = other, c.problem.windows[k].num
        redefine(c, key, at)
    return best


def _nothing(c: Compiled, k: int) -> Functional:
    """What holds nothing: a constant inside the window."""
    upper = float(c.window_hi[k])
    return Functional(np.zeros_like(c.b), np.zeros_like(c.cost), upper - 1.0 if upper < np.inf else 0.0)


def _inside(c: Compiled, bare: Result, k: int, value: float) -> Result:
    """The recipe found without the limit, where that is not reached; only the state of the window is put in."""
    w = c.problem.windows[k]
    state = WindowState(w.key, value, float(c.window_lo[k]), float(c.window_hi[k]), "inside")
    windows = (*bare.windows[:k], state, *bare.windows[k + 1 :])
    return replace(bare, windows=windows, notes=tuple(n for n in bare.notes if n.subject != w.key))


def _starts(c: Compiled) -> Iterator[Vec]:
    """Other recipes to start from: the house recipe, and an even one, inside their bounds."""
    yield np.clip(c.ref, c.low, c.high)
    yield np.clip(c.scale, c.low, c.high)


def _missed(c: Compiled, r: Result) -> float:
    """What the windows that gave way cost, as the nearest recipe counts it."""
    weights = {w.key: float(c.weight[k]) for k, w in enumerate(c.problem.windows)}
    return sum(weights[w.key] * (w.off_tol + 0.5 * CURVE * w.off_tol**2) for w in r.opened)


def _passes(c: Compiled, key: str, law: Law, x: Vec, began: float) -> Result | None:
    """The recipe that the passes from one start come to; None where the physical rows leave none so near to it."""
    result: Result | None = None
    solves = 0
    for reach in _REACH:
        if not tangent(c, key, law, x):
            return solve(c)
        s = c.system()
        trace, answer, more = _pass(c, s, x[s.free] / s.sigma, reach)
        if answer.status <= 0:
            return result
        solves += more
        result = build(c, trace, answer, solves, began)
        moved = float(np.abs((result.x - x) / c.scale).max(initial=0.0))
        x = result.x
        if moved <= _STILL:
            break
    return result


def tangent(c: Compiled, key: str, law: Law, x: Vec) -> bool:
    """Put the law's tangent at a recipe [g] into its window; False where nothing is told and so nothing held."""
    n = melt(c, x)
    value, slopes = law(n)
    known = bool(np.isfinite(value) and np.isfinite(slopes).all())
    if known:
        num = Functional(np.asarray(slopes, dtype=float), np.zeros(len(x)), float(value - slopes @ n))
    else:
        num = _nothing(c, c.index[key])
    redefine(c, key, num)
    return known


def melt(c: Compiled, x: Vec) -> Vec:
    """The melt of a recipe [mol], none of its oxides below nothing."""
    return np.asarray(np.maximum(c.b + c.problem.Y @ x, 0.0))


def _pass(c: Compiled, s: System, y: Vec, reach: float) -> tuple[Trace, Kernel, int]:
    """One solve of the rows as they stand, no component moving further than `reach`; its trace has true bounds."""
    near = replace(
        s, yl=np.maximum(s.yl, np.minimum(y - reach, s.yu)), yu=np.minimum(s.yu, np.maximum(y + reach, s.yl))
    )
    answer, solves = strict(near, c.kernel), 1
    if answer.status > 0 and affordable(near, answer.y, answer.lam_rows):
        trace = strict_trace(near, answer)
    else:
        trace, answer, more = nearest(near, c.kernel)
        solves += more
    trace.system = s
    return trace, answer, solves


def thinnest(c: Compiled, law: Law, key: str = "") -> Result:
    """The recipe [g] whose melt is thinnest while every window holds, with as little flux as that allows.

    `key` names the window that limits the law itself, if there is one. The problem is left with this recipe as the one
    to stay close to, so that asking it again gives the same.
    """
    began = perf_counter()
    first = solve(c, False)
    if not c.valid or not c.system().n:
        return first
    x, result, solves = first.x, first, 0
    for pull in _PULL:
        n = melt(c, x)
        value, slopes = law(n)
        if not (np.isfinite(value) and np.isfinite(slopes).all()):
            break
        if key:
            redefine(c, key, Functional(np.asarray(slopes, dtype=float), np.zeros(len(x)), float(value - slopes @ n)))
        s = c.system()
        aimed = _aimed(s, c, slopes, x, pull)
        trace, answer, more = _pass(c, aimed, x[s.free] / s.sigma, _REACH[0])
        if answer.status <= 0:
            break
        solves += more
        result = build(c, trace, answer, solves, began)
        x = result.x
    update(c, ref=x)
    return result


def _aimed(s: System, c: Compiled, slopes: Vec, x: Vec, pull: float) -> System:
    """The rows with the fall of the viscosity, and a little thrift, as their aim."""
    linear = (slopes @ c.problem.Y)[s.free] * s.sigma + _THRIFT
    r = x[s.free] / s.sigma
    return replace(s, linear=linear, smooth=pull, r=r, H=pull * np.eye(s.n), g=linear - pull * r)
