"""Sums of oxides by mass, by which opinions are weighed and ranges told: "FeO+MnO"."""

from collections.abc import Sequence

import numpy as np

from fluxlab.materials.oxides import INDEX, SIZE, Vec
from fluxlab.slag.melts import MODEL_MASS
from fluxlab.slag.ratio import frozen

_PARTS = {
    "CaO": {"CaO": MODEL_MASS[INDEX["CaO"]], "CaF2": MODEL_MASS[INDEX["CaO"]]},
    "F": {"F": MODEL_MASS[INDEX["F"]], "CaF2": 2.0 * MODEL_MASS[INDEX["F"]]},
}


def share_masses(sums: Sequence[str]) -> Vec:
    """Mass of each sum of oxides ("FeO+MnO") per mole of each basis member (sums, oxides) [g/mol].

    CaF2 counts as CaO and F. Raises KeyError for an unknown oxide.
    """
    masses = np.zeros((len(sums), SIZE))
    for row, text in zip(masses, sums, strict=True):
        for symbol in text.split("+"):
            for member, mass in _PARTS.get(symbol, {symbol: MODEL_MASS[INDEX[symbol]]}).items():
                row[INDEX[member]] += mass
    return frozen(masses)
