"""Least squares with no negative amounts."""

import numpy as np

from fluxlab.materials.oxides import Vec


def nnls(a: Vec, b: Vec) -> Vec:
    """The x >= 0 [n] that brings a x [m, n times n] nearest to b [m].

    Active sets after C. L. Lawson and R. J. Hanson, Solving Least Squares Problems (1974), chapter 23.
    """
    columns = a.shape[1]
    x = np.zeros(columns)
    scale = np.linalg.norm(a, axis=0)
    tolerance = 1e-11 * max(1.0, float(np.linalg.norm(b))) * np.where(scale > 0.0, scale, 1.0)
    free = np.zeros(columns, dtype=bool)
    for _ in range(10 * columns + 10):
        gradient = a.T @ (b - a @ x)
        held = ~free & (gradient > tolerance)
        if not held.any():
            break
        free[np.argmax(np.where(held, gradient, -np.inf))] = True
        trial = _solve(a, b, free)
        while (trial[free] <= 0.0).any():
            blocking = free & (trial <= 0.0)
            step = float(np.min(x[blocking] / np.maximum(x[blocking] - trial[blocking], 1e-300)))
            x = x + step * (trial - x)
            free &= ~(blocking & (x <= 1e-14 * (1.0 + np.abs(x).max())))
            x[~free] = 0.0
            trial = _solve(a, b, free)
        x = trial
    return x


def _solve(a: Vec, b: Vec, free: np.typing.NDArray[np.bool_]) -> Vec:
    """Plain least squares over the free columns, zero elsewhere."""
    x = np.zeros(a.shape[1])
    if free.any():
        x[free] = np.linalg.lstsq(a[:, free], b, rcond=None)[0]
    return x
