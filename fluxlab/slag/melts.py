"""Compositions made ready for the property equations: whether each is one, and its shares by mass.

The equations work on (oxides, samples). A composition that is none (empty, negative, not a number) is replaced by a
stand-in so that the arithmetic goes through, and its answers are blanked at the end.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec
from fluxlab.slag.products import product
from fluxlab.slag.ratio import frozen

Flags = NDArray[np.bool_]

# a share this far below nil is rounding dust of the arithmetic before
_DUST = 1e-9
_CAO, _CAF2, _F = (INDEX[symbol] for symbol in ("CaO", "CaF2", "F"))


def _model_masses() -> Vec:
    masses = MASS.copy()
    masses[_F] = atomic_mass("F")
    masses[_CAF2] = masses[_CAO] + 2.0 * masses[_F]
    return frozen(masses)


MODEL_MASS: Vec = _model_masses()
"""Masses by which the property equations count [g/mol]: CaF2 as CaO and two F, F whole."""


@dataclass(frozen=True, slots=True, eq=False)
class Melts:
    """Compositions (oxides, samples) [mol], which of them are compositions, and their mass [g] as the equations count.

    `single` says that one composition came alone, not as a row of a table.
    """

    moles: Vec
    known: Flags
    mass: Vec
    single: bool

    def percent(self) -> Vec:
        """Share of each oxide and of F (oxides, samples) [mass %], CaF2 written as CaO and F."""
        shares = self.moles * (100.0 * MODEL_MASS)[:, None] / self.mass
        fluorspar = shares[_CAF2]
        lime = MODEL_MASS[_CAO] / MODEL_MASS[_CAF2]
        shares[_CAO] += lime * fluorspar
        shares[_F] += (1.0 - lime) * fluorspar
        shares[_CAF2] = 0.0
        return shares

    def shares(self, masses: Vec) -> Vec:
        """Shares (sums, samples) of sums whose masses per mole are given (sums, oxides) [mass %]."""
        return np.asarray(product(masses, self.moles) * (100.0 / self.mass))

    def shaped(self, values: Vec) -> Vec:
        """The same values without the axis of samples where one composition came alone."""
        return np.asarray(values[..., 0]) if self.single and values.shape[-1] == 1 else values


def melts(n: Vec) -> Melts:
    """Compositions (oxides) or (samples, oxides) [mol], checked and turned."""
    single = n.ndim == 1
    moles = np.ascontiguousarray(n.reshape(-1, SIZE).T, dtype=np.float64)
    low, mass = moles.min(0), product(MODEL_MASS, moles)
    known = (low >= -_DUST * mass) & (mass > 0.0) & (mass < np.inf)
    if not known.all():
        moles = np.where(known, moles, 1.0)
        mass = product(MODEL_MASS, moles)
    if (low < 0.0).any():
        moles = np.maximum(moles, 0.0)
    return Melts(moles, known, mass, single)
