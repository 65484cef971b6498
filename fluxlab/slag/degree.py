"""Silicate degree: oxygen in the acids over oxygen in the bases, under the conventions of the trade.

"S" counts silica alone and leaves borax out with its own soda. "SB" counts boric oxide (3 O) and phosphoric oxide (5 O)
as acids too, all soda being base. "SBA base" and "SBA acid" take alumina (3 O) to one side or the other; SB leaves it
out. "all soda" is silica over every base, the soda of borax with them.

The figures a target needs are linear in the oxides, so each convention is given as two coefficient vectors.
"""

from typing import Literal, get_args

import numpy as np

from fluxlab.materials.oxides import ACID_OXYGENS, BASE_OXYGENS, INDEX, OXYGENS, SIZE, Vec
from fluxlab.slag.ratio import Ratio, frozen

DegreeConvention = Literal["S", "SB", "SBA base", "SBA acid", "all soda"]
CONVENTIONS: tuple[DegreeConvention, ...] = get_args(DegreeConvention)

SODA_PER_BORATE = 0.5
"""Soda that comes with each mole of boric oxide of a borax [mol Na2O per mol B2O3]."""


def degree_coefficients(convention: DegreeConvention) -> tuple[Vec, Vec]:
    """Oxygen counted as acid and as base per mole of each basis oxide [mol/mol].

    Under "S" the soda of the borax rows has still to be taken off the base: a vector over the oxides cannot tell it
    from other soda.
    """
    return _COEFFICIENTS[convention]


def degree(n: Vec, convention: DegreeConvention, borax_soda: float = 0.0) -> float | None:
    """Silicate degree of a composition [mol] under a convention [-]; None where nothing in it is a base.

    `borax_soda` is the Na2O that came with borax [mol]; only "S" takes it off.
    """
    acid, base = degree_coefficients(convention)
    return Ratio(acid, base).of(n, denominator_less=borax_soda if convention == "S" else 0.0)


def _coefficients(convention: DegreeConvention) -> tuple[Vec, Vec]:
    if convention in ("S", "all soda"):
        silica = np.zeros(SIZE)
        silica[INDEX["SiO2"]] = ACID_OXYGENS[INDEX["SiO2"]]
        return frozen(silica), BASE_OXYGENS
    alumina = np.zeros(SIZE)
    alumina[INDEX["Al2O3"]] = OXYGENS[INDEX["Al2O3"]]
    if convention == "SBA base":
        return ACID_OXYGENS, frozen(BASE_OXYGENS + alumina)
    if convention == "SBA acid":
        return frozen(ACID_OXYGENS + alumina), BASE_OXYGENS
    return ACID_OXYGENS, BASE_OXYGENS


_COEFFICIENTS = {convention: _coefficients(convention) for convention in CONVENTIONS}
