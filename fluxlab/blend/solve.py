"""The blend: strict where every window holds, the nearest recipe where they do not, an answer always."""

from time import perf_counter

import numpy as np

from fluxlab.blend.elastic import affordable, nearest
from fluxlab.blend.kernel import Kernel, solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.stages import staged
from fluxlab.blend.states import build, refused
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import KernelChoice, Result


def solve(c: Compiled, priced: bool = True) -> Result:
    """The recipe [g] that meets every window at the least of the goal, or the nearest one if they conflict.

    Never raises and never returns None for any data: bad numbers give the status "invalid" and a recipe to show.
    Goals that follow the first one count where every window holds; a conflict is settled by the first alone. `priced`
    False leaves out the prices of the limits, which take a fifth of the time.
    """
    began = perf_counter()
    if not c.valid:
        return refused(c, began)
    s = c.system()
    if not s.n:
        return build(c, _nothing_free(s), None, 0, began, False)
    goal = c.problem.goal
    in_stages = bool(goal.then) or goal.smooth == 0.0
    if in_stages:
        trace, answer, solves = staged(c, s)
    else:
        answer, solves = strict(s, c.kernel), 1
        trace = strict_trace(s, answer)
    if answer.status > 0 and (in_stages or affordable(s, answer.y, answer.lam_rows)):
        return build(c, trace, answer, solves, began, priced)
    refused_by = answer.who if answer.status < 0 and not in_stages else ""
    trace, answer, more = nearest(s, c.kernel)
    result = build(c, trace, answer, solves + more, began, False)
    if refused_by == "daqp" and not result.opened:
        # Nothing gave way although the compiled kernel found no recipe: the other one has the last word.
        answer = strict(s, "numpy")
        if answer.status > 0 and affordable(s, answer.y, answer.lam_rows):
            return build(c, strict_trace(s, answer), answer, solves + more + 1, began, priced)
    return result


def strict(s: System, choice: KernelChoice) -> Kernel:
    """The least of the goal with every row held; status -1 when they cannot all hold."""
    return solve_qp(s.H, s.g, s.G, s.h, None, s.yl, s.yu, choice)


def strict_trace(s: System, answer: Kernel) -> Trace:
    """How a strict answer was reached."""
    nothing = np.zeros(len(s.h))
    return Trace(s, s.on_bounds(answer.y), answer.lam_rows, answer.lam_box, s.smooth, "strict", s.G, nothing)


def _nothing_free(s: System) -> Trace:
    empty = np.zeros(0)
    return Trace(s, empty, np.zeros(len(s.h)), empty, 1.0, "strict", s.G, np.zeros(len(s.h)))
