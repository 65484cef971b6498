"""Where a property may be told of a melt, where it is carried on beyond its evidence, and where it stays unknown."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fluxlab import resources
from fluxlab.materials.oxides import Vec
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp

Flags = NDArray[np.bool_]

ONE_OXIDE = 97.0
"""A member with more than this share makes a melt of one substance [mass %]; judgement."""
# judgement: so far outside its range [mass %, degC] a composition or temperature counts as wholly outside
_FAR = 10.0
_FAR_HOT = 150.0


@dataclass(frozen=True, slots=True)
class Span:
    """Temperatures between which a property was checked, and between which it is told at all [degC]."""

    low: float
    high: float
    least: float
    most: float

    def tells(self, temperature: Vec) -> Flags:
        """Whether the property is told at temperatures [degC]; False for what is no number."""
        return (temperature >= self.least) & (temperature <= self.most)

    def outside(self, temperature: Vec) -> Vec:
        """How far temperatures [degC] lie outside what was checked [0..1]."""
        return ramp(np.maximum(self.low - temperature, temperature - self.high), 0.0, _FAR_HOT)

    def held(self, temperature: Vec) -> Vec:
        """The temperature, held where the property is told so that the arithmetic goes through [degC]."""
        return np.asarray(np.fmin(np.fmax(temperature, self.least), self.most))


SPANS = {
    row["property"]: Span(*(float(row[title]) for title in ("low", "high", "least", "most")))
    for row in resources.table("slag/temperatures.csv")
}
"""Temperature spans by property: viscosity, density, surface tension, heat."""

RANGES = resources.table("slag/ranges.csv")
"""The table of ranges of composition."""
RANGE_MASSES = share_masses([row["shares"] for row in RANGES])
"""Mass of what each range speaks of, per mole of each basis member [g/mol]."""


def _limits(low: str, high: str) -> Vec:
    ends = ((low, "-inf"), (high, "inf"))
    return np.array([[[float(row[title] or missing)] for row in RANGES] for title, missing in ends])


LIMITS = _limits("low", "high")
"""Low and high end of each range (2, ranges, 1) [mass %]."""
_OUTER = _limits("least", "most")


def within_all(shares: Vec) -> Flags:
    """Whether anything is told of melts (samples) with these shares (ranges, samples) [mass %]."""
    return np.asarray(((shares >= _OUTER[0]) & (shares <= _OUTER[1])).all(0))


def strangeness(shares: Vec) -> Vec:
    """How far melts (samples) with these shares (ranges, samples) [mass %] lie outside what was checked [0..1]."""
    return ramp(np.maximum(LIMITS[0] - shares, shares - LIMITS[1]).max(0), 0.0, _FAR)


def blank(values: Vec, told: Flags) -> Vec:
    """The values (..., samples), what is not told replaced by not-a-number."""
    return values if told.all() else np.where(told, values, np.nan)
