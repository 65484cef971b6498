"""Recipes on the balance's grid: which rows they keep, and the best choice of rounding up or down."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from fluxlab.blend.problem import Compiled
from fluxlab.blend.states import OFF
from fluxlab.blend.system import objective
from fluxlab.blend.types import Index, Mask, Mat, Vec

# Weights this close to the grid, in steps, are on it.
ON_GRID = 1e-6
_HOLDS = 1e-9
_MOST_CORNERS = 16


@dataclass(slots=True, eq=False)
class Rows:
    """Rows A x >= h over all components in grams, each of length 1 in scale units, with one tolerance in those units.

    `window` is the window of each row and `met` whether the unrounded recipe keeps it.
    """

    A: Mat
    h: Vec
    tau: Vec
    window: Index
    met: Mask
    price: Vec

    def margins(self, x: Vec) -> Vec:
        """How far inside each row a recipe [g] is, or many recipes, one per line [scale units]."""
        return np.asarray(x @ self.A.T - self.h)

    def only(self, wanted: Mask) -> "Rows":
        """The wanted rows alone."""
        return Rows(self.A[wanted], self.h[wanted], self.tau[wanted], self.window[wanted], self.met[wanted], self.price)


def rows_asked(c: Compiled, x: Vec) -> Rows:
    """The rows of every defined window at the limits asked; tolerances are measured at the recipe x [g]."""
    constant = c.U @ c.b + c.C
    cn, cd = constant[: c.count], constant[c.count :]
    w, side, limit = c.row_window, c.row_side, c.row_limit
    A = side[:, None] * (c.GN[w] - limit[:, None] * c.GD[w])
    norm = np.sqrt(((A * c.scale) ** 2).sum(axis=1))
    norm = np.where(norm > 0.0, norm, 1.0)
    A, h = A / norm[:, None], side * (limit * cd[w] - cn[w]) / norm
    tau = c.row_tol * np.maximum(c.GD[w] @ x + cd[w], 0.0) / norm
    rows = Rows(A, h - _HOLDS, tau, w, h - A @ x <= OFF * tau + _HOLDS, objective(c, c.goal_kind))
    return rows.only(~c.system().undefined[w])


def rows_kept(c: Compiled, x: Vec, worst: int, hold_opened: bool) -> Rows:
    """The rows that a rounded form of x [g] has to keep.

    Rows of windows with a priority number up to `worst`. What x keeps must be kept; a window that gave way may, with
    `hold_opened`, get worse by at most one tolerance, and is left out without.
    """
    rows = rows_asked(c, x)
    short = np.maximum(-rows.margins(x), 0.0)
    rows.h = rows.h - np.where(rows.met, short, short + rows.tau)
    return rows.only((c.priority[rows.window] <= worst) & (rows.met | hold_opened))


def locked_weights(c: Compiled, step: Vec) -> Vec:
    """Weights fixed by hand at their nearest grid point, zero for the others [g]."""
    return np.asarray(np.where(c.is_free, 0.0, np.rint(c.low / step) * step))


def to_grid(c: Compiled, x: Vec, step: Vec) -> Vec:
    """Each weight at its nearest multiple of the balance step, inside its bounds where the grid allows it [g]."""
    near = np.rint(x / step)
    inside = c.is_free
    near = np.where(inside & (near * step > c.high + ON_GRID * step), np.floor(c.high / step + ON_GRID), near)
    near = np.where(inside & (near * step < c.low - ON_GRID * step), np.ceil(c.low / step - ON_GRID), near)
    return np.asarray(near * step)


@cache
def _choices(k: int) -> Mat:
    """All ways to round k weights down (0) or up (1), one per line."""
    bits = ((np.arange(2**k)[:, None] >> np.arange(k)) & 1).astype(float)
    bits.setflags(write=False)
    return bits


def best_corner(c: Compiled, rows: Rows, x: Vec, step: Vec, wishes: Rows | None = None) -> tuple[Vec, bool]:
    """The best recipe among all ways to round each weight of x up or down [g], and whether it keeps every row.

    Best is least of the goal among those that keep every row, or with `wishes` the one that misses those by least.
    Where none keeps every row it is the one of least violation in tolerances.
    """
    down = np.floor(x / step + ON_GRID)
    loose = np.flatnonzero(
        c.is_free
        & (np.abs(x / step - np.rint(x / step)) > ON_GRID)
        & (down * step >= c.low - ON_GRID * step)
        & ((down + 1.0) * step <= c.high + ON_GRID * step)
    )
    start = to_grid(c, x, step)
    if len(loose) > _MOST_CORNERS:
        loose = np.sort(loose[np.argsort(-step[loose] * np.abs(rows.A[:, loose]).sum(axis=0))][:_MOST_CORNERS])
    start[loose] = down[loose] * step[loose]
    up = _choices(len(loose))
    margins = rows.margins(start) + up @ (rows.A[:, loose] * step[loose]).T
    keeps: Mask = np.asarray((margins >= 0.0).all(axis=1))
    if keeps.any():
        # Without a linear goal the nearest corner is the best one.
        cost = up @ (rows.price[loose] * step[loose])
        if not rows.price.any():
            cost = (((start - x)[loose] + up * step[loose]) ** 2 / c.scale[loose] ** 2).sum(axis=1)
        if wishes is not None:
            cost = violation(wishes, wishes.margins(start) + up @ (wishes.A[:, loose] * step[loose]).T)
        best = int(np.argmin(np.where(keeps, cost, np.inf)))
    else:
        best = int(np.argmin(violation(rows, margins)))
    chosen = start.copy()
    chosen[loose] += up[best] * step[loose]
    return chosen, bool(keeps[best])


def violation(rows: Rows, margins: Mat) -> Vec:
    """Total shortfall of recipes, one per line, in tolerances."""
    return np.asarray((np.maximum(-margins, 0.0) / np.maximum(rows.tau, 1e-300)).sum(axis=-1))


def mend(c: Compiled, rows: Rows, x: Vec, step: Vec, rounds: int = 40) -> tuple[Vec, bool]:
    """A recipe on the grid bettered by moving one or two weights by a step at a time [g], and whether it keeps all."""
    free = c.free
    singles = np.zeros((2 * len(free), len(x)))
    singles[np.arange(len(free)), free] = step[free]
    singles[len(free) + np.arange(len(free)), free] = -step[free]
    i, j = np.triu_indices(len(singles))
    moves = np.vstack((singles, singles[i] + singles[j]))
    for _ in range(rounds):
        now = float(violation(rows, rows.margins(x)))
        if now == 0.0:
            return x, True
        tried = x + moves
        allowed = ((tried >= c.low - ON_GRID * step) & (tried <= c.high + ON_GRID * step) | ~c.is_free).all(axis=1)
        short = np.where(allowed, violation(rows, rows.margins(tried)), np.inf)
        best = int(np.argmin(short))
        if short[best] >= now:
            return x, False
        x = tried[best]
    return x, bool(violation(rows, rows.margins(x)) == 0.0)
