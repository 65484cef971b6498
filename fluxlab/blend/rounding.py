"""Weights that a balance can show and that still keep the windows."""

import numpy as np

from fluxlab.blend.grid import Rows, best_corner, locked_weights, mend, rows_asked, rows_kept, to_grid
from fluxlab.blend.grid_search import search
from fluxlab.blend.kernel import solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.states import states
from fluxlab.blend.types import MUST, Method, Rounded, Vec

_SHRINK = (0.15, 0.3, 0.5)
_ALL = 99
_NODES = 300


def round_recipe(c: Compiled, x: Vec, step: Vec | float | None = None, nodes: int = _NODES) -> Rounded:
    """The recipe x [g] on the grid of the balance step [g] (the problem's own by default).

    First every window that x keeps is to be kept, then, if no way is found, the musts and the physical ones; if that
    fails too the weights that miss them by least come back with method "failed" and the window that leaves the least
    room. A weight
    fixed by hand goes to its nearest grid point.
    """
    steps = _steps(c, step)
    if not c.valid:
        nearest = np.rint(x / steps) * steps
        cost = float(np.nan_to_num(c.cost) @ nearest)
        return Rounded(nearest, "nearest", False, False, (), cost, float(nearest.sum()))
    every = rows_kept(c, x, _ALL, True)
    found, method = _cascade(c, every, x, steps, nodes)
    kept = rows_kept(c, x, _ALL, False)
    if found is None and len(kept.h) < len(every.h):
        found, method = _cascade(c, kept, x, steps, nodes)
    rows = rows_kept(c, x, MUST, False)
    if found is None and len(rows.h) < len(kept.h):
        found, method = _cascade(c, rows, x, steps, nodes, kept)
    if found is not None:
        return _report(c, x, found, method, "")
    closest, _ = mend(c, rows, best_corner(c, rows, x, steps, kept)[0], steps)
    return _report(c, x, closest, "failed", _least_room(c, rows, steps))


def cheapest_on_grid(c: Compiled, step: Vec | float | None = None, nodes: int = 20000) -> tuple[Vec | None, bool]:
    """The recipe on the grid [g] that keeps every window at the least of the goal, and whether that is proved.

    None when there is none or none was found in so many nodes.
    """
    if not c.valid or not c.system().n:
        return None, False
    s = c.system()
    house = s.grams(np.minimum(np.maximum(s.r, s.yl), s.yu))
    steps = _steps(c, step)
    return search(c, rows_asked(c, house), house, steps, nodes)


def _steps(c: Compiled, step: Vec | float | None) -> Vec:
    return np.broadcast_to(np.asarray(c.problem.step if step is None else step, dtype=float), c.cost.shape)


def _cascade(
    c: Compiled, rows: Rows, x: Vec, step: Vec, nodes: int, wishes: Rows | None = None
) -> tuple[Vec | None, Method]:
    """The first way of rounding that keeps the rows; rows that are `wishes` alone are missed by as little as can be."""
    nearest = to_grid(c, x, step)
    if wishes is None and (rows.margins(nearest) >= 0.0).all():
        return nearest, "nearest"
    corner, good = best_corner(c, rows, x, step, wishes)
    if good:
        return corner, "corner"
    band = 0.5 * np.abs(rows.A[:, c.free]) @ step[c.free]
    for share in (*_SHRINK, 1.0):
        inner = _inside(c, rows, x, step, share * band)
        if inner is None:
            break
        moved, good = best_corner(c, rows, inner, step, wishes)
        if good:
            return moved, "guard" if share == 1.0 else "shrunk"
    mended, good = mend(c, rows, corner, step)
    if good:
        return mended, "moves"
    found, _ = search(c, rows, x, step, nodes)
    return found, "search"


def _inside(c: Compiled, rows: Rows, x: Vec, step: Vec, room: Vec) -> Vec | None:
    """The recipe nearest to x that keeps every row with room to spare [g].

    The nearest and not the best: where several recipes are as good, what is weighed has to be the one that was shown.
    """
    s = c.system()
    h = rows.h - rows.A @ locked_weights(c, step) + room
    near = x[c.free] / s.sigma
    found = solve_qp(np.eye(s.n), -near, rows.A[:, c.free] * s.sigma, h, None, s.yl, s.yu, c.kernel)
    return np.where(c.is_free, s.grams(found.y), x) if found.status > 0 else None


def _report(c: Compiled, x: Vec, found: Vec, method: Method, too_coarse: str) -> Rounded:
    before = {w.key for w in states(c, x) if w.off_tol > 0.0}
    broken = tuple(w for w in states(c, found) if w.off_tol > 0.0 and w.key not in before)
    musts = not any(c.priority[c.index[w.key]] <= MUST for w in broken)
    return Rounded(found, method, not broken, musts, broken, float(c.cost @ found), float(found.sum()), too_coarse)


def _least_room(c: Compiled, rows: Rows, step: Vec) -> str:
    """Key of the window whose width, in half steps of all weights together, is least."""
    band = 0.5 * np.abs(rows.A[:, c.free]) @ step[c.free]
    best, key = np.inf, ""
    for k in np.unique(rows.window).tolist():
        own = np.flatnonzero(rows.window == k)
        width = c.window_hi[k] - c.window_lo[k] if len(own) > 1 else np.inf
        # Width in row units: a tolerance is worth tau there.
        room = width / c.tol[k] * float(rows.tau[own[0]]) / max(float(band[own[0]]), 1e-300)
        if room < best:
            best, key = room, c.problem.windows[k].key
    if not key and len(rows.window):
        key = c.problem.windows[int(rows.window[int(np.argmax(band / np.maximum(rows.tau, 1e-300)))])].key
    return key
