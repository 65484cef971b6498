"""Compositions made ready for the property equations: whether each is one, its mass, and how usual it is.

The equations work on (oxides, samples). A composition that is none (empty, negative, not a number) is replaced by a
stand-in so that the arithmetic goes through, and its answers are blanked at the end.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fluxlab.materials.oxides import SIZE, Vec
from fluxlab.slag.domain import ONE_OXIDE, RANGE_MASSES, Flags, strangeness, within_all
from fluxlab.slag.products import product
from fluxlab.slag.shares import MODEL_MASS

# a share this far below nil is rounding dust of the arithmetic before
_DUST = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Melts:
    """Compositions (oxides, samples) [mol], which of them are compositions, and their mass [g] as the equations count.

    `told` says of which anything is told: not of one substance alone nor far from everything measured; `strange`
    [0..1] how far each lies outside what was checked; `single` that one composition came alone, not in a table.
    """

    moles: Vec
    known: Flags
    told: Flags
    strange: Vec
    mass: Vec
    single: bool

    def shares(self, masses: Vec) -> Vec:
        """Shares (sums, samples) of sums whose masses per mole are given (sums, oxides) [mass %]."""
        return np.asarray(product(masses, self.moles) * (100.0 / self.mass))

    def shaped(self, values: Vec) -> Vec:
        """The same values without the axis of samples where one composition came alone."""
        return np.asarray(values[..., 0]) if self.single and values.shape[-1] == 1 else values


def melts(n: Vec) -> Melts:
    """Compositions (oxides) or (samples, oxides) [mol], checked and turned."""
    # a report asks a dozen properties of the same melt
    return _one(np.ascontiguousarray(n, dtype=np.float64).tobytes()) if n.ndim == 1 else _melts(n)


@lru_cache(maxsize=32)
def _one(moles: bytes) -> Melts:
    return _melts(np.frombuffer(moles))


def _melts(n: Vec) -> Melts:
    single = n.ndim == 1
    moles = np.ascontiguousarray(n.reshape(-1, SIZE).T, dtype=np.float64)
    low, mass = moles.min(0), product(MODEL_MASS, moles)
    known = (low >= -_DUST * mass) & (mass > 0.0) & (mass < np.inf)
    if not known.all():
        moles = np.where(known, moles, 1.0)
        mass = product(MODEL_MASS, moles)
    if (low < 0.0).any():
        moles = np.maximum(moles, 0.0)
    shares = product(RANGE_MASSES, moles) * (100.0 / mass)
    mixed = (moles * MODEL_MASS[:, None]).max(0) <= ONE_OXIDE / 100.0 * mass
    return Melts(moles, known, known & mixed & within_all(shares), strangeness(shares), mass, single)
