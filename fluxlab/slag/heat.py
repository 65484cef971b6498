"""Heat capacity of the liquid slag and the heat to melt it, by adding what the oxides bring.

The published additive capacities were not beaten by an own fit. What a charge takes beside its slag (gases, reactions,
pot) is reckoned in fluxlab.fusion.heat.
"""

import numpy as np
from numpy.typing import ArrayLike

from fluxlab import resources
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec
from fluxlab.slag.domain import SPANS, blank
from fluxlab.slag.hot_density import shaped
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.own_viscosity import ZERO
from fluxlab.slag.products import product
from fluxlab.slag.ratio import frozen
from fluxlab.slag.spread import ERRORS, Spread

ROOM = 25.0
SOFTENS = 525.0
"""Where the glass becomes a liquid [degC]: 500 to 550, estimate."""
FUSES = 0.22
"""Heat that crystals take to become glass [kJ/g]: 0.14 to 0.30, estimate."""
_GLASS_SHARE = 0.75
"""Heat capacity of a glass in that of its liquid, where none was found; judgement, others lie at 0.7 to 0.8."""


def liquid_heat_capacity(n: Vec) -> Spread:
    """Heat capacity of melts [mol], with ranges [J/K]."""
    made = melts(n)
    value = blank(product(_LIQUID, made.moles), made.told)
    return shaped(made, ERRORS["heat"].around(value, made.strange, value / 100.0))


def melt_enthalpy(n: Vec, temperature: ArrayLike) -> Spread:
    """Heat that turns the crystals of melts [mol] at 25 degC into a melt at temperatures [degC], with ranges [kJ]."""
    return enthalpy_of(melts(n), np.asarray(temperature, dtype=np.float64))


def enthalpy_of(made: Melts, temperature: Vec) -> Spread:
    """Heat of checked melts at temperatures [degC] above crystals at 25 degC, with ranges [kJ]."""
    span = SPANS["heat"]
    safe = span.held(temperature)
    glass = _glass(made.moles, np.minimum(safe, SOFTENS)) - _glass(made.moles, np.asarray(ROOM))
    liquid = product(_LIQUID, made.moles) * np.maximum(safe - SOFTENS, 0.0)
    value = (glass + liquid) / 1000.0 + FUSES * product(MASS, made.moles)
    told = np.asarray(made.told & span.tells(temperature))
    value = blank(value, told)
    return shaped(made, ERRORS["heat"].around(value, made.strange, value / 100.0))


def _glass(moles: Vec, temperature: Vec) -> Vec:
    """Heat of the glass (...) but for a constant [J]."""
    kelvin = temperature + ZERO
    a, b, c = (product(row, moles) for row in _GLASS)
    return np.asarray(a * kelvin + b * kelvin**2 / 2.0 - c / kelvin)


def _table() -> tuple[Vec, Vec]:
    liquid, glass = np.zeros(SIZE), np.zeros((3, SIZE))
    for row in resources.table("slag/heat.csv"):
        i = INDEX[row["symbol"]]
        liquid[i] = float(row["liquid"])
        known = [row[f"glass_{letter}"] for letter in "abc"]
        glass[:, i] = [float(each) for each in known] if known[0] else (_GLASS_SHARE * liquid[i], 0.0, 0.0)
    return frozen(liquid), frozen(glass)


_LIQUID, _GLASS = _table()
