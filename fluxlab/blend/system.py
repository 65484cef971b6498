"""The scaled rows of one solve: free components in units of their scale, every row divided by its length."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from fluxlab.blend.types import Index, Mask, Mat, Note, Vec

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

# A denominator is kept above this share of its typical value: at zero every ratio row would hold trivially.
GUARD = 1e-6
# The denominator that turns a tolerance into a slack is never taken below this share of its typical value.
START_FLOOR = 0.05
# A row that all free components together move by less than this share of what it is about is a constant.
_CONSTANT = 1e-7
_TOUCHES = 1e-12


@dataclass(slots=True, eq=False)
class System:
    """Rows G y >= h over the free components y = x/sigma, and what is needed to get back to windows and grams.

    Row arrays: `window` (-1-k for the guard of window k), `side` (+1 lower, -1 upper), `limit`, `norm` (length before
    scaling), `tol` (one tolerance over that length), `span` (the same times the typical denominator: one tolerance in
    row units), `weight`, `hard`. Window arrays: numerators `gn.y + cn` and denominators `gd.y + cd`, `den_ref` at a
    typical recipe, `undefined` and `fixed`. `locked` holds the columns of fixed components, numerators over
    denominators, in scale units. The goal is y.H.y/2 + g.y, that is linear.y + smooth/2 |y - r|^2 but for a constant.
    """

    n: int
    free: Index
    base: Vec
    sigma: Vec
    yl: Vec
    yu: Vec
    r: Vec
    low: Vec
    high: Vec
    G: Mat
    h: Vec
    norm: Vec
    window: Index
    side: Vec
    limit: Vec
    tol: Vec
    weight: Vec
    hard: Mask
    gn: Mat
    gd: Mat
    locked: Mat | None
    cn: Vec
    cd: Vec
    den_ref: Vec
    undefined: Mask
    fixed: Mask
    linear: Vec
    smooth: float
    H: Mat
    g: Vec
    span: Vec
    notes: tuple[Note, ...]

    def grams(self, y: Vec) -> Vec:
        """The whole recipe [g] of the free components y [scale units], inside its bounds."""
        x = self.base.copy()
        x[self.free] = self.sigma * y
        return np.minimum(np.maximum(x, self.low), self.high)

    def on_bounds(self, y: Vec) -> Vec:
        """Free components with those that touch a bound set exactly on it."""
        y = np.where(y - _TOUCHES <= self.yl, self.yl, y)
        return np.where(y + _TOUCHES >= self.yu, self.yu, y)


@dataclass(slots=True, eq=False)
class Trace:
    """How a result was reached: the rows, the free components, the multipliers of rows and bounds of the last program.

    `compliance` is the slack that a row gives per unit of its multiplier, zero for a row that holds.
    """

    system: System
    y: Vec
    lam_rows: Vec
    lam_box: Vec
    hessian: float
    kind: Literal["strict", "elastic", "staged"]
    G: Mat
    compliance: Vec


@dataclass(slots=True, eq=False)
class RowMatrix:
    """What of all window rows depends on limits and bounds alone; each row of G has length 1.

    `oxides` stacks what a mole of each oxide adds to numerators, to denominators and to the right-hand sides.
    `furthest` is the right-hand side beyond which the free components cannot be said to move the row, `tol` one
    tolerance in units of the row.
    """

    G: Mat
    norm: Vec
    oxides: Mat
    constant: Vec
    furthest: Vec
    tol: Vec


def row_matrix(c: "Compiled") -> RowMatrix:
    """Rows side*(num - limit*den), scaled to length 1."""
    count, window = c.count, c.row_window
    side, limit = c.row_side[:, None], c.row_limit[:, None]
    G = side * (c.GF[window] - limit * c.GF[count + window])
    norm = np.sqrt(np.einsum("ij,ij->i", G, G))
    norm = np.where(norm > 0.0, norm, 1.0)
    G = G / norm[:, None]
    reach = np.abs(G) @ (c.yu - c.yl)
    return RowMatrix(
        G=G,
        norm=norm,
        oxides=np.vstack((c.U, side * (limit * c.U[count + window] - c.U[window]) / norm[:, None])),
        constant=c.row_side * (c.row_limit * c.locked_part[count + window] - c.locked_part[window]) / norm,
        furthest=reach / _CONSTANT,
        tol=c.row_tol / norm,
    )


def assemble(c: "Compiled", m: RowMatrix) -> System:
    """The scaled rows of a compiled problem as its numbers stand."""
    count, window = c.count, c.row_window
    from_ore = m.oxides.dot(c.b)
    den = from_ore[count : 2 * count]
    constant = from_ore[: 2 * count] + c.locked_part
    size = np.abs(den) + c.den_size
    floor = GUARD * size
    den_ref = np.maximum(den + c.den_ref, START_FLOOR * size)
    above_floor = den - floor
    undefined = above_floor <= c.den_never
    some_undefined = np.count_nonzero(undefined)
    if some_undefined:
        den_ref[undefined] = 1.0
    h = from_ore[2 * count :] + m.constant
    span = m.tol * den_ref[window]
    s = System(
        n=len(c.free_list), free=c.free, base=c.base, sigma=c.sigma, yl=c.yl, yu=c.yu, r=c.r, low=c.low, high=c.high,
        G=m.G, h=h, norm=m.norm, window=window, side=c.row_side, limit=c.row_limit, tol=m.tol, weight=c.row_weight,
        hard=c.row_hard, gn=c.GF[:count], gd=c.GF[count:], locked=c.GL, cn=constant[:count],
        cd=constant[count:], den_ref=den_ref,
        undefined=undefined, fixed=c.nothing_fixed, linear=c.linear, smooth=c.smooth, H=c.H, g=c.g, span=span, notes=(),
    )  # fmt: skip
    keep = np.maximum(np.abs(h), span) < m.furthest
    if some_undefined or np.count_nonzero(keep) < len(keep):
        _drop(c, s, keep & ~undefined[window])
    guards = above_floor < c.den_always
    if np.count_nonzero(guards):
        _guard(s, guards & ~undefined, floor)
    return s


def _drop(c: "Compiled", s: System, keep: Mask) -> None:
    """Take out rows of undefined windows and rows that no flux can change; a window without rows left is fixed."""
    fixed = np.zeros(c.count, dtype=bool)
    fixed[s.window] = True
    fixed[s.window[keep]] = False
    s.fixed = fixed & ~s.undefined
    s.window, s.side, s.limit, s.norm, s.h = s.window[keep], s.side[keep], s.limit[keep], s.norm[keep], s.h[keep]
    s.tol, s.weight, s.hard, s.span, s.G = s.tol[keep], s.weight[keep], s.hard[keep], s.span[keep], s.G[keep]
    s.notes = tuple(Note("undefined", c.problem.windows[k].key) for k in np.flatnonzero(s.undefined).tolist())


def _guard(s: System, guards: Mask, floor: Vec) -> None:
    """Add hard rows that keep denominators above zero."""
    which = np.flatnonzero(guards)
    if not len(which):
        return
    G = s.gd[which]
    norm = np.sqrt(np.einsum("ij,ij->i", G, G))
    ones = np.ones(len(which))
    s.G = np.vstack((s.G, G / norm[:, None]))
    s.h = np.concatenate((s.h, (floor - s.cd)[which] / norm))
    s.norm = np.concatenate((s.norm, norm))
    s.window = np.concatenate((s.window, -1 - which))
    s.side, s.tol, s.weight, s.span = (np.concatenate((a, ones)) for a in (s.side, s.tol, s.weight, s.span))
    s.limit = np.concatenate((s.limit, 0.0 * ones))
    s.hard = np.concatenate((s.hard, ones > 0.0))


def aim(c: "Compiled") -> tuple[Vec, float]:
    """Linear part of the aim, its largest entry 1, and the weight of the distance from the house recipe [-]."""
    goal = c.problem.goal
    linear = objective(c, goal.kind) * c.scale
    largest = float(np.abs(linear).max(initial=0.0))
    if largest == 0.0:
        return linear[c.free], 1.0
    return linear[c.free] / largest, goal.smooth


def objective(c: "Compiled", kind: str) -> Vec:
    """What one gram of each component adds to the linear part of an aim: money, grams, or nothing."""
    if kind == "cost":
        return c.cost
    return np.ones_like(c.cost) if kind == "mass" else np.zeros_like(c.cost)
