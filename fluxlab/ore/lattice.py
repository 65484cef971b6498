"""Points that fill a box evenly, the same at every run, and the distributions that they are turned into."""

from functools import lru_cache
from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

Arr = NDArray[np.float64]
GENERATORS = {251: 148, 2039: 1729}
"""Number of points (a prime) and generator of the lattice: of those tried the one whose first fifty directions go least
together, two by two; computed."""
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0
_REACH = np.linspace(-6.0, 6.0, 1201)
_UNDER = np.array([0.5 * (1.0 + erf(z / sqrt(2.0))) for z in _REACH])


@lru_cache(maxsize=16)
def lattice(points: int, directions: int) -> Arr:
    """Points between 0 and 1 (points x directions), a Korobov lattice, each direction shifted by whole steps
    of its own so that no point sits in a corner; read-only.

    Raises KeyError for a number of points that `GENERATORS` does not hold.
    """
    a = GENERATORS[points]
    steps = [1]
    for _ in range(directions - 1):
        steps.append(steps[-1] * a % points)
    shifts = np.floor(points * (np.arange(1, directions + 1) * _GOLDEN % 1.0)).astype(int)
    found = ((np.outer(np.arange(points), np.array(steps)) + shifts) % points + 0.5) / points
    found.setflags(write=False)
    return np.asarray(found, dtype=float)


@lru_cache(maxsize=16)
def normal_lattice(points: int, directions: int) -> Arr:
    """The points of `lattice` as standard normal deviates [-]; read-only."""
    found: Arr = np.interp(lattice(points, directions), _UNDER, _REACH)
    found.setflags(write=False)
    return found


def under_normal(z: Arr) -> Arr:
    """Share of a standard normal that lies below z [0..1]."""
    return np.asarray(np.interp(z, _REACH, _UNDER))


def triangle(u: Arr, low: Arr, likely: Arr, high: Arr) -> Arr:
    """Values of the triangle low-likely-high for evenly spread numbers between 0 and 1; the likely one where it has
    no width."""
    wide = high > low
    width = np.where(wide, high - low, 1.0)
    peak = np.where(wide, (likely - low) / width, 0.0)
    rising = low + np.sqrt(u * peak) * width
    falling = high - np.sqrt((1.0 - u) * (1.0 - peak)) * width
    return np.where(wide, np.where(u < peak, rising, falling), likely)
