"""The field of the slag map as numbers: rows as they come, evened out to pixels, and the contours through them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from fluxlab.design.map_types import FieldRow

    Numbers = NDArray[Any]
    Marks = NDArray[np.bool_]


@dataclass
class Rows:
    """Rows of the field by their place, from `low` to `high` of the lower axis; they may come in any order."""

    low: float
    high: float
    rows: dict[int, FieldRow] = field(default_factory=dict)

    def take(self, row: FieldRow) -> None:
        """Keep a row."""
        self.rows[row.row] = row

    def ordered(self) -> list[FieldRow]:
        """The rows from the bottom up."""
        return sorted(self.rows.values(), key=lambda row: row.y)


@dataclass(frozen=True, slots=True)
class Evened:
    """The field at every pixel, top row first: log10 of the viscosity, where it is known, where crystals stand.

    `known` is None where all of it is, `crystals` where there are none.
    """

    values: Numbers
    known: Marks | None
    crystals: Marks | None


def even_out(rows: Rows, low: float, high: float, width: int, height: int) -> Evened | None:
    """The field between `low` and `high` of the left axis at `width` by `height` pixels; None where nothing is known.

    Between rows and columns it is linear; where a neighbour is not known the known one holds up to half way.
    """
    import numpy as np

    ordered = rows.ordered()
    values = np.array([row.log_viscosity for row in ordered], dtype=np.float32)
    known = np.isfinite(values)
    if not known.any():
        return None
    across = _between(np.linspace(0.0, 1.0, values.shape[1]), (np.arange(width) + 0.5) / width)
    places = np.array([(row.y - low) / ((high - low) or 1.0) for row in ordered])
    down = _between(places, 1.0 - (np.arange(height) + 0.5) / height)
    crystals = np.array([row.crystals for row in ordered], dtype=np.float32)

    def at_pixels(grid: Numbers) -> Numbers:
        before, after, share = down
        tall = grid[before] + (grid[after] - grid[before]) * share[:, None]
        before, after, share = across
        made: Numbers = tall[:, before] + (tall[:, after] - tall[:, before]) * share
        return made

    def marked(grid: Numbers) -> Marks | None:
        return None if grid.all() else at_pixels(grid) > 0.5

    free = 1.0 - crystals
    standing = marked(free)
    return Evened(
        at_pixels(values if known.all() else _filled(values, known)),
        marked(known.astype(np.float32)),
        None if standing is None else ~standing,
    )


def _filled(values: Numbers, known: Marks) -> Numbers:
    """Unknown points take the nearest known one of their row, rows without any those of the nearest row with some."""
    import numpy as np

    some = np.flatnonzero(known.any(axis=1))
    x = np.arange(values.shape[1])
    filled = np.empty_like(values)
    for k in some:
        filled[k] = np.interp(x, x[known[k]], values[k][known[k]])
    for k in np.flatnonzero(~known.any(axis=1)):
        filled[k] = filled[some[np.argmin(np.abs(some - k))]]
    return filled


def _between(places: Numbers, wanted: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """For each value wanted the numbers of the `places` (rising) before and after it, and how far it lies between."""
    import numpy as np

    after = np.clip(np.searchsorted(places, wanted), min(1, len(places) - 1), len(places) - 1)
    before = np.maximum(after - 1, 0)
    gap = places[after] - places[before]
    share = np.clip((wanted - places[before]) / np.where(gap > 0.0, gap, 1.0), 0.0, 1.0)
    return before, after, share.astype(np.float32)
