"""Two published viscosity equations that are asked where the fitted one is weak.

Riboud and others 1981 (boric oxide put with lime by us) and Ray and Pal 2004, both quoted from memory and checked on
measured melts; every coefficient stands with its source in resources/slag.
"""

from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import INDEX, OPTICAL_BASICITY_METALLURGICAL, OXYGENS, SIZE, Vec
from fluxlab.slag.own_viscosity import ZERO
from fluxlab.slag.products import product
from fluxlab.slag.ratio import frozen

_LN10 = np.log(10.0)


def arrhenius(ln_a: Vec, b: Vec, weight: Vec | float, temperature: Vec) -> Vec:
    """log10 of A T^weight exp(B/T) at temperatures [degC] [log10 Pa s], ln A [-] and B [K] given.

    With weights of several such equations, summed A, B and weights give the weighted sum of their logarithms.
    """
    kelvin = temperature + ZERO
    return np.asarray((ln_a + weight * np.log(kelvin) + b / kelvin) / _LN10)


def arrhenius_slope(b: Vec, weight: Vec | float, u: Vec, reference: float) -> Vec:
    """Derivative of `arrhenius` by u = reference [K] over the absolute temperature [log10 Pa s]."""
    return np.asarray((b / reference - weight / u) / _LN10)


@dataclass(frozen=True, slots=True, eq=False)
class Riboud:
    """Riboud's equation for compositions (samples): ln A [-] and B [K] of A T exp(B/T)."""

    ln_a: Vec
    b: Vec

    def slopes(self, moles: Vec, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of the log10 by the moles of each oxide [log10 Pa s per mol]."""
        kelvin = temperature + ZERO
        above = self.ln_a - _CONSTANTS[0] + (self.b - _CONSTANTS[1]) / kelvin
        each = _PER_MOLE[0][:, None] + _PER_MOLE[1][:, None] / kelvin
        return np.asarray((each - _UNITS[:, None] * above) / (product(_UNITS, moles) * _LN10))


@dataclass(frozen=True, slots=True, eq=False)
class RayPal:
    """Ray and Pal's equation for compositions (samples): optical basicity, ln A [-] and B [K] of A T exp(B/T)."""

    basicity: Vec
    ln_a: Vec
    b: Vec

    def slopes(self, moles: Vec, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of the log10 by the moles of each oxide [log10 Pa s per mol]."""
        kelvin = temperature + ZERO
        held = np.minimum(self.basicity, _RAY_PAL["most_basic"])
        by_basicity = 2.0 * _RAY_PAL["square"] * held + _RAY_PAL["slope"]
        by_basicity *= (self.basicity < _RAY_PAL["most_basic"]) * (1000.0 / kelvin - _RAY_PAL["ln_a_slope"]) / _LN10
        each = (_BASIC[:, None] - _COUNTED[:, None] * self.basicity) / product(_COUNTED, moles)
        return np.asarray(each * by_basicity)


def riboud(moles: Vec) -> Riboud:
    """Riboud's equation for compositions (oxides, samples) [mol]."""
    ln_a, b = product(_PER_MOLE, moles) / product(_UNITS, moles)
    return Riboud(_CONSTANTS[0] + ln_a, _CONSTANTS[1] + b)


def ray_pal(moles: Vec) -> RayPal:
    """Ray and Pal's equation for compositions (oxides, samples) [mol]."""
    basicity = np.asarray(product(_BASIC, moles) / product(_COUNTED, moles))
    held = np.minimum(basicity, _RAY_PAL["most_basic"])
    b = (_RAY_PAL["square"] * held + _RAY_PAL["slope"]) * held + _RAY_PAL["constant"]
    # the equation is in poise, a tenth of a pascal second
    ln_a = -_RAY_PAL["ln_a_slope"] * b - _RAY_PAL["ln_a_constant"] - _LN10
    return RayPal(basicity, ln_a, 1000.0 * b)


def _riboud_table() -> tuple[Vec, Vec, Vec]:
    groups = {
        row["group"]: np.array([float(row["ln_a"]), float(row["b"])])
        for row in resources.table("slag/riboud_groups.csv")
    }
    # two F for one CaF2 that stands in the place of one CaO
    groups["half F less half C"] = (groups["F"] - groups["C"]) / 2.0
    per_mole, units = np.zeros((2, SIZE)), np.zeros(SIZE)
    for row in resources.table("slag/riboud.csv"):
        i, count = INDEX[row["symbol"]], float(row["units"])
        units[i] = count
        per_mole[:, i] = groups[row["group"]] * (count or 1.0)
    return frozen(groups["constant"]), frozen(per_mole), frozen(units)


def _ray_pal_table() -> tuple[dict[str, float], Vec, Vec]:
    figures = {row["figure"]: float(row["value"]) for row in resources.table("slag/ray_pal.csv")}
    counted = OXYGENS.copy()
    counted[INDEX["CaF2"]] = 1.0
    basicity = OPTICAL_BASICITY_METALLURGICAL.copy()
    basicity[INDEX["B2O3"]] = figures["boric"]
    return figures, frozen(basicity * counted), frozen(counted)


_CONSTANTS, _PER_MOLE, _UNITS = _riboud_table()
_RAY_PAL, _BASIC, _COUNTED = _ray_pal_table()
