"""What of a melt decides where sulphur goes and how well nitre works: its alkalis and its acids."""

from dataclasses import dataclass

import numpy as np

from fluxlab.materials.oxides import INDEX, SIZE, Vec
from fluxlab.slag.ratio import frozen

ALKALIS = ("Na2O", "K2O", "Li2O")
"""Bases that hold sulphur as sulphate in the heat of a fusion."""
ACIDS = ("SiO2", "B2O3", "P2O5")
"""Oxides that claim those bases for themselves, each mole alike."""


@dataclass(frozen=True, slots=True)
class Melt:
    """Alkalis and acids of a melt [mol]; alkalis with those of soda that sulphur is going to take up."""

    alkali: float
    acid: float

    @property
    def alkalinity(self) -> float:
        """Alkalis over alkalis and acids [mol/mol]; 0 in a melt that has neither."""
        both = self.alkali + self.acid
        return self.alkali / both if both > 0.0 else 0.0


def melt_of(n: Vec) -> Melt:
    """Alkalis and acids of a composition [mol]."""
    return Melt(max(float(_ALKALI @ n), 0.0), max(float(ACID @ n), 0.0))


def _only(symbols: tuple[str, ...]) -> Vec:
    vector = np.zeros(SIZE)
    vector[[INDEX[symbol] for symbol in symbols]] = 1.0
    return frozen(vector)


_ALKALI = _only(ALKALIS)
ACID = _only(ACIDS)
"""One for each acid of the basis, nought for the rest."""
