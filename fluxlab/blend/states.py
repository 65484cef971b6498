"""From free components to a result: window values and states, what gave way, what is used up."""

from math import nan
from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np

from fluxlab.blend.kernel import Kernel
from fluxlab.blend.sensitivity import opening_saves
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import MUST, PHYSICAL, Note, Result, State, Status, Vec, WindowState

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

# A window is off when it misses by more than this share of its tolerance, at a limit within the smaller share.
OFF = 1e-3
AT = 1e-6


def build(c: "Compiled", t: Trace, answer: Kernel | None, solves: int, began: float, priced: bool = True) -> Result:
    """The result of a trace; `began` [s] is when the work started."""
    s = t.system
    x = s.grams(t.y)
    both = c.G.dot(x) + c.U.dot(c.b) + c.C
    windows = _states(c, both, _prices(c, t, both[c.count :]) if priced and t.kind == "strict" else {})
    opened = tuple([w for w in windows if w.off_tol > 0.0])
    names = c.problem.components
    notes = c.notes
    if s.notes or s.fixed is not c.nothing_fixed:
        notes += s.notes + tuple(
            Note("fixed_outside" if w.off_tol > 0.0 else "fixed", w.key, w.value)
            for w, is_fixed in zip(windows, s.fixed.tolist(), strict=True)
            if is_fixed
        )
    used_up = [
        names[j]
        for j, y, top in zip(c.free_list, t.y.tolist(), c.yu_list, strict=True)
        if top - y <= 1e-9 * (top if top > 1.0 else 1.0)
    ]
    return Result(
        _status(c, s, windows, opened),
        x,
        float(c.cost.dot(x)),
        float(c.one_each.dot(x)),
        windows,
        opened,
        tuple(used_up),
        c.locked_names,
        notes,
        answer.residual if answer is not None else 0.0,
        answer.who if answer is not None else "none",
        solves,
        (perf_counter() - began) * 1e6,
        t,
    )


def states(c: "Compiled", x: Vec) -> tuple[WindowState, ...]:
    """The state of every window at the recipe x [g]."""
    return _states(c, c.G.dot(x) + c.U.dot(c.b) + c.C, {})


def _states(c: "Compiled", both: Vec, prices: dict[tuple[int, float], float]) -> tuple[WindowState, ...]:
    """The states for numerators over denominators; `prices` by window and side (+1 lower, -1 upper)."""
    s, count = c.system(), c.count
    rows = zip(
        c.problem.windows,
        both[:count].tolist(),
        both[count:].tolist(),
        c.window_lo.tolist(),
        c.window_hi.tolist(),
        s.undefined.tolist(),
        strict=True,
    )
    any_fixed = s.fixed is not c.nothing_fixed
    out = []
    for k, (w, num, den, lo, hi, undefined) in enumerate(rows):
        if undefined or den <= 0.0:
            out.append(WindowState(w.key, nan, lo, hi, "undefined"))
            continue
        v, tol = num / den, w.tol
        below, above = lo - v, v - hi
        off = below if below > above else above
        if off < -AT * tol:
            state: State = "fixed" if any_fixed and s.fixed[k] else "inside"
            out.append(WindowState(w.key, v, lo, hi, state))
        elif off > OFF * tol:
            out.append(WindowState(w.key, v, lo, hi, "below" if below > above else "above", off, off / tol))
        elif any_fixed and s.fixed[k]:
            out.append(WindowState(w.key, v, lo, hi, "fixed"))
        else:
            out.append(_at_limit(w.key, v, lo, hi, prices.get((k, 1.0)), prices.get((k, -1.0))))
    return tuple(out)


def _at_limit(key: str, v: float, lo: float, hi: float, low: float | None, high: float | None) -> WindowState:
    """A window at a limit; where both ends are near, the one with a price is the one that binds."""
    at_low = lo - v > v - hi or (lo - v == v - hi and high is None)
    if low is not None and (at_low or high is None):
        return WindowState(key, v, lo, hi, "at_lo", 0.0, 0.0, low)
    if high is not None:
        return WindowState(key, v, lo, hi, "at_hi", 0.0, 0.0, high)
    return WindowState(key, v, lo, hi, "at_lo" if at_low else "at_hi")


def _prices(c: "Compiled", t: Trace, den: Vec) -> dict[tuple[int, float], float]:
    """What one tolerance of each binding limit costs [money, or g of charge], by window and side."""
    held = (t.lam_rows > 0.0).nonzero()[0]
    if not len(held):
        return {}
    saved = opening_saves(t, held, c.priced, den)
    keys = zip(t.system.window[held].tolist(), t.system.side[held].tolist(), strict=True)
    return dict(zip(keys, saved, strict=False))


def _status(c: "Compiled", s: System, windows: tuple[WindowState, ...], opened: tuple[WindowState, ...]) -> Status:
    if opened:
        physical = any(c.priority[c.index[w.key]] == PHYSICAL for w in opened)
        return "impossible" if physical else "relaxed"
    wanted = any(w.state == "undefined" and c.priority[k] <= MUST for k, w in enumerate(windows))
    return "undefined" if wanted else "ok"


def refused(c: "Compiled", began: float) -> Result:
    """The result for numbers that cannot be solved: the house recipe as far as it is a number."""
    x = np.where(np.isfinite(c.ref), c.ref, 0.0)
    x = np.maximum(x, np.where(np.isfinite(c.xl), c.xl, 0.0))
    x = np.minimum(x, np.where(np.isfinite(c.xu), c.xu, np.inf))
    cost = float(np.where(np.isfinite(c.cost), c.cost, 0.0) @ x)
    windows = tuple(
        WindowState(w.key, nan, lo, hi, "undefined")
        for w, lo, hi in zip(c.problem.windows, c.window_lo.tolist(), c.window_hi.tolist(), strict=True)
    )
    return Result(
        "invalid", x, cost, float(x.sum()), windows, (), (), (), c.notes,
        0.0, "none", 0, (perf_counter() - began) * 1e6,
    )  # fmt: skip
