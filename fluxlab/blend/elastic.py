"""The nearest recipe when windows conflict: one convex start and a fixed number of damped corrections.

Every limit may give, at a price per tolerance that its priority sets; bounds and physical rows do not. The number of
passes is fixed and no step is ever accepted or refused: either would make the recipe jump.
"""

from dataclasses import dataclass

import numpy as np

from fluxlab.blend.kernel import INF, Kernel, solve_qp
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import Index, KernelChoice, Mat, Vec

AIM = 1e-2
CURVE = 1e-2
DAMPING = 0.1
PASSES = 4
_FLOOR = 0.02
_SPREAD = 30.0
_SMOOTH = 1e-2
_CLEARLY = 0.03


@dataclass(slots=True, eq=False)
class Slack:
    """Soft rows of a pass: which they are, what a tolerance is worth in row units, and the weight of one tolerance."""

    rows: Index
    tau: Vec
    weight: Vec
    column: float


def slack(s: System, soft: Index, tau: Vec) -> Slack:
    """Slack of the soft rows, with the tolerances drawn in to a bounded spread about their geometric mean."""
    middle = float(np.exp(np.log(tau).mean())) if len(tau) else 1.0
    kept = np.minimum(np.maximum(tau, middle / _SPREAD), middle * _SPREAD)
    return Slack(soft, kept, s.weight[soft], middle)


def start_tau(s: System, soft: Index) -> Vec:
    """One tolerance in the units of the strict rows, denominators as in a typical recipe."""
    window = s.window[soft]
    return s.tol[soft] * s.den_ref[window] / s.norm[soft]


def linearised(s: System, y: Vec, soft: Index) -> tuple[Mat, Vec, Vec]:
    """Rows, right-hand sides and tolerances of the ratios linearised at y."""
    window, side = s.window[soft], s.side[soft]
    den = np.maximum(s.gd @ y + s.cd, _FLOOR * s.den_ref)
    value = (s.gn @ y + s.cn) / den
    slope = ((s.gn - value[:, None] * s.gd) / den[:, None])[window]
    length = np.sqrt(np.einsum("ij,ij->i", slope, slope))
    length = np.maximum(length, 1e-9 * s.norm[soft] / s.den_ref[window])
    G = side[:, None] * slope
    h = side * (s.limit[soft] - value[window]) + G @ y
    return G / length[:, None], h / length, s.tol[soft] / length


def affordable(s: System, y: Vec, lam: Vec) -> bool:
    """Whether no limit costs more per tolerance than its weight: then the strict answer is also the elastic one."""
    soft = np.flatnonzero(~s.hard)
    if not len(soft):
        return True
    price, weight, tau = AIM * lam[soft], s.weight[soft], start_tau(s, soft)
    # Nearly always a limit costs a small part of its weight, and the exact test need not be made.
    if (price * (tau + tau.mean() / _SPREAD) <= _CLEARLY * weight).all():
        return True
    start = slack(s, soft, tau)
    later = slack(s, soft, linearised(s, y, soft)[2])
    return bool(np.all(price * start.tau <= weight) and np.all(price * later.tau <= weight))


def nearest(s: System, choice: KernelChoice) -> tuple[Trace, Kernel, int]:
    """The recipe of least priced violation: its trace, the last kernel answer and the number of programs solved."""
    soft, first, solves = _begin(s, choice)
    answer, spring, rows = first
    y = answer.y[: s.n] if answer.status > 0 else np.minimum(np.maximum(s.r, s.yl), s.yu)
    for _ in range(PASSES):
        G, h = s.G.copy(), s.h.copy()
        G[soft], h[soft], tau = linearised(s, y, soft)
        step_spring = slack(s, soft, tau)
        step = _program(s, G, h, step_spring, y, choice)
        if step.status <= 0:
            step = _program(s, G, h, step_spring, y, "numpy")
        solves += 1
        if step.status > 0:
            answer, spring, rows, y = step, step_spring, G, step.y[: s.n]
    return _trace(s, y, answer, spring, rows), answer, solves


def _begin(s: System, choice: KernelChoice) -> tuple[Index, tuple[Kernel, Slack, Mat], int]:
    """The convex start with the physical rows hard, or soft too where they cannot all hold; guards stay hard."""
    soft = np.flatnonzero(~s.hard)
    first = _start(s, soft, choice)
    if first[0].status > 0 or not s.hard.any():
        return soft, first, 1
    # Soft rows always have an answer, so either the hard ones have none or the kernel erred: ask about them alone.
    hard = s.hard
    alone = solve_qp(np.eye(s.n), -s.r, s.G[hard], s.h[hard], None, s.yl, s.yu, choice)
    if alone.status > 0:
        first = _start(s, soft, "numpy")
        if first[0].status > 0:
            return soft, first, 3
    soft = np.flatnonzero(s.window >= 0)
    first = _start(s, soft, choice)
    if first[0].status <= 0:
        first = _start(s, soft, "numpy")
    return soft, first, 4


def _start(s: System, soft: Index, choice: KernelChoice) -> tuple[Kernel, Slack, Mat]:
    spring = slack(s, soft, start_tau(s, soft))
    return _program(s, s.G, s.h, spring, None, choice), spring, s.G


def _program(s: System, G: Mat, h: Vec, spring: Slack, centre: Vec | None, choice: KernelChoice) -> Kernel:
    n, soft = s.n, spring.rows
    size = n + len(soft)
    smooth = AIM * (s.smooth or _SMOOTH)
    scale = spring.column / spring.tau
    curve = np.empty(size)
    curve[:n] = smooth if centre is None else smooth + DAMPING
    curve[n:] = CURVE * spring.weight * scale * scale
    g = np.empty(size)
    g[:n] = AIM * s.linear - smooth * s.r
    if centre is not None:
        g[:n] -= DAMPING * centre
    g[n:] = spring.weight * scale
    A = np.zeros((len(h), size))
    A[:, :n] = G
    A[soft, n + np.arange(len(soft))] = spring.column
    lower, upper = np.zeros(size), np.full(size, INF)
    lower[:n], upper[:n] = s.yl, s.yu
    return solve_qp(np.diag(curve), g, A, h, None, lower, upper, choice)


def _trace(s: System, y: Vec, answer: Kernel, spring: Slack, G: Mat) -> Trace:
    compliance = np.zeros(len(s.h))
    if answer.status > 0:
        given = answer.y[s.n :] > 0.0
        compliance[spring.rows] = np.where(given, spring.tau**2 / (CURVE * spring.weight), 0.0)
    smooth = AIM * (s.smooth or _SMOOTH)
    return Trace(s, y, answer.lam_rows, answer.lam_box[: s.n], smooth, "elastic", G, compliance)
