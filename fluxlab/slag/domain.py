"""Where a property may be told of a melt, where it is carried on beyond its evidence, and where it stays unknown."""

from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import Vec
from fluxlab.slag.melts import MODEL_MASS, Flags, Melts
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp

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
        beyond = np.maximum(self.low - temperature, temperature - self.high)
        return ramp(beyond, 0.0, _FAR_HOT)


SPANS = {
    row["property"]: Span(*(float(row[title]) for title in ("low", "high", "least", "most")))
    for row in resources.table("slag/temperatures.csv")
}
"""Temperature spans by property: viscosity, density, surface tension, heat."""


def tells(melts: Melts) -> Flags:
    """Whether anything is told of compositions (samples): not of one substance alone, nor far from all measured."""
    shares = melts.shares(_OUTER_MASSES)
    largest = (melts.moles * MODEL_MASS[:, None]).max(0)
    inside = (shares >= _OUTER[0]) & (shares <= _OUTER[1])
    return np.asarray(melts.known & (largest <= ONE_OXIDE / 100.0 * melts.mass) & inside.all(0))


def ranged_shares(melts: Melts) -> Vec:
    """The shares that have a range, in the order of resources/slag/ranges.csv (ranges, samples) [mass %]."""
    return melts.shares(_MASSES)


def outside(melts: Melts) -> Vec:
    """How far compositions lie outside the ranges in which the equations were checked (samples) [0..1]."""
    shares = ranged_shares(melts)
    return ramp(np.maximum(LIMITS[0] - shares, shares - LIMITS[1]).max(0), 0.0, _FAR)


def blank(values: Vec, told: Flags) -> Vec:
    """The values (..., samples), what is not told replaced by not-a-number."""
    return values if told.all() else np.where(told, values, np.nan)


def _limits(low: str, high: str, rows: list[dict[str, str]]) -> Vec:
    return np.array(
        [[[float(row[title] or missing)] for row in rows] for title, missing in ((low, "-inf"), (high, "inf"))]
    )


ROWS = list(resources.table("slag/ranges.csv"))
"""The table of ranges."""
LIMITS = _limits("low", "high", ROWS)
"""Low and high end of each range (2, ranges, 1) [mass %]."""
_MASSES = share_masses([row["shares"] for row in ROWS])
_OUTER_ROWS = [row for row in ROWS if row["least"] or row["most"]]
_OUTER = _limits("least", "most", _OUTER_ROWS)
_OUTER_MASSES = share_masses([row["shares"] for row in _OUTER_ROWS])
