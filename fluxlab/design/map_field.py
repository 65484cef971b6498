"""The field of the slag map: how stiff the melt is at each point, row by row; a caller may stop between rows."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import nan

import numpy as np
from numpy.typing import NDArray

from fluxlab.blend.pins import Pins
from fluxlab.blend.types import Mat, Vec
from fluxlab.design.map_axes import MapProblem, X, Y
from fluxlab.design.map_types import Axis, FieldRow
from fluxlab.design.question import FEED

CELLS = 60


@dataclass(frozen=True, slots=True, eq=False)
class Melts:
    """What is predicted of melts: slags (a line each) [mol] and a temperature [degC] in, a figure or a fact each out.

    `log_viscosity` [log10 Pa s]; `crystals` says whether some are expected, None where nothing predicts it.
    """

    log_viscosity: Callable[[Mat, float], Vec]
    crystals: Callable[[Mat, float], NDArray[np.bool_]] | None = None


def field(m: MapProblem, melts: Melts, columns: int = CELLS, rows: int = CELLS) -> Iterator[FieldRow]:
    """Viscosity [log10 Pa s] over the map at the pour temperature, one row after the other, coarse rows first.

    At each point it is that of the recipe with both axes held there and every target as near to its band as that
    allows. One problem serves one generator; another thread makes its own.
    """
    xs, ys = grid(m.pair.x, columns), grid(m.pair.y, rows)
    pins = Pins(m.compiled, (X, Y))
    for i in coarse_first(rows):
        recipes = [pins.recipe((x, ys[i])) for x in xs]
        yield _row(m, melts, i, ys[i], recipes)


def grid(axis: Axis, cells: int) -> list[float]:
    """Values along an axis at which the field is worked out, its ends included."""
    return [float(v) for v in np.linspace(axis.low, axis.high, cells)]


def coarse_first(rows: int) -> list[int]:
    """Row numbers in an order that fills the map evenly from the beginning."""
    order: list[int] = []
    step = 1 << max(rows - 1, 1).bit_length()
    while step:
        order += [i for i in range(0, rows, step) if i not in set(order)]
        step //= 2
    return order


def _row(m: MapProblem, melts: Melts, i: int, y: float, recipes: list[Vec | None]) -> FieldRow:
    there = [j for j, x in enumerate(recipes) if x is not None]
    values, crystals = [nan] * len(recipes), [False] * len(recipes)
    if there:
        slags = slags_of(m, np.array([x for x in recipes if x is not None]))
        at = m.found.setting.temperature
        found = np.asarray(melts.log_viscosity(slags, at)).tolist()
        solid = [False] * len(there) if melts.crystals is None else np.asarray(melts.crystals(slags, at)).tolist()
        for j, value, some in zip(there, found, solid, strict=True):
            values[j], crystals[j] = float(value), bool(some)
    return FieldRow(i, y, tuple(values), tuple(crystals))


def slags_of(m: MapProblem, recipes: Mat) -> Mat:
    """Slags of recipes [g], a line each (recipes x oxides) [mol]."""
    c = m.compiled
    n = c.b + recipes @ c.problem.Y.T
    if FEED in c.problem.components:
        np.maximum(n, 0.0, out=n)
    return np.asarray(n)
