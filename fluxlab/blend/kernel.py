"""Small dense quadratic and linear programs, each answer checked before it is believed.

Two kernels: the compiled `daqp` where it is installed, and the numpy one of `goldfarb_idnani`, which also takes over
when the first gives no answer or one that fails the check. This is the only file that imports `daqp`.
"""

from dataclasses import dataclass
from functools import cache
from math import inf, sqrt
from typing import Any

import numpy as np

from fluxlab.blend.goldfarb_idnani import minimise
from fluxlab.blend.types import KernelChoice, Mat, Vec

INF = 1e30
FEASIBLE = 1e-9
ACCEPT = 1e-7
_PROXIMAL = 1e-4
_PROXIMAL_ROUNDS = 60


@dataclass(slots=True, eq=False)
class Kernel:
    """One kernel answer: status 1 solved, -1 cannot hold, 0 no answer that passes the check.

    Multipliers are positive at a lower limit and negative at an upper one. `residual` is the largest violation of the
    optimality conditions.
    """

    status: int
    y: Vec
    lam_rows: Vec
    lam_box: Vec
    residual: float
    who: str


@cache
def _daqp() -> Any:
    """The compiled solver's entry point, None where it is not installed."""
    try:
        import daqp
    except ImportError:
        return None
    return daqp.solve


@cache
def _open_ends(rows: int) -> Vec:
    ends = np.full(rows, INF)
    ends.setflags(write=False)
    return ends


@cache
def _senses(size: int) -> Any:
    """No row of any special kind."""
    return np.zeros(size, dtype=np.int32)


def has_compiled_kernel() -> bool:
    """Whether the compiled kernel is installed."""
    return _daqp() is not None


def solve_qp(
    H: Mat, g: Vec, A: Mat, lo: Vec, hi: Vec | None, yl: Vec, yu: Vec, choice: KernelChoice = "auto"
) -> Kernel:
    """Minimiser of y.H.y/2 + g.y subject to lo <= A y <= hi and yl <= y <= yu [-].

    H is positive definite; `hi` None leaves every row open above; `INF` stands for no limit.
    """
    upper = _open_ends(len(lo)) if hi is None else hi
    if choice == "auto":
        found = _compiled(H, g, A, lo, upper, yl, yu)
        if found is not None and (found.status < 0 or found.residual <= ACCEPT):
            return found
    return _own(H, g, A, lo, upper, yl, yu)


def solve_lp(
    c: Vec, A: Mat, lo: Vec, hi: Vec | None, yl: Vec, yu: Vec, choice: KernelChoice = "auto", y0: Vec | None = None
) -> Kernel:
    """A minimiser of c.y subject to lo <= A y <= hi and yl <= y <= yu [-]; `y0` is where the fallback starts."""
    upper = _open_ends(len(lo)) if hi is None else hi
    if choice == "auto":
        found = _compiled(None, c, A, lo, upper, yl, yu)
        if found is not None and (found.status < 0 or found.residual <= ACCEPT):
            return found
    return _proximal(c, A, lo, upper, yl, yu, choice, y0)


def _proximal(c: Vec, A: Mat, lo: Vec, hi: Vec, yl: Vec, yu: Vec, choice: KernelChoice, y0: Vec | None) -> Kernel:
    """Proximal steps, which end at a minimiser of a linear program after finitely many rounds."""
    n = len(c)
    y = np.clip(np.zeros(n), yl, yu) if y0 is None else y0
    size = max(float(np.abs(c).max(initial=0.0)), 1e-300)
    hessian = _PROXIMAL * np.eye(n)
    step = Kernel(0, y, np.zeros(len(lo)), np.zeros(n), inf, "numpy")
    for _ in range(_PROXIMAL_ROUNDS):
        step = solve_qp(hessian, c / size - _PROXIMAL * y, A, lo, hi, yl, yu, choice)
        if step.status <= 0:
            break
        moved = float(np.abs(step.y - y).max(initial=0.0))
        y = step.y
        if moved <= 1e-11 * (1.0 + float(np.abs(y).max(initial=0.0))):
            break
    step.lam_rows = step.lam_rows * size
    step.lam_box = step.lam_box * size
    return step


def _compiled(H: Mat | None, g: Vec, A: Mat, lo: Vec, hi: Vec, yl: Vec, yu: Vec) -> Kernel | None:
    solve = _daqp()
    if solve is None:
        return None
    n = len(g)
    upper = np.concatenate((yu, hi))
    lower = np.concatenate((yl, lo))
    y, _, flag, info = solve(H, g, A, upper, lower, _senses(len(upper)), primal_tol=FEASIBLE)
    if flag == -1:
        return Kernel(-1, yl.copy(), np.zeros(len(lo)), np.zeros(n), inf, "daqp")
    if flag != 1:
        return None
    lam = -info["lam"]
    residual = kkt_residual(H, g, A, lower, upper, y, lam)
    return Kernel(1, y, lam[n:], lam[:n], residual, "daqp")


def _own(H: Mat, g: Vec, A: Mat, lo: Vec, hi: Vec, yl: Vec, yu: Vec) -> Kernel:
    n = len(g)
    lower, upper = np.concatenate((yl, lo)), np.concatenate((yu, hi))
    status, y, lam = minimise(H, g, A, lower, upper)
    if status <= 0:
        return Kernel(status, y, lam[n:], lam[:n], inf, "numpy")
    residual = kkt_residual(H, g, A, lower, upper, y, lam)
    return Kernel(1 if residual <= ACCEPT else 0, y, lam[n:], lam[:n], residual, "numpy")


def kkt_residual(H: Mat | None, g: Vec, A: Mat, lower: Vec, upper: Vec, y: Vec, lam: Vec) -> float:
    """Violation of the optimality conditions at (y, lam), as a length [-].

    `lower`, `upper` and `lam` list the bounds of y first and the rows of A after them. NaN anywhere gives inf.
    """
    n = len(g)
    values = np.concatenate((y, A.dot(y)))
    # Limits hold, multipliers have the right sign, and one of the two is zero: values = clip(values - lam) says it all.
    natural = values - np.minimum(np.maximum(values - lam, lower), upper)
    gradient = g - lam[:n] - lam[n:].dot(A)
    if H is not None:
        gradient += H.dot(y)
    off, turned = float(natural.dot(natural)), float(gradient.dot(gradient)) / max(1.0, float(g.dot(g)))
    return sqrt(max(off, turned)) if off + turned < inf else inf
