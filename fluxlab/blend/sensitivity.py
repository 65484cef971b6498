"""How the recipe moves when a right-hand side or a limit moves, from the limits that hold it now."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fluxlab.blend.system import GUARD, Trace
from fluxlab.blend.types import Index, Mask, Mat, Vec

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

_HELD = 1e-9


@dataclass(slots=True, eq=False)
class Active:
    """The binding rows of an answer, factored over the components that are not at a bound."""

    trace: Trace
    rows: Index
    inner: Mask
    N: Mat
    R: Mat

    def weights(self, shift: Mat) -> Mat:
        """Solution of (N N' + hessian * compliance) w = shift, one column per change."""
        return np.asarray(np.linalg.solve(self.R, np.linalg.solve(self.R.T, shift)))

    def move(self, rhs: Mat, turn: Mat | None = None) -> tuple[Mat, Mat]:
        """Change of y and of the row multipliers (rows x changes) for a change of the active right-hand sides.

        `turn` is the change of the gradient that the rows' own turning brings (inner components x changes).
        """
        t = self.trace
        shift = t.hessian * rhs
        if turn is not None:
            shift = shift - self.N @ turn
        lam = self.weights(shift)
        dy = np.zeros((t.system.n, rhs.shape[1]))
        pull = self.N.T @ lam
        dy[self.inner] = (pull if turn is None else pull + turn) / t.hessian
        return dy, lam


def active(t: Trace) -> Active | None:
    """The binding rows of a trace, None when nothing binds or they do not determine the answer."""
    s = t.system
    largest = float(np.abs(t.lam_rows).max(initial=0.0))
    rows = np.flatnonzero(t.lam_rows > _HELD * largest) if largest > 0.0 else np.zeros(0, dtype=np.intp)
    inner = (t.lam_box == 0.0) & (t.y > s.yl) & (t.y < s.yu)
    if not len(rows) or not inner.any():
        return None
    N = t.G[rows][:, inner]
    stacked = np.hstack((N, np.diag(np.sqrt(t.hessian * t.compliance[rows])))) if t.compliance.any() else N
    if stacked.shape[0] > stacked.shape[1]:
        return None
    R: Mat = np.asarray(np.linalg.qr(stacked.T, mode="r"))
    diagonal = np.abs(np.diag(R))
    if diagonal.min() <= 1e-12 * diagonal.max():
        return None
    return Active(t, rows, inner, N, R)


def limit_moves(a: Active) -> tuple[Index, Mat]:
    """The binding window rows and the change of y when each is opened by one tolerance (components x rows)."""
    t, s = a.trace, a.trace.system
    of_window = np.flatnonzero(s.window[a.rows] >= 0)
    rows = a.rows[of_window]
    window = s.window[rows]
    # Opening a lower limit lowers it, opening an upper one raises it: either way the row asks for less.
    den = s.gd[window] @ t.y + s.cd[window]
    rhs = np.zeros((len(a.rows), len(rows)))
    turn = None
    if t.kind == "elastic":
        length = _elastic_length(t, rows)
        rhs[of_window, np.arange(len(rows))] = -s.tol[rows] * s.norm[rows] / length
    else:
        rhs[of_window, np.arange(len(rows))] = -s.tol[rows] * den
        turn = (t.lam_rows[rows] * s.tol[rows])[:, None] * s.gd[window][:, a.inner]
        turn = turn.T
    return rows, a.move(rhs, turn)[0]


def _elastic_length(t: Trace, rows: Index) -> Vec:
    s = t.system
    window = s.window[rows]
    den = np.maximum(s.gd[window] @ t.y + s.cd[window], 1e-12 * s.den_ref[window])
    value = (s.gn[window] @ t.y + s.cn[window]) / den
    slope = (s.gn[window] - value[:, None] * s.gd[window]) / den[:, None]
    return np.asarray(np.maximum(np.sqrt(np.einsum("ij,ij->i", slope, slope)), 1e-300))


def opening_saves(t: Trace, held: Index, aim: Vec, den: Vec) -> list[float]:
    """What opening each held row of a strict answer by one tolerance takes off aim.y; empty if it is not determined.

    The adjoint of `limit_moves`: one system for all rows, and no move of the recipe itself. `den` are the denominators
    of the windows at the answer.
    """
    s = t.system
    inner = t.lam_box == 0.0
    N = s.G.take(held, 0) * inner
    try:
        share = np.linalg.solve(N.dot(N.T), N.dot(aim))
    except np.linalg.LinAlgError:
        return []
    turn = s.gd.dot((aim - share.dot(N)) * inner)
    window = s.window[held]
    saved: list[float] = (s.tol[held] * (share * den[window] - t.lam_rows[held] * turn[window] / t.hessian)).tolist()
    return saved


def oxide_shift(c: "Compiled", t: Trace, oxides: Index) -> Mat:
    """Change of every right-hand side per mole of each oxide (rows x oxides) [1/mol]."""
    s, count = t.system, c.count
    out = np.zeros((len(s.h), len(oxides)))
    own = s.window >= 0
    window, side, limit = s.window[own], s.side[own][:, None], s.limit[own][:, None]
    num, den = c.U[:count][window][:, oxides], c.U[count:][window][:, oxides]
    out[own] = side * (limit * den - num) / s.norm[own][:, None]
    guard = np.flatnonzero(~own)
    if len(guard):
        k = -1 - s.window[guard]
        out[guard] = c.U[count + k][:, oxides] * (GUARD * np.sign(s.cd[k]) - 1.0)[:, None] / s.norm[guard][:, None]
    return out


def holds_for(a: Active, dy: Mat, dlam: Mat, drhs: Mat) -> Vec:
    """How far along each change of right-hand sides the same limits stay binding [units of the change].

    `dy` (components x changes), `dlam` (active rows x changes) and `drhs` (rows x changes) go together.
    """
    t, s = a.trace, a.trace.system
    others = np.ones(len(s.h), dtype=bool)
    others[a.rows] = False
    bound, inner = t.lam_box != 0.0, a.inner
    d_box = -(t.G[a.rows][:, bound].T @ dlam) * np.sign(t.lam_box[bound])[:, None]
    # Every one of these must stay non-negative; each falls at its own rate.
    have = np.concatenate((
        (t.G @ t.y - s.h)[others], (t.y - s.yl)[inner], (s.yu - t.y)[inner],
        t.lam_rows[a.rows], np.abs(t.lam_box[bound]),
    ))  # fmt: skip
    rate = np.vstack(((t.G @ dy - drhs)[others], dy[inner], -dy[inner], dlam, d_box))
    falling = rate < -1e-12
    steps = np.where(falling, np.maximum(have, 0.0)[:, None] / np.where(falling, -rate, 1.0), np.inf)
    return np.asarray(steps.min(axis=0))
