"""The slag map: where every must can hold, what draws each side of that region, and the recipe at any point of it."""

from itertools import pairwise

import numpy as np

from fluxlab.blend.landscape import Edge, outline, span
from fluxlab.blend.problem import update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import MUST, Vec
from fluxlab.blend.viscosity_cut import solve_under
from fluxlab.design.balance import Balance
from fluxlab.design.likely import Likely, likely
from fluxlab.design.limit_words import limit_words
from fluxlab.design.map_axes import MapProblem, X, Y, axis_pairs, map_problem
from fluxlab.design.map_types import AxisPair, Cloud, MapFrame, MapPoint, Outline, Point, Side
from fluxlab.design.melt_law import VISCOSITY, law
from fluxlab.design.recipe import Work
from fluxlab.design.settle import table_weights
from fluxlab.ore.samples import CHECK

__all__ = ["axis_pairs", "map_frame", "map_outline", "map_problem", "recipe_at"]

COLUMNS = 60
_CORNER_HALVINGS = 6
# The ends of the reach are pinned a little inside: at the very end nothing is left to solve.
_INSIDE = 1e-6
_SHORT = 1e-3
"""Uprights shorter than this share of the frame are a corner."""
_BOUND, _FRAME = "@stock", ""
_BOUND_WORDS = "What the fluxes at hand allow"
_CLOUD_SHARE, _CLOUD_POINTS = 0.9, 48
NOWHERE = Outline((), (), (), ())
Line = list[tuple[float, float, str]]
"""Points (x, y) from left to right with the limit that holds each."""


def map_frame(work: Work, found: Balance, pair: AxisPair) -> MapFrame:
    """Everything of the map that can be drawn at once: the recipe, the outline and the ore's cloud."""
    m = map_problem(found, pair)
    here = m.at(found.result.x)
    known = bool(np.isfinite(here).all())
    drawn = likely(work, found, CHECK)
    return MapFrame(pair, here if known else None, map_outline(m), cloud(m, found.result.x, drawn))


def map_outline(m: MapProblem, columns: int = COLUMNS) -> Outline:
    """The exact outline of where every must can hold, with the limit that draws each stretch."""
    c, x_axis = m.compiled, m.pair.x
    reach = span(c, X, MUST)
    if reach is None or reach.hi < x_axis.low or reach.lo > x_axis.high:
        return NOWHERE
    low, high = max(reach.lo, x_axis.low), min(reach.hi, x_axis.high)
    inset = _INSIDE * (x_axis.high - x_axis.low)
    if high - low <= 2.0 * inset:
        return NOWHERE
    xs = np.linspace(low + inset, high - inset, columns)
    edges = dict(zip(xs.tolist(), outline(c, X, xs, Y, MUST), strict=True))
    _corners(m, edges)
    ends = tuple(
        _FRAME if cut else by or _BOUND
        for cut, by in ((reach.lo < x_axis.low, reach.lo_by), (reach.hi > x_axis.high, reach.hi_by))
    )
    return _drawn(m, {x: e for x, e in sorted(edges.items()) if e is not None}, ends[0], ends[1])


def _corners(m: MapProblem, edges: dict[float, Edge | None]) -> None:
    """More columns where one limit takes over from another, so that corners are where they belong."""
    for a, b in pairwise(sorted(edges)):
        for _ in range(_CORNER_HALVINGS):
            left, right = edges[a], edges[b]
            if left is None or right is None or _names(left) == _names(right):
                break
            middle = 0.5 * (a + b)
            edges[middle] = outline(m.compiled, X, np.array([middle]), Y, MUST)[0]
            found = edges[middle]
            if found is not None and _names(found) == _names(left):
                a = middle
            else:
                b = middle


def _names(e: Edge) -> tuple[str, str]:
    return e.lo_by, e.hi_by


def _drawn(m: MapProblem, edges: dict[float, Edge], left: str, right: str) -> Outline:
    """Columns as a closed line, cut to the frame: the lower side rightwards, up, the upper side leftwards, down."""
    bottom, top = m.pair.y.low, m.pair.y.high
    inside = {x: e for x, e in edges.items() if e.hi >= bottom and e.lo <= top}
    if len(inside) < 2:
        return NOWHERE
    low = [(x, max(e.lo, bottom), _FRAME if e.lo < bottom else e.lo_by or _BOUND) for x, e in inside.items()]
    high = [(x, min(e.hi, top), _FRAME if e.hi > top else e.hi_by or _BOUND) for x, e in inside.items()]
    return closed(m, low, high, left, right)


def closed(m: MapProblem, low: Line, high: Line, left: str, right: str) -> Outline:
    """The outline of a region from its lower and upper ends along x, each with the limit that makes it."""
    first, last = low[0][0], low[-1][0]
    height = m.pair.y.high - m.pair.y.low
    sides = _joined([
        *_stretches(low),
        (right, [(last, low[-1][1]), (last, high[-1][1])]),
        *_stretches(high[::-1]),
        (left, [(first, high[0][1]), (first, low[0][1])]),
    ], _SHORT * height)  # fmt: skip
    named = tuple(Side(key, _side_words(m, key), tuple(points)) for key, points in sides)
    xs = tuple(x for x, _, _ in low)
    return Outline(xs, tuple(y for _, y, _ in low), tuple(y for _, y, _ in high), named)


def _joined(sides: list[tuple[str, list[Point]]], short: float) -> list[tuple[str, list[Point]]]:
    """Neighbours of one name as one side; an upright that is hardly there goes with the side before it."""
    out: list[tuple[str, list[Point]]] = []
    for key, points in sides:
        upright = len(points) == 2 and points[0][0] == points[1][0]
        if out and (out[-1][0] == key or (upright and abs(points[1][1] - points[0][1]) < short)):
            out[-1][1].extend(points[1:])
        else:
            out.append((key, points))
    if len(out) > 1 and out[0][0] == out[-1][0]:
        out[0] = (out[0][0], [*out.pop()[1], *out[0][1][1:]])
    return out


def _stretches(line: Line) -> list[tuple[str, list[Point]]]:
    """Runs of points under one name; each begins where the one before ends."""
    out: list[tuple[str, list[Point]]] = []
    for (x0, y0, _), (x1, y1, key) in pairwise(line):
        if not out or out[-1][0] != key:
            out.append((key, [(x0, y0)]))
        out[-1][1].append((x1, y1))
    return out


def _side_words(m: MapProblem, key: str) -> str:
    if key in (_FRAME, _BOUND):
        return _BOUND_WORDS if key else ""
    return limit_words(m.found, key)


def cloud(m: MapProblem, x: Vec, drawn: Likely) -> Cloud:
    """Where the recipe x [g] lies for the likely ores, as the ellipse that holds nine in ten of them."""
    nothing = Cloud(_CLOUD_SHARE, ())
    if not drawn.ranged:
        return nothing
    at = _positions(m, x, drawn)
    spread = np.cov(at)
    if not np.isfinite(spread).all() or np.linalg.det(spread) <= 1e-12 * spread[0, 0] * spread[1, 1]:
        return nothing
    centre = at.mean(axis=1, keepdims=True)
    root = np.linalg.cholesky(spread)
    away = np.linalg.solve(root, at - centre)
    radius = float(np.sqrt(np.quantile((away**2).sum(axis=0), _CLOUD_SHARE)))
    turn = np.linspace(0.0, 2.0 * np.pi, _CLOUD_POINTS)
    ring = centre + radius * root @ np.array([np.cos(turn), np.sin(turn)])
    return Cloud(_CLOUD_SHARE, tuple((float(a), float(b)) for a, b in ring.T))


def _positions(m: MapProblem, x: Vec, drawn: Likely) -> Vec:
    """Both axes for each likely ore (2 x samples)."""
    c = m.compiled
    fixed = c.G @ x + c.C
    out = []
    for k in m.windows:
        num = drawn.oxides @ c.U[k] + fixed[k]
        den = drawn.oxides @ c.U[c.count + k] + fixed[c.count + k]
        out.append(num / np.where(den > 0.0, den, np.nan))
    return np.array(out)


def viscosity_limit(found: Balance) -> float | None:
    """Thickest melt that the recipe allows at the pour [log10 Pa s]: where the field's contour is to be drawn."""
    c = found.compiled
    return float(c.window_hi[c.index[VISCOSITY]]) if VISCOSITY in c.index else None


def recipe_at(m: MapProblem, x: float, y: float) -> MapPoint:
    """The recipe at a point of the map [g], the nearest point where it cannot be reached; fixed rows stay."""
    c = m.compiled
    free = (-np.inf, np.inf)
    limit = viscosity_limit(m.found)
    update(c, limits={X: (x, x), Y: (y, y)} | ({VISCOSITY: (-np.inf, limit)} if limit is not None else {}))
    if limit is None:
        result = solve(c, priced=False)
    else:
        result = solve_under(c, VISCOSITY, law(m.found.setting.temperature))
    update(c, limits={X: free, Y: free} | ({VISCOSITY: free} if limit is not None else {}))
    broken = tuple(
        f"{limit_words(m.found, w.key)} does not hold"
        for w in result.opened
        if c.priority[c.index[w.key]] <= MUST and w.key not in (X, Y)
    )
    at = m.at(result.x)
    return MapPoint(at[0], at[1], table_weights(m.found, result.x.tolist()), not broken, broken)
