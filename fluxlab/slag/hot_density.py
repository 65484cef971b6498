"""Density and volume of a melt at its temperature, by a fitted equation of the molar volume.

The rule that adds partial volumes (fluxlab.slag.density) stays for the solver's rows, which must be linear in the
oxides; this one is nearer to measured melts. Data: see resources/slag/README.md.
"""

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.materials.oxides import MASS, Vec
from fluxlab.slag.domain import SPANS, blank
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.mole_terms import MOLES, read_equation
from fluxlab.slag.products import product
from fluxlab.slag.spread import ERRORS, Spread

_EQUATION = read_equation("slag/density.csv", 1200.0, ("CaO", "MgO", "BaO", "SrO", "FeO", "MnO", "ZnO", "PbO"))
# judgement: no slag is lighter or heavier [g/cm3]; what comes out beyond is the equation's failure
_LIGHTEST, _HEAVIEST = 1.0, 11.0


def density_at(n: Vec, temperature: ArrayLike) -> Spread:
    """Density of melts [mol] at temperatures [degC], with ranges [g/cm3]; shapes as for the viscosity."""
    made = melts(n)
    return density_of(made, np.asarray(temperature, dtype=np.float64))


def density_of(made: Melts, temperature: Vec) -> Spread:
    """Density of checked melts at temperatures [degC], with ranges [g/cm3]."""
    value = _density(made, temperature)
    strange = np.maximum(made.strange, SPANS["density"].outside(temperature))
    return shaped(made, ERRORS["density"].around(value, strange, value / 100.0))


def volume_at(n: Vec, temperature: ArrayLike) -> Spread:
    """Volume of melts [mol] at temperatures [degC], with ranges [cm3]."""
    made = melts(n)
    mass = made.shaped(product(MASS, made.moles))
    return density_of(made, np.asarray(temperature, dtype=np.float64)).under(mass)


def likely_volume_of(made: Melts, temperature: Vec) -> Vec:
    """Volume of checked melts at temperatures [degC], without ranges [cm3]."""
    return made.shaped(np.asarray(product(MASS, made.moles) / _density(made, temperature)))


def _density(made: Melts, temperature: Vec) -> Vec:
    """Density (...) of checked melts at temperatures [degC] [g/cm3]; not-a-number where it is not told."""
    span = SPANS["density"]
    volume = _EQUATION.at(made.moles, span.held(temperature))
    molar_mass = product(MASS, made.moles) / product(MOLES, made.moles)
    sound = (volume > 0.0) & (molar_mass > _LIGHTEST * volume) & (molar_mass < _HEAVIEST * volume)
    told = np.asarray(made.told & span.tells(temperature) & sound)
    return blank(molar_mass / np.where(sound, volume, 1.0), told)


def shaped(made: Melts, spread: Spread) -> Spread:
    """The same figures without the axis of samples where one composition came alone."""
    return Spread(made.shaped(spread.ends))
