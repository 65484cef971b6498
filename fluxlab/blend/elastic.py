"""The nearest recipe when windows conflict: one convex start and a fixed number of damped corrections.

Every limit may give, at a price per tolerance that its priority sets. Bounds never give, and physical rows only by the
least that lets them hold at all. The number of passes is fixed and no step is ever accepted or refused: either would
make the recipe jump.
"""

from dataclasses import dataclass

import numpy as np

from fluxlab.blend.kernel import INF, Kernel, solve_qp
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import Index, KernelChoice, Mat, Vec

# Share of the goal beside the price of violation: the larger, the gentler the answer turns as limits tilt. A limit
# gives way to the goal only where one tolerance costs ten times its weight in units of the goal's scale.
AIM = 0.1
CURVE = 1e-2
# Pull of each correction towards where it starts. Away from a ridge between two nearest recipes each pass multiplies
# every small difference, the more the weaker its pull: few passes and a growing pull keep the answer from turning
# steeply. Against four passes of pull 0.1 these two end nearer in the worst cases too.
DAMPING = (1.0, 100.0)
_FLOOR = 0.02
# One tolerance, as a step across its row in scale units, counts within this band.
_LEAST_TAU, _MIDDLE_TAU, _MOST_TAU = 3e-4, 0.01, 0.3
_SMOOTH = 1e-2
_CLEARLY = 0.03
_WIDEST = 3.0
_BARELY = 1e-7
_ROOM = 1e-7


@dataclass(slots=True, eq=False)
class Slack:
    """Soft rows of a pass: which they are, what a tolerance is worth in row units, and the weight of one tolerance."""

    rows: Index
    tau: Vec
    weight: Vec


def slack(s: System, soft: Index, tau: Vec, whole: Vec) -> Slack:
    """Slack of the soft rows; a tolerance counts for no more and no less than a wide band allows.

    `whole` is the length of each row over all components, fixed ones too, in units of its length over the free ones:
    the band must not depend on which components are fixed.
    """
    across = tau / whole
    kept = tau * (np.minimum(np.maximum(across, _LEAST_TAU), _MOST_TAU) / across)
    return Slack(soft, kept, s.weight[soft])


def start_slack(s: System, soft: Index) -> Slack:
    """Slack of the strict rows, denominators as in a typical recipe."""
    window, norm = s.window[soft], s.norm[soft]
    tau = s.span[soft]
    if s.locked is None:
        return slack(s, soft, tau, np.ones(len(soft)))
    count = len(s.cn)
    rest = s.locked[window] - s.limit[soft][:, None] * s.locked[count + window]
    return slack(s, soft, tau, np.sqrt(1.0 + np.einsum("ij,ij->i", rest, rest) / norm**2))


def linearised(s: System, y: Vec, soft: Index) -> tuple[Mat, Vec, Slack]:
    """Rows, right-hand sides and slack of the ratios linearised at y."""
    window, side = s.window[soft], s.side[soft]
    den = np.maximum(s.gd.dot(y) + s.cd, _FLOOR * s.den_ref)
    value = (s.gn.dot(y) + s.cn) / den
    slope = ((s.gn - value[:, None] * s.gd) / den[:, None]).take(window, 0)
    length = np.sqrt(np.einsum("ij,ij->i", slope, slope))
    length = np.maximum(length, 1e-9 * s.norm[soft] / s.den_ref[window])
    G = side[:, None] * slope
    h = side * (s.limit[soft] - value[window]) + G.dot(y)
    whole = np.ones(len(soft))
    if s.locked is not None:
        count = len(s.cn)
        rest = ((s.locked[:count] - value[:, None] * s.locked[count:]) / den[:, None])[window]
        whole = np.sqrt(1.0 + np.einsum("ij,ij->i", rest, rest) / length**2)
    tau = s.tol[soft] * s.norm[soft] / length
    return G / length[:, None], h / length, slack(s, soft, tau, whole)


def affordable(s: System, y: Vec, lam: Vec) -> bool:
    """Whether no limit costs more per tolerance than its weight: then the strict answer is also the elastic one."""
    # Nearly always a limit costs a small part of its weight, and the exact test need not be made.
    cheap = AIM * lam * np.maximum(s.span, _LEAST_TAU * _WIDEST) <= _CLEARLY * s.weight
    if np.count_nonzero(cheap | s.hard) == len(lam):
        return True
    soft = np.flatnonzero(~s.hard)
    price, weight = AIM * lam[soft], s.weight[soft]
    start = start_slack(s, soft)
    later = linearised(s, y, soft)[2]
    return bool(np.all(price * start.tau <= weight) and np.all(price * later.tau <= weight))


def nearest(s: System, choice: KernelChoice) -> tuple[Trace, Kernel, int]:
    """The recipe of least priced violation: its trace, the last kernel answer and the number of programs solved."""
    soft, base, answer, spring, solves = _begin(s, choice)
    y = answer.y[: s.n] if answer.status > 0 else np.minimum(np.maximum(s.r, s.yl), s.yu)
    rows = s.G
    for damping in DAMPING:
        G, h = s.G.copy(), base.copy()
        G[soft], h[soft], step_spring = linearised(s, y, soft)
        step = _program(s, G, h, step_spring, (y, damping), choice)
        if step.status <= 0:
            step = _program(s, G, h, step_spring, (y, damping), "numpy")
        solves += 1
        if step.status > 0:
            answer, spring, rows, y = step, step_spring, G, step.y[: s.n]
    return _trace(s, y, answer, spring, rows), answer, solves


def _begin(s: System, choice: KernelChoice) -> tuple[Index, Vec, Kernel, Slack, int]:
    """The convex start: soft rows, right-hand sides, its answer and slack, and the number of programs solved.

    Where the physical rows cannot all hold they are let out by the least that makes them hold, and stay hard.
    """
    soft = np.flatnonzero(~s.hard)
    spring = start_slack(s, soft)
    answer = _program(s, s.G, s.h, spring, None, choice)
    if answer.status > 0 or not s.hard.any():
        return soft, s.h, answer, spring, 1
    base = _let_out(s, choice)
    for kernel in (choice, "numpy"):
        answer = _program(s, s.G, base, spring, None, kernel)
        if answer.status > 0:
            return soft, base, answer, spring, 3
    # Last resort for a kernel that finds nothing in so thin a set: physical rows give too, at the highest price.
    soft = np.flatnonzero(s.window >= 0)
    spring = start_slack(s, soft)
    return soft, s.h, _program(s, s.G, s.h, spring, None, "numpy"), spring, 5


def _let_out(s: System, choice: KernelChoice) -> Vec:
    """Right-hand sides with the physical rows eased by the least sum of squared tolerances that lets them all hold."""
    physical = np.flatnonzero(s.hard & (s.window >= 0))
    spring = start_slack(s, physical)
    n, extra = s.n, len(physical)
    rows = np.flatnonzero(s.hard)
    A = np.zeros((len(rows), n + extra))
    A[:, :n] = s.G[rows]
    A[np.searchsorted(rows, physical), n + np.arange(extra)] = spring.tau
    curve = np.concatenate((np.full(n, _BARELY), s.weight[physical] / s.weight[physical].max(initial=1.0)))
    g = np.concatenate((-_BARELY * s.r, np.zeros(extra)))
    lower, upper = np.concatenate((s.yl, np.zeros(extra))), np.concatenate((s.yu, np.full(extra, INF)))
    least = solve_qp(np.diag(curve), g, A, s.h[rows], None, lower, upper, choice)
    base = s.h.copy()
    if least.status > 0:
        base[physical] -= spring.tau * least.y[n:] + _ROOM
    return base


@dataclass(slots=True, eq=False)
class Program:
    """Least of y.H.y/2 + g.y over rows A y and lower <= y <= upper; y is the free components, then the slack."""

    H: Mat
    g: Vec
    A: Mat
    lower: Vec
    upper: Vec


def _program(s: System, G: Mat, h: Vec, spring: Slack, pull: tuple[Vec, float] | None, choice: KernelChoice) -> Kernel:
    p = soft_program(s, G, spring, pull)
    return solve_qp(p.H, p.g, p.A, h, None, p.lower, p.upper, choice)


def soft_program(s: System, G: Mat, spring: Slack, pull: tuple[Vec, float] | None = None) -> Program:
    """The program of one pass over the rows G, those of the spring soft; without `pull` the convex start."""
    n, soft = s.n, spring.rows
    size = n + len(soft)
    smooth = AIM * (s.smooth or _SMOOTH)
    # Any one unit for the slack of all rows will do; this one keeps the program well scaled.
    column = _MIDDLE_TAU
    scale = column / spring.tau
    curve = np.empty(size)
    curve[:n] = smooth
    curve[n:] = CURVE * spring.weight * scale * scale
    g = np.empty(size)
    g[:n] = AIM * s.linear - smooth * s.r
    if pull is not None:
        centre, damping = pull
        curve[:n] += damping
        g[:n] -= damping * centre
    g[n:] = spring.weight * scale
    H = np.zeros((size, size))
    H.ravel()[:: size + 1] = curve
    A = np.zeros((len(G), size))
    A[:, :n] = G
    A.ravel()[soft * size + np.arange(n, size)] = column
    lower, upper = np.zeros(size), np.full(size, INF)
    lower[:n], upper[:n] = s.yl, s.yu
    return Program(H, g, A, lower, upper)


def _trace(s: System, y: Vec, answer: Kernel, spring: Slack, G: Mat) -> Trace:
    compliance = np.zeros(len(s.h))
    if answer.status > 0:
        given = answer.y[s.n :] > 0.0
        compliance[spring.rows] = np.where(given, spring.tau**2 / (CURVE * spring.weight), 0.0)
    smooth = AIM * (s.smooth or _SMOOTH)
    return Trace(s, s.on_bounds(y), answer.lam_rows, answer.lam_box[: s.n], smooth, "elastic", G, compliance)
