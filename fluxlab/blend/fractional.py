"""Extremes of a window's value while chosen rows hold: linear-fractional programs, solved exactly."""

from typing import TYPE_CHECKING

import numpy as np

from fluxlab.blend.kernel import solve_lp, solve_qp
from fluxlab.blend.system import System
from fluxlab.blend.types import KernelChoice, Mask, Vec

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

_ROUNDS = 30
_CLOSED = 1e-12


def feasible_point(s: System, rows: Mask, choice: KernelChoice) -> Vec | None:
    """A recipe (scaled, near the house recipe) that meets the chosen rows, None if there is none."""
    found = solve_qp(np.eye(s.n), -s.r, s.G[rows], s.h[rows], None, s.yl, s.yu, choice)
    return found.y if found.status > 0 else None


def extreme(s: System, k: int, sign: float, rows: Mask, y: Vec, choice: KernelChoice) -> tuple[float, Vec]:
    """Least (sign +1) or greatest (sign -1) value of window k over the chosen rows, and where it is reached.

    `y` is any point that meets the rows. Each round lowers num - value*den over the set; the value there can only
    improve, and the last round proves it (W. Dinkelbach, "On nonlinear fractional programming", Management Science 13
    (1967) 492-498). A denominator without components needs one round.
    """
    G, h = s.G[rows], s.h[rows]
    num, den, cn, cd = s.gn[k], s.gd[k], float(s.cn[k]), float(s.cd[k])
    value = (float(num @ y) + cn) / (float(den @ y) + cd)
    for _ in range(_ROUNDS):
        aim = sign * (num - value * den)
        size = float(np.abs(aim).max(initial=0.0))
        if size == 0.0:
            break
        step = solve_lp(aim / size, G, h, None, s.yl, s.yu, choice, y)
        if step.status <= 0:
            break
        low = float(den @ step.y) + cd
        if low <= 0.0:
            break
        better = (float(num @ step.y) + cn) / low
        gained = sign * (value - better)
        if gained > 0.0:
            value, y = better, step.y
        if gained <= _CLOSED * max(1.0, abs(value)) or not den.any():
            break
    return value, y


def reach(c: "Compiled", key: str, leave_out: tuple[str, ...] = ()) -> tuple[float, float] | None:
    """Least and greatest value of a window that the components can reach while the other windows hold [window's unit].

    `leave_out` frees further windows. None when the others cannot hold together or the value is undefined.
    """
    if not c.valid:
        return None
    s, k = c.system(), c.index[key]
    if s.undefined[k]:
        return None
    if not s.n:
        return _single(s, k)
    out = [k, *(c.index[other] for other in leave_out)]
    rows = ~np.isin(s.window, out)
    y = feasible_point(s, rows, c.kernel)
    if y is None:
        return None
    return extreme(s, k, 1.0, rows, y, c.kernel)[0], extreme(s, k, -1.0, rows, y, c.kernel)[0]


def _single(s: System, k: int) -> tuple[float, float]:
    value = float(s.cn[k] / s.cd[k])
    return value, value
