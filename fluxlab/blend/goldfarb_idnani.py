"""A dual active-set method for small strictly convex quadratic programs, in numpy alone.

Method: D. Goldfarb and A. Idnani, "A numerically stable dual method for solving strictly convex quadratic programs",
Mathematical Programming 27 (1983) 1-33. Working matrices are updated one limit at a time and made afresh now and then;
the final point is recomputed from a fresh factorisation.
"""

from math import inf

import numpy as np

from fluxlab.blend.types import Mat, Vec

_FEASIBLE = 1e-10
_DEPENDENT = 1e-9
_DOUBTFUL = 1e-7
_REFRESH = 40


def minimise(H: Mat, g: Vec, A: Mat, lower: Vec, upper: Vec) -> tuple[int, Vec, Vec]:
    """Status (1 solved, -1 cannot hold, 0 gave up), minimiser and multipliers [-].

    Minimises y.H.y/2 + g.y with the limits of y itself first in `lower` and `upper` and those of A y after them.
    Multipliers are positive at a lower limit, negative at an upper one.
    """
    n = len(g)
    diagonal = np.diag(H)
    if not (diagonal > 0.0).all():
        return 0, np.zeros(n), np.zeros(len(lower))
    separable = np.count_nonzero(H) == n
    try:
        inverse = np.diag(diagonal**-0.5) if separable else np.linalg.inv(np.linalg.cholesky(H))
    except np.linalg.LinAlgError:
        return 0, np.zeros(n), np.zeros(len(lower))
    # z = L'y turns the aim into the distance from z0; a row a.y becomes (L^-1 a).z.
    normals = np.vstack((inverse.T, A @ inverse.T))
    search = _Search(normals, lower, upper, -(inverse @ g))
    if separable:
        search.start_on_bounds()
    status = search.run(50 * (n + len(lower)))
    y = inverse.T @ search.z
    lam = np.zeros(len(lower))
    lam[search.active] = search.u * np.array(search.side)
    return status, y, lam


class _Search:
    """The working set: which limits are met exactly, from which side, and with what multiplier.

    `dual` holds one row per active normal, the vector that is 1 along it and 0 along the others; `rest` projects on
    what is at right angles to them all.
    """

    def __init__(self, normals: Mat, lower: Vec, upper: Vec, z: Vec) -> None:
        self.normals, self.lower, self.upper, self.free_optimum = normals, lower, upper, z
        self.length = np.maximum(np.sqrt(np.einsum("ij,ij->i", normals, normals)), 1e-300)
        self.z = z.copy()
        self.active: list[int] = []
        self.side: list[float] = []
        self.u: Vec = np.zeros(0)
        self.both = upper - lower <= 0.0
        self.dual, self.rest = np.zeros((0, len(z))), np.eye(len(z))
        self.changes = 0

    def start_on_bounds(self) -> None:
        """Begin at the answer to the bounds alone, which a diagonal aim gives at once: they do not meddle."""
        n = len(self.z)
        per_unit = self.length[:n]
        y = self.z * per_unit
        on = np.minimum(np.maximum(y, self.lower[:n]), self.upper[:n])
        moved = np.flatnonzero(on != y)
        if len(moved):
            push = (on - y)[moved] / per_unit[moved] ** 2
            self.active, self.side = moved.tolist(), np.sign(push).tolist()
            self.u = np.abs(push)
            self.z[moved] = (on / per_unit)[moved]
            self.dual = np.zeros((len(moved), n))
            self.dual[np.arange(len(moved)), moved] = np.sign(push) / per_unit[moved]
            self.rest[moved, moved] = 0.0

    def run(self, most: int) -> int:
        for _ in range(most):
            values = self.normals @ self.z
            below, above = self.lower - values, values - self.upper
            short = np.maximum(below, above)
            short[self.active] = -inf
            if short.max() <= _FEASIBLE:
                self._polish()
                return 1
            new = int(np.argmax(np.where(short > _FEASIBLE, short / self.length, -inf)))
            outcome = self._meet(new, 1.0 if below[new] >= above[new] else -1.0, most)
            if outcome <= 0:
                return outcome
        return 0

    def _meet(self, new: int, sign: float, most: int) -> int:
        """Step until the new limit is met, dropping limits whose multiplier runs out on the way."""
        normal = sign * self.normals[new]
        goal = self.lower[new] if sign > 0.0 else -self.upper[new]
        gained = 0.0
        for _ in range(most):
            share, rest, size = self._project(normal, self.length[new])
            blocking, dual_step = self._blocking(share)
            primal_step = (goal - float(normal @ self.z)) / size if size > 0.0 else inf
            step = min(dual_step, primal_step)
            if step == inf:
                return -1
            if size > 0.0:
                self.z = self.z + step * rest
            self.u = self.u - step * share
            gained += step
            if step == primal_step:
                self._add(new, sign, gained, share, rest, size)
                return 1
            self._drop(blocking)
        return 0

    def _project(self, normal: Vec, length: float) -> tuple[Vec, Vec, float]:
        """The normal as a combination of the active ones, what is left of it, and the square of that (0 = nothing)."""
        share, rest = self.dual @ normal, self.rest @ normal
        size = float(rest @ rest)
        if self.active and size <= (_DOUBTFUL * length) ** 2:
            self._refactor()
            share, rest = self.dual @ normal, self.rest @ normal
            rest = self.rest @ rest
            size = float(rest @ rest)
        if len(self.active) >= len(normal) or size <= (_DEPENDENT * length) ** 2:
            size = 0.0
        return share, rest, size

    def _blocking(self, share: Vec) -> tuple[int, float]:
        """The active limit whose multiplier runs out first, and after how long a step."""
        where, best = -1, inf
        for i, (u, r) in enumerate(zip(self.u.tolist(), share.tolist(), strict=True)):
            if r > 1e-13 and u < best * r and not self.both[self.active[i]]:
                where, best = i, max(u, 0.0) / r
        return where, best

    def _add(self, new: int, sign: float, u: float, share: Vec, rest: Vec, size: float) -> None:
        self.active.append(new)
        self.side.append(sign)
        self.u = np.append(self.u, u)
        row = rest / size
        self.dual = np.vstack((self.dual - share[:, None] * row, row))
        self.rest = self.rest - rest[:, None] * row
        self._count()

    def _drop(self, where: int) -> None:
        row = self.dual[where]
        self.dual = np.delete(self.dual, where, axis=0)
        unit = row / float(row @ row)
        self.dual = self.dual - (self.dual @ row)[:, None] * unit
        self.rest = self.rest + row[:, None] * unit
        del self.active[where], self.side[where]
        self.u = np.delete(self.u, where)
        self._count()

    def _count(self) -> None:
        self.changes += 1
        if self.changes >= _REFRESH:
            self._refactor()

    def _rows(self) -> Mat:
        return np.asarray(self.normals[self.active] * np.array(self.side)[:, None])

    def _refactor(self) -> None:
        """Working matrices afresh, free of the drift of many updates."""
        n = self.normals.shape[1]
        self.changes = 0
        if not self.active:
            self.dual, self.rest = np.zeros((0, n)), np.eye(n)
            return
        q, r = np.linalg.qr(self._rows().T)
        try:
            self.dual = np.linalg.solve(r, q.T)
        except np.linalg.LinAlgError:
            self.dual = np.linalg.lstsq(r, q.T, rcond=None)[0]
        self.rest = np.eye(n) - q @ q.T

    def _polish(self) -> None:
        """Recompute point and multipliers from the final working set."""
        if not self.active:
            return
        rows = self._rows()
        goals = np.where(np.array(self.side) > 0.0, self.lower[self.active], -self.upper[self.active])
        q, r = np.linalg.qr(rows.T)
        try:
            half = np.linalg.solve(r.T, goals - rows @ self.free_optimum)
            u = np.linalg.solve(r, half)
        except np.linalg.LinAlgError:
            return
        inequality = ~self.both[self.active]
        if np.isfinite(u).all() and (u[inequality] >= -1e-9 * (1.0 + np.abs(u).max())).all():
            self.z, self.u = self.free_optimum + q @ half, np.where(inequality, np.maximum(u, 0.0), u)
