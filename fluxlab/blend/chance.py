"""The chance that windows hold for an uncertain ore, and the recipe that raises it."""

from dataclasses import replace
from time import perf_counter
from typing import Literal

import numpy as np

from fluxlab.blend.kernel import Kernel, solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.solve import solve
from fluxlab.blend.states import AT, build
from fluxlab.blend.system import System, Trace
from fluxlab.blend.types import MUST, Chance, Mask, Mat, Minerals, Result, Vec

Aim = Literal["all", "musts"]
# Multiplications in a block, below what makes OpenBLAS share a product out.
_UNTHREADED = 60_000


def draw(b_mean: Vec, spread: float | Vec | Minerals, n: int = 1000, seed: int = 0) -> Mat:
    """Samples of the oxides in the charge [mol], one per line, never negative; the same for the same seed.

    `spread` is a relative standard deviation, one for all or one per oxide, each oxide drawn alone; or minerals: then
    each share is drawn from the triangle low-likely-high, the shares are brought back to their likely sum, and b_mean
    moves with them, so that oxides of one mineral rise and fall together. The triangle is a judgement.
    """
    rng = np.random.default_rng(seed)
    if not isinstance(spread, Minerals):
        return np.asarray(np.maximum(b_mean * (1.0 + np.asarray(spread) * rng.standard_normal((n, len(b_mean)))), 0.0))
    low, likely, high = spread.low, spread.likely, spread.high
    u = rng.random((n, len(likely)))
    width = np.where(high > low, high - low, 1.0)
    peak = np.where(high > low, (likely - low) / width, 0.0)
    rising = low + np.sqrt(u * peak) * width
    falling = high - np.sqrt((1.0 - u) * (1.0 - peak)) * width
    shares = np.where(high > low, np.where(u < peak, rising, falling), likely)
    total = shares.sum(axis=1, keepdims=True)
    shares = shares * (likely.sum() / np.where(total > 0.0, total, 1.0))
    return np.asarray(np.maximum(b_mean + (shares - likely) @ spread.oxides, 0.0))


def probability(c: Compiled, x: Vec, B: Mat, shift: Mat | None = None) -> Chance:
    """Chance that the windows hold at the recipe x [g] over samples B of the oxides [mol], one per line.

    `shift` (windows x samples) is what a sample adds to the numerator of each window besides its oxides, in its unit.
    """
    return _Samples(c, B, shift).chance(x)


def held_windows(c: Compiled, x: Vec, B: Mat, shift: Mat | None = None, allowed: Vec | None = None) -> Mask:
    """Whether each window holds at the recipe x [g] in each sample (windows x samples); see `probability`.

    `allowed` (windows), in the unit of each window, is by how much it may be missed and still counts as held.
    """
    return _Samples(c, B, shift, allowed).windows(x)


def robust(
    c: Compiled,
    B: Mat,
    target: float = 0.95,
    check: Mat | None = None,
    aim: Aim = "all",
    shift: Mat | None = None,
    check_shift: Mat | None = None,
) -> tuple[Result, Chance]:
    """The best recipe whose chance reaches the target on the samples B, and its chance.

    The rows are all tightened to one order statistic of their right-hand sides over the samples, the lowest that does,
    and hold for the likely ore besides. Where none does, the recipe of the best chance found comes back; `aim` "musts"
    counts and tightens musts and physical rows alone. The chance is measured on `check`, a second set of samples, if
    there is one: on B itself it flatters. Where the windows conflict already for the likely ore, the nearest recipe and
    its chance come back. `shift` and `check_shift` belong to B and `check` as in `probability`.
    """
    began = perf_counter()
    plain = solve(c)
    samples = _Samples(c, B, shift)
    judged = samples if check is None else _Samples(c, check, check_shift)
    if plain.trace is None or plain.trace.kind != "strict" or not plain.trace.system.n:
        return plain, judged.chance(plain.x)
    best, best_answer = (samples.joint(plain.x, aim), plain.trace), None
    if best[0] >= target:
        return plain, judged.chance(plain.x)
    search = _Search(c, plain.trace.system, samples, aim)
    lowest, highest = 0, len(B)
    while lowest < highest:
        middle = (lowest + highest) // 2
        answer = search.tightened(middle)
        if answer.status <= 0:
            highest = middle
            continue
        found = search.trace(middle, answer)
        chance = samples.joint(found.system.grams(found.y), aim)
        if chance >= target or (best[0] < target and chance > best[0]):
            best, best_answer = (chance, found), answer
        lowest, highest = (lowest, middle) if chance >= target else (middle + 1, highest)
    if best_answer is None:
        return plain, judged.chance(plain.x)
    result = build(c, best[1], best_answer, search.solves + plain.solves, began)
    return result, judged.chance(result.x)


def by_samples(rows: Mat, B: Mat) -> Mat:
    """rows x B transposed, in blocks too small for a linear-algebra library to wake its threads for.

    Threads gain nothing here, and on a busy machine waiting for them takes ten times the work.
    """
    out = np.empty((len(rows), len(B)))
    block = max(1, _UNTHREADED // max(1, rows.size))
    for first in range(0, len(B), block):
        out[:, first : first + block] = rows @ B[first : first + block].T
    return out


class _Samples:
    """What the samples add to each row of the windows (rows x samples), whatever the recipe."""

    def __init__(self, c: Compiled, B: Mat, shift: Mat | None = None, allowed: Vec | None = None) -> None:
        self.c = c
        self.slack: Vec = AT * c.row_tol
        if allowed is not None:
            self.slack = np.maximum(self.slack, allowed[c.row_window])
        w, side, limit = c.row_window, c.row_side[:, None], c.row_limit[:, None]
        self.rows: Mat = by_samples(side * (c.U[w] - limit * c.U[c.count + w]), B)
        if shift is not None:
            self.rows += side * shift[w]
        own = np.flatnonzero(c.own_denominator & ~c.system().undefined)
        self.den_windows = c.count + own
        self.den: Mat = by_samples(c.U[self.den_windows], B)

    def held(self, x: Vec) -> Mask:
        """Whether each row holds in each sample (rows x samples); undefined windows are not judged."""
        c = self.c
        w, side, limit = c.row_window, c.row_side, c.row_limit
        fixed = c.G @ x + c.C
        num, den = fixed[: c.count][w], fixed[c.count :]
        typical = np.abs(den + c.U[c.count :] @ c.b)[w]
        held = self.rows >= (-self.slack * typical - side * (num - limit * den[w]))[:, None]
        # Rows hold trivially where a denominator has gone: no such sample counts.
        held &= ((self.den + fixed[self.den_windows][:, None]) > 0.0).all(axis=0)
        held[c.system().undefined[w]] = True
        return np.asarray(held)

    def windows(self, x: Vec) -> Mask:
        """Whether each window holds in each sample, both its ends together (windows x samples)."""
        rows = self.held(x)
        held = np.ones((self.c.count, rows.shape[1]), dtype=bool)
        # One end after the other: no window has two rows of the same side.
        lower = self.c.row_side > 0.0
        for side in (lower, ~lower):
            held[self.c.row_window[side]] &= rows[side]
        return held

    def joint(self, x: Vec, aim: Aim) -> float:
        """Chance that all windows hold together, or all musts and physical rows."""
        held = self.held(x)
        if aim == "musts":
            held = held[self.c.priority[self.c.row_window] <= MUST]
        return float(np.logical_and.reduce(held, axis=0).mean())

    def chance(self, x: Vec) -> Chance:
        """All chances at the recipe x [g]."""
        c, held = self.c, self.windows(x)
        count = held.shape[1]
        each = held.mean(axis=1)
        together = np.logical_and.reduce(held, axis=0)
        musts = np.logical_and.reduce(held[c.priority <= MUST], axis=0)
        share = float(musts.mean())
        judged = np.where(c.priority <= MUST, each, np.inf) if share < 1.0 else each
        weakest = c.problem.windows[int(np.argmin(judged))].key if c.count else ""
        return Chance(float(together.mean()), share, each, weakest, count)


class _Search:
    """Recipes for rows tightened to an order statistic of their right-hand sides."""

    def __init__(self, c: Compiled, s: System, samples: _Samples, aim: Aim) -> None:
        self.s, self.kernel, self.solves = s, c.kernel, 0
        own = np.flatnonzero(s.window >= 0)
        if aim == "musts":
            own = own[c.priority[s.window[own]] <= MUST]
        self.rows = own
        # The rows of the samples are those of the windows in order; some may be left out of the system.
        place = {(k, side): i for i, (k, side) in enumerate(zip(c.row_window, c.row_side, strict=True))}
        which = [place[pair] for pair in zip(s.window[own], s.side[own], strict=True)]
        num, den = c.locked_part[: c.count], c.locked_part[c.count :]
        constant = s.side[own] * (s.limit[own] * den[s.window[own]] - num[s.window[own]])
        ordered = np.sort(constant[:, None] - samples.rows[which], axis=1) / s.norm[own][:, None]
        self.ordered = np.maximum(ordered, s.h[own][:, None])

    def right_hand_sides(self, order: int) -> Vec:
        h = self.s.h.copy()
        h[self.rows] = self.ordered[:, order]
        return h

    def tightened(self, order: int) -> Kernel:
        """The answer with every row at this order statistic, counted from 0."""
        s = self.s
        self.solves += 1
        return solve_qp(s.H, s.g, s.G, self.right_hand_sides(order), None, s.yl, s.yu, self.kernel)

    def trace(self, order: int, answer: Kernel) -> Trace:
        s = replace(self.s, h=self.right_hand_sides(order))
        y = s.on_bounds(answer.y)
        return Trace(s, y, answer.lam_rows, answer.lam_box, s.smooth, "strict", s.G, np.zeros(len(s.h)))
