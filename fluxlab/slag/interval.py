"""How far a predicted viscosity may be off: from the leverage of the composition, never less than measured errors.

The errors of the fit on papers left out of it are tabled by leverage (resources/slag/viscosity_interval.csv). Each row
holds at its lower end and goes over evenly into the next, so that the width has no jump and is nowhere below the row;
where a row is narrower than the one before, by chance, the wider holds. Where a published equation has a say, or the
fit is known to be weak, the width is at least the error measured there (resources/slag/viscosity_floors.csv).
"""

from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import Vec
from fluxlab.slag.opinions import OPINIONS, Opinions
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp

LEVELS = (50, 68, 80, 90, 95)
"""Chances that a measured viscosity lies within the half-widths [%]."""
NORMAL = np.array([[0.6745], [1.0], [1.2816], [1.6449], [1.9600]])
"""Half-widths of the normal law at the levels, in standard deviations; 68 % is one."""
# judgement: what a melt wholly outside the ranges adds to its half-width
_OUTSIDE = 0.5


def table_half_widths(leverage: Vec) -> Vec:
    """Half-widths by the table alone (levels, samples) for leverages [log10 Pa s]."""
    place = np.interp(leverage, _EDGES, _NUMBERS)
    row = place.astype(np.intp)
    low = _ROWS[:, row]
    return np.asarray(low + (_ROWS[:, row + 1] - low) * (place - row))


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """What the widths of compositions rest on: half-widths by the table (levels, samples) and the least standard
    deviation by the floors (samples) [log10 Pa s].
    """

    found: Opinions
    table: Vec
    least: Vec

    def half_widths(self, each: Vec, strange: Vec) -> Vec:
        """Half-widths (levels, ...) of the viscosity where the equations say `each` (opinions, ...) [log10 Pa s].

        `strange` [0..1] is how far composition and temperature lie outside what was checked. Where opinions are mixed,
        what they differ by counts as well.
        """
        sigma = self.least
        if self.found.say.any():
            first, second = self.found.weights[1:]
            apart = (
                first * (1.0 - first) * (each[1] - each[0]) ** 2 + second * (1.0 - second) * (each[2] - each[0]) ** 2
            )
            sigma = np.sqrt(sigma**2 + apart)
        wide = 1.0 + _OUTSIDE * strange
        ones = (1,) * (max(np.ndim(sigma), np.ndim(wide)) - 1)
        table = self.table.reshape(len(LEVELS), *ones, -1)
        return np.asarray(np.maximum(table, NORMAL.reshape(-1, 1, *ones) * sigma) * wide)


def evidence(found: Opinions) -> Evidence:
    """What the widths of compositions rest on [log10 Pa s]."""
    return Evidence(found, table_half_widths(found.own.leverage), _least_sigma(found))


def chance_below(log_viscosity: Vec, widths: Vec, log_limit: float) -> Vec:
    """Chance that the true viscosity is below a limit [log10 Pa s], by the error of the prediction alone [0..1].

    `widths` (levels, ...) are the half-widths; between them the chance goes evenly, beyond the last as the normal law's
    tail falls off, and errors to both sides are taken as equally likely.
    """
    off = log_limit - np.asarray(log_viscosity)
    size = np.abs(off)
    inner = np.zeros(size.shape)
    before, below = np.zeros(size.shape), 0.0
    for level, width in zip(LEVELS, widths, strict=True):
        share = np.clip((size - before) / (width - before), 0.0, 1.0)
        inner += (level / 100.0 - below) * share
        before, below = width, level / 100.0
    beyond = np.maximum(size - before, 0.0) / before
    inner += (1.0 - below) * (1.0 - np.exp(-_TAIL * beyond))
    return np.asarray(0.5 + 0.5 * np.sign(off) * inner)


def _least_sigma(found: Opinions) -> Vec:
    """The least standard deviation that the floors ask (samples) [log10 Pa s]."""
    shares = found.melts.shares(_MASSES)
    published = _SIGMA[_PUBLISHED] * ramp(found.weights[1:], _START[_PUBLISHED], _END[_PUBLISHED])
    own = _SIGMA[_OWN] * ramp(shares, _START[_OWN], _END[_OWN]) * found.weights[0]
    return np.asarray(np.maximum(published.max(0), own.max(0)))


def _edges() -> tuple[Vec, Vec]:
    rows = resources.table("slag/viscosity_interval.csv")
    edges = np.array([float(row["lev_lo"]) for row in rows] + [float(rows[-1]["lev_hi"])])
    widths = np.array([[float(row[f"p{level}"]) for row in rows] for level in LEVELS])
    widths = np.maximum.accumulate(widths, axis=1)
    # the last row is held to its end, and a spare one stands behind it so that every row has a next
    return edges, np.concatenate((widths, widths[:, -1:], widths[:, -1:]), axis=1)


_EDGES, _ROWS = _edges()
_NUMBERS = np.arange(len(_EDGES), dtype=np.float64)
_FLOORS = resources.table("slag/viscosity_floors.csv")
_PUBLISHED = [[row["of"] for row in _FLOORS].index(name) for name in OPINIONS[1:]]
_OWN = [i for i, row in enumerate(_FLOORS) if row["of"] == "own"]
_MASSES = share_masses([_FLOORS[i]["by"] for i in _OWN])
_START, _END, _SIGMA = (np.array([[float(row[title])] for row in _FLOORS]) for title in ("start", "end", "sigma"))
# steepness of the normal law's tail at 1.96 standard deviations: density over what lies beyond, times 1.96
_TAIL = 1.96 * 0.05845 / 0.025
