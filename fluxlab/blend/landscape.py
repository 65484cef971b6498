"""The map of recipes over two windows: the exact outline of what can be reached, and the goal inside it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fluxlab.blend.fractional import Extreme, Region, extreme, feasible_point
from fluxlab.blend.kernel import solve_qp
from fluxlab.blend.problem import Compiled
from fluxlab.blend.system import System, objective
from fluxlab.blend.types import Index, Mat, Vec

ALL = 99


@dataclass(frozen=True, slots=True)
class Edge:
    """The reachable values of one window where another is pinned [window's unit].

    `lo_by` and `hi_by` are the keys of the windows that end the reach there, empty where a bound of a component does.
    """

    lo: float
    hi: float
    lo_by: str
    hi_by: str


def outline(
    c: Compiled,
    kx: str,
    X: Vec,
    ky: str,
    worst: int = ALL,
    leave_out: tuple[str, ...] = (),
) -> list[Edge | None]:
    """For each value in X of window kx, the reach of window ky with the limits that end it; None where nothing holds.

    Windows kx, ky and `leave_out` do not restrict; of the others those with a priority number up to `worst` do. The
    reach at a pinned value is an interval, so these edges are the exact outline of the map.
    """
    if not c.valid or not c.system().n:
        return [None] * len(X)
    s, pin = c.system(), c.index[kx]
    out: list[Edge | None] = []
    k = c.index[ky]
    if s.undefined[k] or s.undefined[pin]:
        return [None] * len(X)
    rows = _rest(c, s, {kx, ky, *leave_out}, worst)
    kept = s.window[rows]
    guesses = [0.0, 1.0]
    for x in X.tolist():
        G, h = _with_pins(s, s.G[rows], s.h[rows], [(pin, x)])
        r = Region(s, G, h, c.kernel, pinned=1)
        least = extreme(r, k, 1.0, guesses[0])
        most = extreme(r, k, -1.0, guesses[1]) if least is not None else None
        if least is None or most is None:
            out.append(None)
            continue
        guesses = [least.value, most.value]
        held = [_held_by(c, s, kept, rows, e) for e in (least, most)]
        out.append(Edge(least.value, most.value, held[0], held[1]))
    return out


def span(c: Compiled, key: str, worst: int = ALL) -> Edge | None:
    """The reach of one window over the windows with a priority number up to `worst`; None where they cannot hold."""
    if not c.valid or not c.system().n:
        return None
    s, k = c.system(), c.index[key]
    if s.undefined[k]:
        return None
    rows = _rest(c, s, {key}, worst)
    r = Region(s, s.G[rows], s.h[rows], c.kernel)
    y = feasible_point(r)
    if y is None:
        return None
    guess = float((s.gn[k] @ y + s.cn[k]) / (s.gd[k] @ y + s.cd[k]))
    least, most = extreme(r, k, 1.0, guess), extreme(r, k, -1.0, guess)
    if least is None or most is None:
        return None
    held = [_held_by(c, s, s.window[rows], rows, e) for e in (least, most)]
    return Edge(least.value, most.value, held[0], held[1])


def boundary(
    c: Compiled, kx: str, X: Vec, ky: str, worst: int = ALL, leave_out: tuple[str, ...] = ()
) -> list[tuple[float, float] | None]:
    """The outline as bare intervals of window ky, one for each value of window kx."""
    return [None if e is None else (e.lo, e.hi) for e in outline(c, kx, X, ky, worst, leave_out)]


def heat(
    c: Compiled, kx: str, X: Vec, ky: str, Y: Vec, worst: int = ALL, leave_out: tuple[str, ...] = ()
) -> Iterator[tuple[int, Vec]]:
    """Row by row of Y, the least of the goal for each value in X [money, or g], nan where the windows cannot hold.

    A caller may stop between rows. Without a linear goal the mass is told.
    """
    blank = np.full(len(X), np.nan)
    edges = outline(c, kx, X, ky, worst, leave_out)
    s = c.system() if c.valid else None
    price = objective(c, "cost" if c.goal_kind == "cost" else "mass")
    if s is not None and s.n:
        rows = _rest(c, s, {kx, ky, *leave_out}, worst)
        G0, h0 = s.G[rows], s.h[rows]
    for i, y in enumerate(Y.tolist()):
        line = blank.copy()
        for j, x in enumerate(X.tolist()):
            edge = edges[j]
            if s is None or edge is None or not edge.lo <= y <= edge.hi:
                continue
            G, h = _with_pins(s, G0, h0, [(c.index[kx], x), (c.index[ky], y)])
            found = solve_qp(s.H, s.g, G, h, Region(s, G, h, c.kernel, 2).upper(), s.yl, s.yu, c.kernel)
            if found.status > 0:
                line[j] = float(price.dot(s.grams(found.y)))
        yield i, line


def _rest(c: Compiled, s: System, out: set[str], worst: int) -> Index:
    """Row numbers of the windows that still restrict, and of all guards."""
    stays = [w.key not in out and w.priority <= worst for w in c.problem.windows]
    return np.array([i for i, k in enumerate(s.window.tolist()) if k < 0 or stays[k]], dtype=np.intp)


def _with_pins(s: System, G: Mat, h: Vec, pins: list[tuple[int, float]]) -> tuple[Mat, Vec]:
    """The rows and one equality more for each window held at a value."""
    turned = [s.gn[k] - value * s.gd[k] for k, value in pins]
    sizes = [float(np.sqrt(t.dot(t))) or 1.0 for t in turned]
    G = np.vstack((G, *(t / size for t, size in zip(turned, sizes, strict=True))))
    ends = [(value * s.cd[k] - s.cn[k]) / size for (k, value), size in zip(pins, sizes, strict=True)]
    return G, np.append(h, ends)


def _held_by(c: Compiled, s: System, kept: Index, rows: Index, e: Extreme) -> str:
    """The window whose opening by one tolerance would move the end furthest."""
    lam = e.proof.lam_rows[: len(rows)] * s.span[rows]
    lam[kept < 0] = 0.0
    if not len(lam) or lam.max() <= 1e-12:
        return ""
    return c.problem.windows[int(kept[int(np.argmax(lam))])].key
