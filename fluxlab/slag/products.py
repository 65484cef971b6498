"""Products of a small matrix with many columns, cut so small that the arithmetic library stays on one thread.

Waking its threads costs more than they bring at this size, and on a busy machine a hundred times more.
"""

import numpy as np

from fluxlab.materials.oxides import Vec

_SMALL_MATRIX = 200_000
_SMALL_VECTOR = 8_000


def product(matrix: Vec, columns: Vec) -> Vec:
    """`matrix` (rows, n) or (n) times `columns` (n, samples) [the product of their units]."""
    block = max((_SMALL_VECTOR if matrix.ndim == 1 else _SMALL_MATRIX) // matrix.size, 1)
    samples = columns.shape[1]
    if samples <= block:
        return np.asarray(matrix @ columns)
    made = np.empty((*matrix.shape[:-1], samples))
    for start in range(0, samples, block):
        made[..., start : start + block] = matrix @ columns[:, start : start + block]
    return made
