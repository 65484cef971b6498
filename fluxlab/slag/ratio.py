"""A quotient of two linear functions of a composition, which is what nearly every slag index is."""

from dataclasses import dataclass

import numpy as np

from fluxlab.materials.oxides import Vec

# a denominator this far below the moles it is summed from is rounding dust, not a base
_DUST = 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Ratio:
    """Coefficients per mole of each basis oxide, above and below the line."""

    numerator: Vec
    denominator: Vec

    def of(self, n: Vec, denominator_less: float = 0.0) -> float | None:
        """The quotient for a composition [mol]; None where the denominator is nil."""
        below = float(self.denominator @ n) - denominator_less
        if below <= _DUST * float(np.abs(self.denominator) @ np.abs(n)):
            return None
        return float(self.numerator @ n) / below


def frozen(vector: Vec) -> Vec:
    """The same vector, made read-only."""
    vector.setflags(write=False)
    return vector
