"""From free components to a result: window values and states, what gave way, what is used up."""

from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np

from fluxlab.blend.kernel import Kernel
from fluxlab.blend.sensitivity import opening_saves
from fluxlab.blend.system import System, Trace, objective
from fluxlab.blend.types import PHYSICAL, Note, Result, State, Status, Vec, WindowState

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

# A window is off when it misses by more than this share of its tolerance, at a limit within the smaller share.
OFF = 1e-3
AT = 1e-6


def build(c: "Compiled", t: Trace, answer: Kernel | None, solves: int, began: float) -> Result:
    """The result of a trace; `began` [s] is when the work started."""
    s = t.system
    x = s.grams(t.y)
    windows = states(c, x, _prices(c, t) if t.kind == "strict" and s.n else {})
    opened = tuple(w for w in windows if w.off_tol > 0.0)
    names = c.problem.components
    notes = c.notes
    if s.notes or s.fixed is not c.nothing_fixed:
        notes += s.notes + tuple(
            Note("fixed_outside" if w.off_tol > 0.0 else "fixed", w.key, w.value)
            for w, is_fixed in zip(windows, s.fixed.tolist(), strict=True)
            if is_fixed
        )
    return Result(
        status=_status(c, s, windows, opened),
        x=x,
        cost=float(c.cost @ x),
        mass=float(x.sum()),
        windows=windows,
        opened=opened,
        at_stock=tuple(
            names[j]
            for j, y, top in zip(c.free_list, t.y.tolist(), c.yu_list, strict=True)
            if top - y <= 1e-9 * max(1.0, top)
        ),
        locked=c.locked_names,
        notes=notes,
        residual=answer.residual if answer is not None else 0.0,
        kernel=answer.who if answer is not None else "none",
        solves=solves,
        micros=(perf_counter() - began) * 1e6,
        trace=t,
    )


def states(c: "Compiled", x: Vec, prices: dict[tuple[int, float], float] | None = None) -> tuple[WindowState, ...]:
    """The state of every window at the recipe x [g]; `prices` by window and side (+1 lower, -1 upper)."""
    s = c.system()
    both = c.G @ x + c.U @ c.b + c.C
    num, den = both[: c.count], both[c.count :]
    dead = s.undefined | (den <= 0.0)
    value = np.where(dead, np.nan, num / np.where(dead, 1.0, den))
    prices = prices or {}
    out = []
    for k, (w, v, lo, hi, undefined, fixed) in enumerate(
        zip(
            c.problem.windows,
            value.tolist(),
            c.window_lo.tolist(),
            c.window_hi.tolist(),
            dead.tolist(),
            s.fixed.tolist(),
            strict=True,
        )
    ):
        if undefined:
            out.append(WindowState(w.key, v, lo, hi, "undefined"))
            continue
        below, above = lo - v, v - hi
        off, tol = max(below, above), w.tol
        if off > OFF * tol:
            out.append(WindowState(w.key, v, lo, hi, "below" if below > above else "above", off, off / tol))
            continue
        price = None
        state: State = "inside"
        if fixed:
            state = "fixed"
        elif off >= -AT * tol:
            held_low, held_high = prices.get((k, 1.0)), prices.get((k, -1.0))
            state = "at_lo" if below > above or (below == above and held_high is None) else "at_hi"
            if held_low is not None and (state == "at_lo" or held_high is None):
                state, price = "at_lo", held_low
            elif held_high is not None:
                state, price = "at_hi", held_high
        out.append(WindowState(w.key, v, lo, hi, state, 0.0, 0.0, price))
    return tuple(out)


def _prices(c: "Compiled", t: Trace) -> dict[tuple[int, float], float]:
    """What one tolerance of each binding limit costs [money, or g of charge], by window and side."""
    s, lam = t.system, t.lam_rows
    rows = ((lam > 0.0) & (s.window >= 0)).nonzero()[0]
    if not len(rows):
        return {}
    aim = objective(c, "cost" if c.problem.goal.kind == "cost" else "mass")[s.free] * s.sigma
    saved = opening_saves(t, rows, aim)
    return dict(zip(zip(s.window[rows].tolist(), s.side[rows].tolist(), strict=True), saved, strict=True))


def _status(c: "Compiled", s: System, windows: tuple[WindowState, ...], opened: tuple[WindowState, ...]) -> Status:
    if any(c.priority[c.index[w.key]] == PHYSICAL for w in opened):
        return "impossible"
    if opened:
        return "relaxed"
    if any(w.state == "undefined" and c.priority[k] <= 1 for k, w in enumerate(windows)):
        return "undefined"
    return "ok"


def refused(c: "Compiled", began: float) -> Result:
    """The result for numbers that cannot be solved: the house recipe as far as it is a number."""
    x = np.where(np.isfinite(c.ref), c.ref, 0.0)
    x = np.maximum(x, np.where(np.isfinite(c.xl), c.xl, 0.0))
    x = np.minimum(x, np.where(np.isfinite(c.xu), c.xu, np.inf))
    cost = float(np.where(np.isfinite(c.cost), c.cost, 0.0) @ x)
    windows = tuple(
        WindowState(w.key, float("nan"), lo, hi, "undefined")
        for w, lo, hi in zip(c.problem.windows, c.window_lo.tolist(), c.window_hi.tolist(), strict=True)
    )
    return Result(
        "invalid", x, cost, float(x.sum()), windows, (), (), (), c.notes,
        0.0, "none", 0, (perf_counter() - began) * 1e6,
    )  # fmt: skip
