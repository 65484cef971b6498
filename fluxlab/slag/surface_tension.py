"""Surface tension of a melt by a fitted equation. Data: see resources/slag/README.md."""

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.materials.oxides import Vec
from fluxlab.slag.domain import SPANS, blank
from fluxlab.slag.hot_density import shaped
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.mole_terms import read_equation
from fluxlab.slag.spread import ERRORS, Spread

_EQUATION = read_equation("slag/surface_tension.csv", 1300.0, ("CaO", "MgO", "BaO", "SrO", "FeO", "MnO", "ZnO"))
# judgement: no slag pulls less or more [mN/m]; what comes out beyond is the equation's failure
_LEAST, _MOST = 30.0, 900.0


def surface_tension_at(n: Vec, temperature: ArrayLike) -> Spread:
    """Surface tension of melts [mol] at temperatures [degC], with ranges [mN/m]; shapes as for the viscosity."""
    return surface_tension_of(melts(n), np.asarray(temperature, dtype=np.float64))


def surface_tension_of(made: Melts, temperature: Vec) -> Spread:
    """Surface tension of checked melts at temperatures [degC], with ranges [mN/m]."""
    span = SPANS["surface tension"]
    value = _EQUATION.at(made.moles, span.held(temperature))
    told = np.asarray(made.told & span.tells(temperature) & (value > _LEAST) & (value < _MOST))
    strange = np.maximum(made.strange, span.outside(temperature))
    return shaped(made, ERRORS["surface tension"].around(blank(value, told), strange))
