"""Why the recipe is as it is: what each oxide and each limit does to it, and which windows fight."""

import numpy as np

from fluxlab.blend.fractional import extreme, feasible_point, region
from fluxlab.blend.problem import Compiled, update
from fluxlab.blend.sensitivity import active, holds_for, limit_moves, oxide_shift
from fluxlab.blend.solve import solve
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import (
    HOUSE,
    KEPT_DOWN,
    LEAST,
    LOCKED,
    STOCK,
    UNUSED,
    Conflict,
    Effect,
    Mask,
    Relief,
    Result,
    Side,
    Vec,
)

# A move smaller than this share of the largest one does not count as holding a component down.
_FAINT = 1e-9
_CLOSE = 1e-9


def effects(c: Compiled, r: Result, oxides: tuple[str, ...] | None = None) -> tuple[Effect, ...]:
    """What one more unit of each oxide in the charge does to the recipe [g per g, or per mol without oxide masses].

    Where all windows hold the answer is exact and says how far it holds; a relaxed recipe is solved anew with the
    oxide added, and the answer holds for that much.
    """
    p, t = c.problem, r.trace
    if t is None or not t.system.n:
        return ()
    chosen = np.array([p.oxides.index(o) for o in (p.oxides if oxides is None else oxides)], dtype=np.intp)
    masses = np.ones(len(p.oxides)) if p.oxide_mass is None else p.oxide_mass
    per = "mol" if p.oxide_mass is None else "g"
    per_unit = masses[chosen]
    dx, exact = np.zeros((len(p.components), len(chosen))), np.zeros(len(chosen))
    a = active(t) if t.kind == "strict" else None
    if a is not None:
        shift = oxide_shift(c, t, chosen) / per_unit
        dy, dlam = a.move(shift[a.rows])
        dx[t.system.free] = t.system.sigma[:, None] * dy
        exact = holds_for(a, dy, dlam, shift)
    for i in np.flatnonzero(exact * per_unit <= _CLOSE).tolist():
        dx[:, i], exact[i] = _solved_effect(c, r, int(chosen[i]), float(per_unit[i]))
    cost = c.cost @ dx
    return tuple(
        Effect(p.oxides[o], per, dx[:, i], float(cost[i]), float(exact[i])) for i, o in enumerate(chosen.tolist())
    )


def _solved_effect(c: Compiled, r: Result, oxide: int, mass: float) -> tuple[Vec, float]:
    """Change per unit, from solving again with one hundredth of the components' scale of the oxide added."""
    amount = 0.01 * float(c.scale.min())
    before = c.b
    added = before.copy()
    added[oxide] += amount / mass
    update(c, b=added)
    after = solve(c)
    update(c, b=before)
    return (after.x - r.x) / amount, amount


def limit_effects(c: Compiled, r: Result) -> tuple[Effect, ...]:
    """What opening each binding window by one tolerance does to the recipe [g per tolerance]; cause is its key."""
    t = r.trace
    a = active(t) if t is not None and t.system.n else None
    if t is None or a is None:
        return ()
    rows, moves = limit_moves(a)
    out = []
    for i, row in enumerate(rows.tolist()):
        dx = np.zeros(len(c.problem.components))
        dx[t.system.free] = t.system.sigma * moves[:, i]
        out.append(
            Effect(c.problem.windows[t.system.window[row]].key, "tolerance", dx, float(c.cost @ dx), _within(t, dx))
        )
    return tuple(out)


def _within(t: Trace, dx: Vec) -> float:
    """How many tolerances the recipe can move this way before a component meets a bound."""
    dy, s = dx[t.system.free] / t.system.sigma, t.system
    down, up = dy < -1e-12, dy > 1e-12
    room = np.concatenate(((t.y - s.yl)[down] / -dy[down], (s.yu - t.y)[up] / dy[up]))
    return float(room.min(initial=np.inf))


def why(c: Compiled, r: Result) -> tuple[str, ...]:
    """For each component the key of the window that holds its amount, or one of the marks of `types`.

    It is the window whose opening would take off most of the component. Where every opening would add some, the window
    that keeps it down most is named with `KEPT_DOWN` before its key. A component at a bound names the bound.
    """
    t, n = r.trace, len(c.problem.components)
    if t is None:
        return (HOUSE,) * n
    s = t.system
    out = [LOCKED] * n
    a = active(t) if s.n else None
    rows, moves = limit_moves(a) if a is not None else (np.zeros(0, dtype=np.intp), np.zeros((s.n, 0)))
    keys = [c.problem.windows[k].key for k in s.window[rows].tolist()]
    for i, j in enumerate(s.free.tolist()):
        y, low, high = float(t.y[i]), float(s.yl[i]), float(s.yu[i])
        if y <= low + _CLOSE * max(1.0, low):
            out[j] = UNUSED if low <= 0.0 else LEAST
        elif y >= high - _CLOSE * max(1.0, high):
            out[j] = STOCK
        else:
            out[j] = _holder(keys, moves[i])
    return tuple(out)


def _holder(keys: list[str], moves: Vec) -> str:
    largest = float(np.abs(moves).max(initial=0.0))
    if largest <= _FAINT:
        return HOUSE
    first = int(np.argmin(moves))
    if moves[first] < -_FAINT * largest:
        return keys[first]
    return KEPT_DOWN + keys[int(np.argmax(moves))]


def conflict(c: Compiled) -> Conflict | None:
    """A smallest set of windows that cannot hold together and what each alone would need; None if all can hold."""
    if not c.valid:
        return None
    s = c.system()
    alone = tuple(w.key for k, w in enumerate(c.problem.windows) if s.fixed[k] and _constant_outside(c, s, k))
    if alone:
        return Conflict(alone[:1], (), len(alone) > 1 or _core(c, s) != [])
    core = _core(c, s) if s.n else []
    if not core:
        return None
    reliefs, more = [], False
    for k in core:
        relief = _relief(c, s, k)
        more = more or relief is None
        if relief is not None:
            reliefs.append(relief)
    return Conflict(tuple(c.problem.windows[k].key for k in core), tuple(reliefs), more)


def _constant_outside(c: Compiled, s: System, k: int) -> bool:
    middle = 0.5 * (s.yl + s.yu)
    value = (s.gn[k] @ middle + s.cn[k]) / (s.gd[k] @ middle + s.cd[k])
    return bool(value < c.window_lo[k] - 1e-3 * c.tol[k] or value > c.window_hi[k] + 1e-3 * c.tol[k])


def _core(c: Compiled, s: System) -> list[int]:
    """Windows of a smallest conflict, by leaving out one after the other, the least important first."""
    if feasible_point(region(s, np.ones(len(s.h), dtype=bool), c.kernel)) is not None:
        return []
    kept = sorted({k for k in s.window.tolist() if k >= 0}, key=lambda k: (-c.priority[k], k))
    for k in list(kept):
        others = [o for o in kept if o != k]
        if feasible_point(region(s, _rows(s, others), c.kernel)) is None:
            kept = others
    return sorted(kept)


def _rows(s: System, windows: list[int]) -> Mask:
    chosen = np.zeros(len(s.undefined), dtype=bool)
    chosen[windows] = True
    # the guard of window k is numbered -1-k and counts whichever windows are chosen
    return np.asarray(chosen[s.window] | (s.window < 0))


def _relief(c: Compiled, s: System, k: int) -> Relief | None:
    """The limit of window k that would do, every other window kept; None if they conflict without it too."""
    others = region(s, s.window != k, c.kernel)
    y = feasible_point(others)
    if y is None:
        return None
    value = float((s.gn[k] @ y + s.cn[k]) / (s.gd[k] @ y + s.cd[k]))
    side: Side = "hi" if value > c.window_hi[k] else "lo"
    found = extreme(others, k, 1.0 if side == "hi" else -1.0, value)
    asked = c.window_hi[k] if side == "hi" else c.window_lo[k]
    return Relief(c.problem.windows[k].key, side, float(asked), value if found is None else found.value)
