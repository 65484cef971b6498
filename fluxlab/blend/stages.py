"""Goals in order: each made least while the ones before lose no more than they may give."""

import numpy as np

from fluxlab.blend.kernel import Kernel, solve_lp, solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.system import System, Trace, objective
from fluxlab.blend.types import Vec

# Room left on an aim that may give nothing: without it the set of best recipes has no inside for a kernel to find.
_SLIVER = 1e-10
_SMOOTH = 1e-2


def staged(c: Compiled, s: System) -> tuple[Trace, Kernel, int]:
    """The answer to a goal that is exact or has further goals: trace, last kernel answer, programs solved.

    All but the last goal are linear programs, whose value becomes one more row. The last one is smoothed; after an
    exact one the tie goes to the recipe nearest the house recipe.
    """
    goal = c.problem.goal
    goals = [goal, *goal.then]
    if goals[-1].kind != "closest" and goals[-1].smooth == 0.0:
        goals.append(type(goal)("closest"))
    G, h = s.G, s.h
    solves = 0
    answer = Kernel(0, s.yl, np.zeros(len(h)), np.zeros(s.n), np.inf, "none")
    for stage in goals[:-1]:
        linear, largest = _linear(c, s, stage.kind)
        if largest == 0.0:
            continue
        answer = solve_lp(linear, G, h, None, s.yl, s.yu, c.kernel)
        solves += 1
        if answer.status <= 0:
            return _trace(s, answer, 1.0), answer, solves
        best = float(linear @ answer.y)
        at = float(linear @ (c.base[s.free] / s.sigma)) + abs(best)
        give = 0.0 if stage.smooth == 0.0 else stage.give
        length = float(np.linalg.norm(linear))
        G = np.vstack((G, -linear / length))
        h = np.append(h, -(best + max(give * at, _SLIVER * (1.0 + abs(best)))) / length)
    linear, largest = _linear(c, s, goals[-1].kind)
    smooth = 1.0 if largest == 0.0 else goals[-1].smooth or _SMOOTH
    answer = solve_qp(smooth * np.eye(s.n), linear - smooth * s.r, G, h, None, s.yl, s.yu, c.kernel)
    return _trace(s, answer, smooth), answer, solves + 1


def _linear(c: Compiled, s: System, kind: str) -> tuple[Vec, float]:
    linear = objective(c, kind)[s.free] * s.sigma
    largest = float(np.abs(linear).max(initial=0.0))
    return (linear / largest if largest else linear), largest


def _trace(s: System, answer: Kernel, smooth: float) -> Trace:
    rows = len(s.h)
    return Trace(
        s,
        s.on_bounds(answer.y),
        answer.lam_rows[:rows],
        answer.lam_box,
        smooth,
        "staged",
        s.G,
        np.zeros(rows),
    )
