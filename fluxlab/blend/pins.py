"""Recipes with some windows held at given values: the same problem many times over, as a map asks for."""

import numpy as np

from fluxlab.blend.elastic import affordable, soft_program, start_slack
from fluxlab.blend.kernel import INF, solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.types import Vec

_CLOSE = 1e-9


class Pins:
    """A problem some of whose windows can be pinned; what no pin changes is worked out once.

    It holds for the numbers that the problem has when it is made.
    """

    def __init__(self, c: Compiled, keys: tuple[str, ...]) -> None:
        self.usable = c.valid and bool(c.system().n) and not any(c.system().undefined[c.index[k]] for k in keys)
        if not self.usable:
            return
        self.kernel, s = c.kernel, c.system()
        self.s, self.windows, self.rows = s, [c.index[key] for key in keys], len(s.h)
        pins = np.zeros((len(keys), s.n))
        self.G = np.vstack((s.G, pins))
        self.h = np.concatenate((s.h, np.zeros(len(keys))))
        self.upper = np.full(len(self.h), INF)
        self.soft = soft_program(s, self.G, start_slack(s, np.flatnonzero(~s.hard)))

    def recipe(self, values: tuple[float, ...]) -> Vec | None:
        """The recipe [g] with the windows at these values, every other one as near to its band as that allows.

        None where the physical rows and bounds leave no such recipe. Where windows must give way it is the convex start
        of the nearest recipe, which moves without jumps.
        """
        if not self.usable:
            return None
        s, n = self.s, self.s.n
        for i, (k, value) in enumerate(zip(self.windows, values, strict=True), self.rows):
            row = s.gn[k] - value * s.gd[k]
            size = float(np.sqrt(row.dot(row))) or 1.0
            self.G[i] = self.soft.A[i, :n] = row / size
            self.h[i] = self.upper[i] = (value * s.cd[k] - s.cn[k]) / size
        if not self._in_reach():
            return None
        found = solve_qp(s.H, s.g, self.G, self.h, self.upper, s.yl, s.yu, self.kernel)
        if found.status <= 0 or not affordable(s, found.y, found.lam_rows[: self.rows]):
            p = self.soft
            found = solve_qp(p.H, p.g, p.A, self.h, self.upper, p.lower, p.upper, self.kernel)
        return s.grams(found.y[:n]) if found.status > 0 else None

    def _in_reach(self) -> bool:
        """Whether the bounds alone let each pin hold, and no two pins ask one sum for two values."""
        s, G, h = self.s, self.G[self.rows :], self.h[self.rows :]
        least = np.minimum(G * s.yl, G * s.yu).sum(axis=1)
        most = np.maximum(G * s.yl, G * s.yu).sum(axis=1)
        room = _CLOSE * (1.0 + np.abs(h))
        if ((h < least - room) | (h > most + room)).any():
            return False
        for i in range(1, len(h)):
            turn = G[:i] @ G[i]
            if ((np.abs(turn) > 1.0 - _CLOSE) & (np.abs(h[i] - turn * h[:i]) > room[i])).any():
                return False
        return True
