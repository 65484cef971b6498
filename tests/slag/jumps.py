"""Looks for jumps of a function along a path: the largest steps of a sweep, cut in half again and again.

Of a continuous function a step that is halved 26 times leaves next to nothing; of a jump all of it is left.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

HALVINGS = 26


def largest_jump(of: Callable[[float], ArrayLike], steps: int = 400, looked_at: int = 3) -> float:
    """What is left of the largest steps of each figure of `of` between 0 and 1, each halved 26 times [its unit]."""
    at = np.linspace(0.0, 1.0, steps + 1)
    values = np.array([np.atleast_1d(of(float(t))) for t in at])
    assert np.isfinite(values).all()
    largest = np.argsort(-np.abs(np.diff(values, axis=0)), axis=0)[:looked_at]
    left = [_left(of, k, float(at[i]), float(at[i + 1])) for k, rows in enumerate(largest.T) for i in rows]
    return max(left)


def _left(of: Callable[[float], ArrayLike], figure: int, low: float, high: float) -> float:
    below, above = (float(np.atleast_1d(of(t))[figure]) for t in (low, high))
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        value = float(np.atleast_1d(of(middle))[figure])
        if abs(value - below) > abs(above - value):
            high, above = middle, value
        else:
            low, below = middle, value
    return abs(above - below)
