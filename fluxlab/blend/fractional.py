"""Extremes of a window's value while chosen rows hold: linear-fractional programs, solved exactly."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fluxlab.blend.kernel import Kernel, solve_lp, solve_qp
from fluxlab.blend.system import System
from fluxlab.blend.types import KernelChoice, Mask, Mat, Vec

if TYPE_CHECKING:
    from fluxlab.blend.problem import Compiled

_ROUNDS = 30
_CLOSED = 1e-12


@dataclass(slots=True, eq=False)
class Region:
    """Rows G y >= h, the last `pinned` of them equalities, within the bounds of a system."""

    s: System
    G: Mat
    h: Vec
    choice: KernelChoice
    pinned: int = 0

    def upper(self) -> Vec | None:
        """Upper limits of the rows, None when all are open."""
        if not self.pinned:
            return None
        upper = np.full(len(self.h), 1e30)
        upper[-self.pinned :] = self.h[-self.pinned :]
        return upper


@dataclass(slots=True, eq=False)
class Extreme:
    """The extreme value of a window, where it is reached, and the program that proved it."""

    value: float
    y: Vec
    proof: Kernel


def region(s: System, rows: Mask, choice: KernelChoice) -> Region:
    """The chosen rows of a system."""
    return Region(s, s.G[rows], s.h[rows], choice)


def feasible_point(r: Region) -> Vec | None:
    """A recipe (scaled, near the house recipe) in the region, None if there is none."""
    s = r.s
    found = solve_qp(np.eye(s.n), -s.r, r.G, r.h, r.upper(), s.yl, s.yu, r.choice)
    return found.y if found.status > 0 else None


def extreme(r: Region, k: int, sign: float, guess: float) -> Extreme | None:
    """Least (sign +1) or greatest (sign -1) value of window k over the region; None if the region is empty.

    Each round lowers num - value*den over the region and takes the value found there; the round that gains nothing
    proves the value before (W. Dinkelbach, "On nonlinear fractional programming", Management Science 13 (1967)
    492-498). Any `guess` leads there: after one round the value is one that the region holds.
    """
    s = r.s
    num, den, cn, cd = s.gn[k], s.gd[k], float(s.cn[k]), float(s.cd[k])
    upper = r.upper()
    value, best = guess, None
    for _ in range(_ROUNDS):
        aim = sign * (num - value * den)
        size = max(abs(a) for a in aim.tolist()) or 1.0
        step = solve_lp(aim / size, r.G, r.h, upper, s.yl, s.yu, r.choice)
        if step.status <= 0:
            return best
        low = float(den.dot(step.y)) + cd
        if low <= 0.0:
            return best
        found = (float(num.dot(step.y)) + cn) / low
        gained = np.inf if best is None else sign * (best.value - found)
        if gained > 0.0:
            best = Extreme(found, step.y, step)
        if gained <= _CLOSED * max(1.0, abs(found)) or abs(found - value) <= _CLOSED * max(1.0, abs(found)):
            break
        value = found
    return best


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
        value = float(s.cn[k] / s.cd[k])
        return value, value
    r = region(s, ~np.isin(s.window, [k, *(c.index[other] for other in leave_out)]), c.kernel)
    y = feasible_point(r)
    if y is None:
        return None
    guess = float((s.gn[k] @ y + s.cn[k]) / (s.gd[k] @ y + s.cd[k]))
    least, most = extreme(r, k, 1.0, guess), extreme(r, k, -1.0, guess)
    return (guess if least is None else least.value), (guess if most is None else most.value)
