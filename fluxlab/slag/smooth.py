"""Ramps without a corner, by which one opinion goes over into another."""

import numpy as np

from fluxlab.materials.oxides import Vec


def ramp(x: Vec, start: Vec | float, end: Vec | float) -> Vec:
    """From 0 at `start` to 1 at `end`, without a jump or a corner [-]; falls where `end` is the smaller."""
    t = np.minimum(np.maximum((x - start) / (end - start), 0.0), 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))


def ramp_slope(x: Vec, start: Vec | float, end: Vec | float) -> Vec:
    """Derivative of `ramp` by x [1/unit of x]."""
    t = np.minimum(np.maximum((x - start) / (end - start), 0.0), 1.0)
    return np.asarray(6.0 * t * (1.0 - t) / (end - start))
