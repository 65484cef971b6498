"""Fitted equations over mole fractions of oxides that go straight with the temperature: density and surface tension.

An oxide is a mole of oxides, fluorine stands beside them: F atoms per mole of oxides.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import INDEX, OXIDES, SIZE, Vec
from fluxlab.slag.ratio import frozen
from fluxlab.slag.terms import Terms, read_terms


def _moles() -> Vec:
    moles = np.ones(SIZE)
    moles[INDEX["F"]] = 0.0
    return frozen(moles)


MOLES: Vec = _moles()
"""Moles of oxides per mole of each basis member [mol/mol]; CaF2 is one of CaO, F is none."""
_OXIDES: dict[str, dict[str, float]] = {symbol: {symbol: 1.0} for symbol in OXIDES if symbol != "CaF2"} | {
    "CaO": {"CaO": 1.0, "CaF2": 1.0},
    "F": {"F": 1.0, "CaF2": 2.0},
    "alk": {"Na2O": 1.0, "K2O": 1.0, "Li2O": 1.0},
}


@dataclass(frozen=True, slots=True, eq=False)
class MoleEquation:
    """Terms with coefficients (2, terms) at a reference [degC] and per thousand degrees above it."""

    terms: Terms
    coefficients: Vec
    reference: float

    def at(self, moles: Vec, temperature: Vec) -> Vec:
        """The sum of all terms (...) for compositions (oxides, samples) [mol] at temperatures [degC] [its unit]."""
        at_rest, growing = self.terms.sums(moles, self.coefficients)
        return np.asarray(at_rest + growing * ((temperature - self.reference) / 1000.0))


def read_equation(name: str, reference: float, earths: Sequence[str]) -> MoleEquation:
    """The equation of a packaged table, with the oxides that count as RO in it; raises KeyError for an unknown term."""
    rows = resources.table(name)
    groups = {**_OXIDES, "RO": {part: count for symbol in earths for part, count in _OXIDES[symbol].items()}}
    coefficients = np.array([[float(row[title] or 0.0) for row in rows] for title in ("at_rest", "per_kilodegree")])
    return MoleEquation(read_terms([row["term"] for row in rows], groups, MOLES), frozen(coefficients), reference)
