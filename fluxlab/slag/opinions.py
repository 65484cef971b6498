"""The viscosity that is believed: the fitted equation, and published ones where measured melts favour them.

Their logarithms are blended by weights of the composition that have neither a jump nor a corner; which opinion counts
where stands in resources/slag/viscosity_blend.csv.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import Vec
from fluxlab.slag.melts import Melts
from fluxlab.slag.own_viscosity import REFERENCE, ZERO, OwnViscosity, own_viscosity
from fluxlab.slag.published_viscosity import RayPal, Riboud, arrhenius, arrhenius_slope, ray_pal, riboud
from fluxlab.slag.shares import MODEL_MASS, share_masses
from fluxlab.slag.smooth import ramp, ramp_slope

OPINIONS = ("own", "Riboud", "Ray and Pal")
"""The equations in the order of every array of opinions; "own" is the fitted one."""


@dataclass(frozen=True, slots=True, eq=False)
class Opinions:
    """Every equation for the same compositions, and their weights (opinions, samples) that sum to 1 [-].

    `ln_a`, `b` and `say` (samples) are the published equations summed by weight; all nil where none has a say.
    """

    melts: Melts
    own: OwnViscosity
    riboud: Riboud
    ray_pal: RayPal
    weights: Vec
    ln_a: Vec
    b: Vec
    say: Vec

    def each(self, temperature: Vec) -> Vec:
        """log10 of the viscosity by each equation at temperatures [degC] (opinions, ...) [log10 Pa s]."""
        published = [arrhenius(each.ln_a, each.b, 1.0, temperature) for each in (self.riboud, self.ray_pal)]
        return np.array([self.own.log_viscosity(temperature), *published])

    def log_viscosity(self, temperature: Vec) -> Vec:
        """log10 of the viscosity that is believed at temperatures [degC] [log10 Pa s]."""
        own = self.own.log_viscosity(temperature)
        if not self.say.any():
            return own
        return np.asarray(self.weights[0] * own + arrhenius(self.ln_a, self.b, self.say, temperature))

    def along(self, u: Vec) -> tuple[Vec, Vec]:
        """What is believed [log10 Pa s] at u = 1273.15 K over the temperature, and its derivative by u."""
        own, slope = self.own.along(u)
        if not self.say.any():
            return own, slope
        published = arrhenius(self.ln_a, self.b, self.say, REFERENCE / u - ZERO)
        by_u = arrhenius_slope(self.b, self.say, u, REFERENCE)
        return np.asarray(self.weights[0] * own + published), np.asarray(self.weights[0] * slope + by_u)

    def blend(self, each: Vec) -> Vec:
        """What is believed (...) where the equations say `each` (opinions, ...) [the same unit]."""
        own, first, second = self.weights
        return np.asarray(own * each[0] + first * each[1] + second * each[2])

    def slopes(self, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of `log_viscosity` by moles of each oxide [log10 Pa s per mol]."""
        moles = self.melts.moles
        total = self.weights[0] * self.own.slopes(moles, temperature)
        if self.say.any():
            total += self.weights[1] * self.riboud.slopes(moles, temperature)
            total += self.weights[2] * self.ray_pal.slopes(moles, temperature)
            own, *others = self.each(temperature)
            for other, slope in zip(others, _weight_slopes(self.melts), strict=True):
                total += (other - own) * slope
        return np.asarray(total)


def opinions(melts: Melts) -> Opinions:
    """Every equation and its weight for compositions."""
    return _of_one(melts) if melts.single else _opinions(melts, _weights(melts))


def believed(melts: Melts, temperature: Vec) -> Vec:
    """log10 of the viscosity of compositions at temperatures [degC] [log10 Pa s], and nothing else of them.

    Of many melts the published equations are asked only where one of them has a say.
    """
    if melts.single:
        return _of_one(melts).log_viscosity(temperature)
    weights = _weights(melts)
    if not weights[1:].any():
        return own_viscosity(melts.moles).log_viscosity(temperature)
    return _opinions(melts, weights).log_viscosity(temperature)


@lru_cache(maxsize=32)
def _of_one(melts: Melts) -> Opinions:
    return _opinions(melts, _weights(melts))


def _opinions(melts: Melts, weights: Vec) -> Opinions:
    moles = melts.moles
    first, second = riboud(moles), ray_pal(moles)
    return Opinions(
        melts=melts,
        own=own_viscosity(moles),
        riboud=first,
        ray_pal=second,
        weights=weights,
        ln_a=weights[1] * first.ln_a + weights[2] * second.ln_a,
        b=weights[1] * first.b + weights[2] * second.b,
        say=weights[1] + weights[2],
    )


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
