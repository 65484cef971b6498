"""Sums of oxides by mass, by which opinions are weighed and ranges told: "FeO+MnO"."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec
from fluxlab.slag.ratio import frozen


def _model_masses() -> Vec:
    masses = MASS.copy()
    masses[INDEX["F"]] = atomic_mass("F")
    masses[INDEX["CaF2"]] = masses[INDEX["CaO"]] + 2.0 * masses[INDEX["F"]]
    return frozen(masses)


MODEL_MASS: Vec = _model_masses()
"""Masses by which the property equations count [g/mol]: CaF2 as CaO and two F, F whole."""
_PARTS = {
    "CaO": {"CaO": MODEL_MASS[INDEX["CaO"]], "CaF2": MODEL_MASS[INDEX["CaO"]]},
    "F": {"F": MODEL_MASS[INDEX["F"]], "CaF2": 2.0 * MODEL_MASS[INDEX["F"]]},
}


def share_masses(sums: Sequence[str]) -> Vec:
    """Mass of each sum of oxides ("FeO+MnO") per mole of each basis member (sums, oxides) [g/mol].

    CaF2 counts as CaO and F. Raises KeyError for an unknown oxide.
    """
    return _share_masses(tuple(sums))


@lru_cache(maxsize=256)
def _share_masses(sums: tuple[str, ...]) -> Vec:
    masses = np.zeros((len(sums), SIZE))
    for row, text in zip(masses, sums, strict=True):
        for symbol in text.split("+"):
            for member, mass in _PARTS.get(symbol, {symbol: MODEL_MASS[INDEX[symbol]]}).items():
                row[INDEX[member]] += mass
    return frozen(masses)
