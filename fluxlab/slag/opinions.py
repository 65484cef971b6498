"""The viscosity that is believed: the fitted equation, and published ones where measured melts favour them.

Their logarithms are blended by weights of the composition that have neither a jump nor a corner; which opinion counts
where stands in resources/slag/viscosity_blend.csv.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import Vec
from fluxlab.slag.melts import MODEL_MASS, Melts
from fluxlab.slag.own_viscosity import OwnViscosity, own_viscosity
from fluxlab.slag.published_viscosity import RayPal, Riboud, ray_pal, riboud
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp, ramp_slope

OPINIONS = ("own", "Riboud", "Ray and Pal")
"""The equations in the order of every array of opinions; "own" is the fitted one."""


class Equation(Protocol):
    """A viscosity equation made ready for compositions."""

    def log_viscosity(self, temperature: Vec) -> Vec:
        """log10 of the viscosity at temperatures [degC] [log10 Pa s]."""

    def slopes(self, moles: Vec, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of the log10 by the moles of each oxide [log10 Pa s per mol]."""


@dataclass(frozen=True, slots=True, eq=False)
class Opinions:
    """Every equation for the same compositions, and their weights (opinions, samples) that sum to 1 [-]."""

    melts: Melts
    own: OwnViscosity
    riboud: Riboud
    ray_pal: RayPal
    weights: Vec

    @property
    def published(self) -> tuple[Equation, Equation]:
        """The equations other than the fitted one, in the order of `OPINIONS`."""
        return self.riboud, self.ray_pal

    def each(self, temperature: Vec) -> Vec:
        """log10 of the viscosity by each equation at temperatures [degC] (opinions, ...) [log10 Pa s]."""
        return np.array([each.log_viscosity(temperature) for each in (self.own, *self.published)])

    def log_viscosity(self, temperature: Vec) -> Vec:
        """log10 of the viscosity that is believed at temperatures [degC] [log10 Pa s]."""
        believed = self.own.log_viscosity(temperature)
        if self.weights[1:].any():
            believed = self.weights[0] * believed
            for opinion, weight in zip(self.published, self.weights[1:], strict=True):
                believed = believed + weight * opinion.log_viscosity(temperature)
        return believed

    def blend(self, each: Vec) -> Vec:
        """What is believed (...) where the equations say `each` (opinions, ...) [the same unit]."""
        own, first, second = self.weights
        return np.asarray(own * each[0] + first * each[1] + second * each[2])

    def slopes(self, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of `log_viscosity` by moles of each oxide [log10 Pa s per mol]."""
        moles = self.melts.moles
        total = self.weights[0] * self.own.slopes(moles, temperature)
        if self.weights[1:].any():
            for opinion, weight in zip(self.published, self.weights[1:], strict=True):
                total += weight * opinion.slopes(moles, temperature)
            own, *others = self.each(temperature)
            for other, slope in zip(others, _weight_slopes(self.melts), strict=True):
                total += (other - own) * slope
        return np.asarray(total)


def opinions(melts: Melts) -> Opinions:
    """Every equation and its weight for compositions."""
    moles = melts.moles
    return Opinions(melts, own_viscosity(moles), riboud(moles), ray_pal(moles), _weights(melts))


def _weights(melts: Melts) -> Vec:
    published = np.multiply.reduceat(ramp(melts.shares(_MASSES), _START, _END), _FIRST_ROWS, axis=0)
    return np.concatenate((1.0 - published.sum(0, keepdims=True), published))


def _weight_slopes(melts: Melts) -> list[Vec]:
    """Derivative (oxides, samples) of the weight of each published equation [1/mol]."""
    shares = melts.shares(_MASSES)
    heights, steepness = ramp(shares, _START, _END), ramp_slope(shares, _START, _END)
    found = []
    for rows in np.split(np.arange(len(shares)), _FIRST_ROWS[1:]):
        by_share = [steepness[row] * heights[rows[rows != row]].prod(0) for row in rows]
        each = sum(
            s * (100.0 * _MASSES[row][:, None] - shares[row] * MODEL_MASS[:, None])
            for s, row in zip(by_share, rows, strict=True)
        )
        found.append(np.asarray(each / melts.mass))
    return found


_ROWS = resources.table("slag/viscosity_blend.csv")
_MASSES = share_masses([row["shares"] for row in _ROWS])
_START, _END = (np.array([[float(row[title])] for row in _ROWS]) for title in ("start", "end"))
_FIRST_ROWS = [[row["opinion"] for row in _ROWS].index(name) for name in OPINIONS[1:]]
