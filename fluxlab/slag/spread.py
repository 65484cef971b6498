"""A predicted figure with its even-odds and nine-in-ten ranges."""

from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import Vec


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """Predictions with the ranges that hold half of them and nine in ten, in the unit that their maker states.

    `ends` (5, ...) holds the value, the low and high end of the half and those of the nine in ten; not-a-number where
    nothing can be told.
    """

    ends: Vec

    @property
    def value(self) -> Vec:
        """What is predicted."""
        return np.asarray(self.ends[0])

    @property
    def low50(self) -> Vec:
        """Low end of the range that holds half of them."""
        return np.asarray(self.ends[1])

    @property
    def high50(self) -> Vec:
        """High end of the range that holds half of them."""
        return np.asarray(self.ends[2])

    @property
    def low90(self) -> Vec:
        """Low end of the range that holds nine in ten."""
        return np.asarray(self.ends[3])

    @property
    def high90(self) -> Vec:
        """High end of the range that holds nine in ten."""
        return np.asarray(self.ends[4])

    def higher(self, other: "Spread") -> "Spread":
        """The higher of two predictions, end by end."""
        return Spread(np.maximum(self.ends, other.ends))

    def raised(self, by: float) -> "Spread":
        """The same prediction so much higher."""
        return Spread(self.ends + by)

    def under(self, amount: Vec) -> "Spread":
        """An amount over the prediction: its low ends belong to the high ones."""
        return Spread(np.asarray(amount / self.ends[_TURNED]))


@dataclass(frozen=True, slots=True, eq=False)
class Errors:
    """Usual errors of a property: half of them within `half50`, nine in ten within `half90`; `outside` times that far
    outside its range. In its unit, or in percent.
    """

    half50: float
    half90: float
    outside: float
    offsets: Vec

    def around(self, value: Vec, strange: Vec, unit: Vec | float = 1.0) -> Spread:
        """The prediction with its ranges, `strange` [0..1] telling how far outside, `unit` what the errors count in."""
        wide = (1.0 + (self.outside - 1.0) * strange) * unit
        return Spread(np.asarray(value + np.multiply.outer(self.offsets, wide)))


def _errors(half50: float, half90: float, outside: float) -> Errors:
    return Errors(half50, half90, outside, np.array([0.0, -half50, half50, -half90, half90]))


_TURNED = [0, 2, 1, 4, 3]
ERRORS = {
    row["property"]: _errors(*(float(row[title]) for title in ("half50", "half90", "outside")))
    for row in resources.table("slag/errors.csv")
}
"""Errors by property: density and heat [%], surface tension [mN/m], liquidus [degC]."""
