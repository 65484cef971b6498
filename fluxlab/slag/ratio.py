"""A quotient of two linear functions of a composition, which is what nearly every slag index is."""

from dataclasses import dataclass

import numpy as np

from fluxlab.materials.oxides import Vec

# what is this far below the moles of the melt is rounding dust, and a quotient over it would be noise
_DUST = 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Ratio:
    """Coefficients per mole of each basis oxide, above and below the line."""

    numerator: Vec
    denominator: Vec

    def of(self, n: Vec, denominator_less: float = 0.0) -> float | None:
        """The quotient for a composition [mol]; None where the denominator is nil."""
        below = float(self.denominator @ n) - denominator_less
        if below <= _DUST * float(self.denominator.max() * np.abs(n).sum()):
            return None
        return float(self.numerator @ n) / below


def frozen(vector: Vec) -> Vec:
    """The same vector, made read-only."""
    vector.setflags(write=False)
    return vector
