"""The fitted viscosity equation of 49 terms over cation fractions, with the leverage of a composition on its fit.

log10 of the viscosity is A + L u exp(K (u - 1)) with u = 1273.15 K / T: L - 2.9 at 1000 degC, K the bend. Coefficients:
resources/slag/viscosity.csv; the data behind them are credited in resources/slag/README.md.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fluxlab import resources
from fluxlab.materials.oxides import CATIONS, Vec
from fluxlab.slag.products import product
from fluxlab.slag.ratio import frozen
from fluxlab.slag.terms import read_terms

INFINITELY_HOT = -2.9
"""log10 of the viscosity that the equation goes to [Pa s]."""
ZERO = 273.15
REFERENCE = 1000.0 + ZERO
"""Temperature about which the equation is written [K]."""
_LEAST_L = 0.1
_LEAST_K, _MOST_K = -0.3, 3.0

_ALKALI = {"Na2O": 2.0, "K2O": 2.0, "Li2O": 2.0}
_LIME = {"CaO": 1.0, "CaF2": 1.0}
_ZINC = {"ZnO": 1.0, "NiO": 1.0, "CoO": 1.0, "CdO": 1.0}
_LEAD = {"PbO": 1.0, "Bi2O3": 2.0}
_COPPER = {"Cu2O": 2.0}
_EARTHS = {**_LIME, "MgO": 1.0, "BaO": 1.0, "SrO": 1.0, "FeO": 1.0, "MnO": 1.0, **_ZINC, **_LEAD, **_COPPER}
_TRIVALENT = {"Al2O3": 2.0, "Fe2O3": 2.0}

CATION_GROUPS = {
    "Si": {"SiO2": 1.0},
    "B": {"B2O3": 2.0},
    "Al": {"Al2O3": 2.0},
    "P": {"P2O5": 2.0},
    "Ti": {"TiO2": 1.0},
    "Zr": {"ZrO2": 1.0, "SnO2": 1.0, "CeO2": 1.0},
    "Na": {"Na2O": 2.0},
    "K": {"K2O": 2.0},
    "Li": {"Li2O": 2.0},
    "Ca": _LIME,
    "Mg": {"MgO": 1.0},
    "Ba": {"BaO": 1.0},
    "Sr": {"SrO": 1.0},
    "Fe2": {"FeO": 1.0},
    "Fe3": {"Fe2O3": 2.0},
    "Mn": {"MnO": 1.0},
    "Zn": _ZINC,
    "Pb": _LEAD,
    "Cu": _COPPER,
    "As": {"As2O3": 2.0, "Sb2O3": 2.0},
    "Cr": {"Cr2O3": 2.0},
    "La": {},
    "F": {"F": 1.0, "CaF2": 2.0},
    "alk": _ALKALI,
}
"""Atoms per mole of each oxide in each group; lanthanum has no place in the basis."""
_GROUPS = {
    **CATION_GROUPS,
    "RO": _EARTHS,
    "2RO": {symbol: 2.0 * count for symbol, count in _EARTHS.items()},
    "T3": _TRIVALENT,
    "Na+Li": {"Na2O": 2.0, "Li2O": 2.0},
    "alk-T3": {**_ALKALI, **{symbol: -count for symbol, count in _TRIVALENT.items()}},
}

_ROWS = resources.table("slag/viscosity.csv")
_TERMS = read_terms([row["term"] for row in _ROWS], _GROUPS, CATIONS)
_COEFFICIENTS = frozen(np.array([[float(row[title]) for row in _ROWS] for title in ("L", "K")]))
_LEVERAGE = frozen(
    np.array([[float(v) for v in line.split(",")] for line in resources.text("slag/viscosity_leverage.csv").split()])
)


@dataclass(frozen=True, slots=True, eq=False)
class OwnViscosity:
    """The equation for compositions (samples): height L and bend K [-], which of them vary, and the terms behind them
    (terms, part of the samples) [-].
    """

    height: Vec
    bend: Vec
    height_varies: NDArray[np.bool_]
    bend_varies: NDArray[np.bool_]
    terms: list[Vec]

    @property
    def leverage(self) -> Vec:
        """Leverage (samples) of the compositions on the fit [-]."""
        return np.concatenate([np.einsum("ts,ts->s", each, product(_LEVERAGE, each)) for each in self.terms])

    def log_viscosity(self, temperature: Vec) -> Vec:
        """log10 of the viscosity at temperatures [degC] [log10 Pa s]."""
        u = REFERENCE / (temperature + ZERO)
        return np.asarray(INFINITELY_HOT + self.height * u * np.exp(self.bend * (u - 1.0)))

    def along(self, u: Vec) -> tuple[Vec, Vec]:
        """log10 of the viscosity [log10 Pa s] at u = 1273.15 K over the temperature, and its derivative by u."""
        grown = self.height * np.exp(self.bend * (u - 1.0))
        return np.asarray(INFINITELY_HOT + u * grown), np.asarray(grown * (1.0 + self.bend * u))

    def slopes(self, moles: Vec, temperature: Vec) -> Vec:
        """Derivative (oxides, samples) of the log10 by the moles of each oxide [log10 Pa s per mol]."""
        u = REFERENCE / (temperature + ZERO)
        grown = u * np.exp(self.bend * (u - 1.0))
        by_height = grown * self.height_varies
        by_bend = self.height * grown * (u - 1.0) * self.bend_varies
        return _TERMS.slopes(moles, _COEFFICIENTS[0][:, None] * by_height + _COEFFICIENTS[1][:, None] * by_bend)


def own_viscosity(moles: Vec) -> OwnViscosity:
    """The equation for compositions (oxides, samples) [mol]."""
    terms = _TERMS.blocks(moles)
    height, bend = np.concatenate([_COEFFICIENTS @ each for each in terms], axis=1)
    return OwnViscosity(
        height=np.maximum(height, _LEAST_L),
        bend=np.minimum(np.maximum(bend, _LEAST_K), _MOST_K),
        height_varies=height > _LEAST_L,
        bend_varies=(bend > _LEAST_K) & (bend < _MOST_K),
        terms=terms,
    )
