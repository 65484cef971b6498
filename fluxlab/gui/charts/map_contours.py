"""Contours of the slag map: lines along which the melt is equally thick, joined from cell to cell."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import TYPE_CHECKING

from fluxlab.gui.charts.map_grid import Rows

if TYPE_CHECKING:
    from fluxlab.design.map_types import Point
    from fluxlab.gui.charts.map_grid import Numbers

Edge = tuple[int, int, bool]
"""An edge of the grid: row and column of its first corner, and whether it runs along the row."""


def contour(rows: Rows, level: float) -> list[list[Point]]:
    """Lines along which log10 of the viscosity is `level`, in the units of both axes."""
    import numpy as np

    ordered = rows.ordered()
    if len(ordered) < 2:
        return []
    z = np.array([row.log_viscosity for row in ordered], dtype=float) - level
    y = np.array([row.y for row in ordered])
    x = np.linspace(rows.low, rows.high, z.shape[1])
    return [[_cut(z, x, y, edge) for edge in chain] for chain in _chains(_pieces(z))]


def _pieces(z: Numbers) -> list[tuple[Edge, Edge]]:
    """For each cell that the zero line crosses, the edges by which it enters and leaves."""
    import numpy as np

    over = z >= 0.0
    corners = over[:-1, :-1], over[:-1, 1:], over[1:, 1:], over[1:, :-1]
    known = np.isfinite(z)
    whole = known[:-1, :-1] & known[:-1, 1:] & known[1:, 1:] & known[1:, :-1]
    mixed = whole & (np.logical_or.reduce(corners) & ~np.logical_and.reduce(corners))
    found: list[tuple[Edge, Edge]] = []
    for i, j in zip(*(part.tolist() for part in np.nonzero(mixed)), strict=True):
        a, b, c, d = over[i, j], over[i, j + 1], over[i + 1, j + 1], over[i + 1, j]
        edges: tuple[tuple[bool, Edge], ...] = (
            (a != b, (i, j, True)),
            (b != c, (i, j + 1, False)),
            (c != d, (i + 1, j, True)),
            (d != a, (i, j, False)),
        )
        cut = [edge for crossed, edge in edges if crossed]
        found += [(cut[k], cut[k + 1]) for k in range(0, len(cut) - 1, 2)]
    return found


def _chains(pieces: Sequence[tuple[Edge, Edge]]) -> list[list[Edge]]:
    """Pieces joined where they share an edge."""
    meets: dict[Edge, list[int]] = defaultdict(list)
    for number, piece in enumerate(pieces):
        for edge in piece:
            meets[edge].append(number)
    left = set(range(len(pieces)))
    chains = []
    while left:
        first = left.pop()
        ahead = _follow(pieces, meets, left, pieces[first][1])
        behind = _follow(pieces, meets, left, pieces[first][0])
        chains.append([*reversed(behind), pieces[first][0], pieces[first][1], *ahead])
    return chains


def _follow(
    pieces: Sequence[tuple[Edge, Edge]], meets: dict[Edge, list[int]], left: set[int], edge: Edge
) -> list[Edge]:
    """The edges that the line crosses from `edge` on; pieces taken leave `left`."""
    found: list[Edge] = []
    while True:
        number = next((k for k in meets[edge] if k in left), None)
        if number is None:
            return found
        left.discard(number)
        one, other = pieces[number]
        edge = other if one == edge else one
        found.append(edge)


def _cut(z: Numbers, x: Numbers, y: Numbers, edge: Edge) -> Point:
    """Where the zero line crosses an edge."""
    i, j, along = edge
    a, b = (z[i, j], z[i, j + 1]) if along else (z[i, j], z[i + 1, j])
    share = float(a / (a - b))
    if along:
        return float(x[j] + share * (x[j + 1] - x[j])), float(y[i])
    return float(x[j]), float(y[i] + share * (y[i + 1] - y[i]))
