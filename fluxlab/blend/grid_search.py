"""The best recipe on the balance's grid by branch and bound: exact where the number of nodes suffices."""

import numpy as np

from fluxlab.blend.grid import ON_GRID, Rows, locked_weights
from fluxlab.blend.kernel import solve_lp, solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.types import Vec

_SAME = 1e-11


def search(c: Compiled, rows: Rows, x: Vec, step: Vec, nodes: int) -> tuple[Vec | None, bool]:
    """The best recipe on the grid that keeps the rows [g], None if none was found, and whether the search was complete.

    Depth first, the weight furthest from the grid split at each node, the nearer side first. Least of the goal; without
    a linear goal, nearest to x.
    """
    free, sigma = c.free, c.sigma
    base = locked_weights(c, step)
    A, h = rows.A[:, free] * sigma, rows.h - rows.A @ base
    linear = rows.price[free] * sigma
    size = float(np.abs(linear).max(initial=0.0))
    per = step[free]
    low = np.ceil(c.low[free] / per - ON_GRID)
    high = np.floor(c.high[free] / per + ON_GRID)
    eye, target = np.eye(len(free)), x[free] / sigma
    best: Vec | None = None
    best_value = np.inf
    stack = [(low, high)]
    used = 0
    while stack:
        if used >= nodes:
            return best, False
        used += 1
        lo, hi = stack.pop()
        if (lo > hi).any():
            continue
        yl, yu = lo * per / sigma, hi * per / sigma
        if size > 0.0:
            step_answer = solve_lp(linear / size, A, h, None, yl, yu, c.kernel)
            value = float(linear @ step_answer.y) / size
        else:
            step_answer = solve_qp(eye, -target, A, h, None, yl, yu, c.kernel)
            value = float(((step_answer.y - target) ** 2).sum())
        if step_answer.status < 0 or (step_answer.status > 0 and value >= best_value - _SAME * (1.0 + abs(best_value))):
            continue
        if step_answer.status == 0:
            return best, False
        count = step_answer.y * sigma / per
        whole = np.rint(count)
        off = np.abs(count - whole)
        if off.max() <= ON_GRID:
            found = base.copy()
            found[free] = whole * per
            if (rows.margins(found) >= 0.0).all():
                best, best_value = found, value
            continue
        j = int(np.argmax(off))
        below, above = hi.copy(), lo.copy()
        below[j], above[j] = np.floor(count[j]), np.ceil(count[j])
        sides = [(lo, below), (above, hi)]
        stack.extend(sides if count[j] - below[j] > 0.5 else sides[::-1])
    return best, True
