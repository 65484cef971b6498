"""The oxide basis: the substances in which every slag is written.

A composition is a vector of moles in the order of `OXIDES`. Fluorine takes calcium of its own substance as CaF2 as far
as that goes; what is left is "F": one mole of F atoms less the half mole of oxygen that they replace, so that masses
close. CaF2 and F count in no silicate degree. Cations, oxygens and molar masses follow from the formulas; the counting
of acid and base oxygens, melt densities and optical basicities stand, each with its source, in resources/oxides.csv.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from fluxlab import resources
from fluxlab.materials.formulas import Formula, atomic_mass, formula

Vec = NDArray[np.float64]

_ROWS = resources.table("oxides.csv")
_FORMULAS = tuple(formula(row["symbol"]) for row in _ROWS)

OXIDES: tuple[str, ...] = tuple(row["symbol"] for row in _ROWS)
INDEX: Mapping[str, int] = MappingProxyType({symbol: i for i, symbol in enumerate(OXIDES)})
SIZE = len(OXIDES)
_F, _CAF2, _CAO, _FEO, _FE2O3 = (INDEX[s] for s in ("F", "CaF2", "CaO", "FeO", "Fe2O3"))


def _frozen(values: list[float]) -> Vec:
    vector = np.array(values, dtype=np.float64)
    vector.setflags(write=False)
    return vector


def _column(title: str, empty: float = 0.0) -> Vec:
    return _frozen([float(row[title]) if row[title] else empty for row in _ROWS])


def _cations(f: Formula) -> float:
    return sum(n for symbol, n in f.atoms.items() if symbol not in ("O", "F"))


OXYGENS: Vec = _frozen([f.atoms.get("O", 0.0) for f in _FORMULAS])
"""Oxygen atoms of each basis member [mol/mol]; none in CaF2 and F."""
CATIONS: Vec = _frozen([_cations(f) for f in _FORMULAS])
"""Cations of each basis member [mol/mol]; none in F."""
MASS: Vec = _frozen([f.mass - (atomic_mass("O") / 2.0 if f.text == "F" else 0.0) for f in _FORMULAS])
"""Molar masses [g/mol]; F less the half oxygen that it replaces."""
ACID_OXYGENS: Vec = _column("acid_oxygens")
"""Oxygens counted as acid [mol/mol], alumina not counted."""
BASE_OXYGENS: Vec = _column("base_oxygens")
"""Oxygens counted as base [mol/mol], alumina not counted."""
OPTICAL_BASICITY: Vec = _column("optical_basicity")
"""Optical basicity of each oxide [-], Rodriguez and McCloy 2011; 0 where it has none (CaF2, F)."""
OPTICAL_BASICITY_METALLURGICAL: Vec = _column("optical_basicity_metallurgical")
"""Optical basicity of each oxide [-], metallurgical set; CaF2 as one oxygen, for viscosity only."""
MELT_DENSITY_RANGE: Vec = _column("melt_density_range_percent")
"""Uncertainty of each melt density [%]."""


def _melt_densities() -> Vec:
    """Partial melt densities [g/cm3]; F follows from NaF at 2.0 beside Na2O (see the table)."""
    densities = np.array(_column("melt_density", empty=np.nan))
    soda = INDEX["Na2O"]
    fluoride = 2.0 * (MASS[soda] / 2.0 + MASS[_F])
    densities[_F] = 2.0 * MASS[_F] / (fluoride / 2.0 - MASS[soda] / densities[soda])
    densities.setflags(write=False)
    return densities


MELT_DENSITY: Vec = _melt_densities()
"""Partial density of each basis member in a melt [g/cm3]."""

_OF_ELEMENT: Mapping[str, tuple[int, float]] = MappingProxyType(
    {
        symbol: (i, f.atoms[symbol])
        for i, f in enumerate(_FORMULAS)
        for symbol in f.atoms
        if symbol not in ("O", "F") and f.text not in ("CaF2", "Fe2O3")
    }
)
ELEMENTS: frozenset[str] = frozenset(_OF_ELEMENT) | {"F"}
"""Elements that have a place in the basis, oxygen left aside."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A substance as slag oxides [mol per mol] and the atoms that found no place [mol per mol].

    `rest` holds what no basis member takes; its "O" is the oxygen left over, negative where the oxides need more
    oxygen than the substance brings.
    """

    oxides: Vec
    rest: Mapping[str, float]


def place(atoms: Mapping[str, float], ferric_share: float = 0.0) -> Placed:
    """Atoms of one substance as slag oxides [mol] and what is left of them [mol].

    Iron goes to FeO, its `ferric_share` [0..1] to Fe2O3; copper to Cu2O, manganese to MnO, antimony to Sb2O3.
    """
    oxides = np.zeros(SIZE)
    rest: dict[str, float] = {}
    for symbol, count in atoms.items():
        if symbol in _OF_ELEMENT:
            i, cations = _OF_ELEMENT[symbol]
            oxides[i] += count / cations
        elif symbol == "F":
            oxides[_F] += count
        elif symbol != "O":
            rest[symbol] = count
    oxides = split_iron(join_fluorspar(oxides), ferric_share)
    left = atoms.get("O", 0.0) - float(OXYGENS @ oxides) + 0.5 * float(oxides[_F])
    if abs(left) > 1e-12 * max(1.0, atoms.get("O", 0.0)):
        rest["O"] = left
    return Placed(oxides, MappingProxyType(rest))


def join_fluorspar(oxides: Vec) -> Vec:
    """The composition of one substance [mol] with its loose fluorine bound as CaF2 as far as its lime goes."""
    joined = oxides.copy()
    fluorspar = min(oxides[_F] / 2.0, oxides[_CAO])
    joined[_CAF2] += fluorspar
    joined[_CAO] -= fluorspar
    joined[_F] -= 2.0 * fluorspar
    return joined


def split_iron(oxides: Vec, ferric_share: float) -> Vec:
    """The same composition [mol] with `ferric_share` [0..1] of its iron as Fe2O3 and the other as FeO."""
    split = oxides.copy()
    iron = oxides[_FEO] + 2.0 * oxides[_FE2O3]
    split[_FEO] = (1.0 - ferric_share) * iron
    split[_FE2O3] = ferric_share * iron / 2.0
    return split


def vector(moles: Mapping[str, float]) -> Vec:
    """A composition [mol] from a mapping of basis symbols; raises KeyError for a symbol outside the basis."""
    n = np.zeros(SIZE)
    for symbol, amount in moles.items():
        n[INDEX[symbol]] += amount
    return n


def from_masses(grams: Mapping[str, float]) -> Vec:
    """A composition [mol] from masses of basis members [g]; raises KeyError for a symbol outside the basis."""
    return vector(grams) / MASS


def grams(n: Vec) -> Vec:
    """Mass of each basis member [g]."""
    return n * MASS


def weight_percent(n: Vec) -> Vec:
    """Share of each basis member [mass %], CaF2 as such; zeros for an empty composition."""
    masses = n * MASS
    total = masses.sum()
    return np.asarray(100.0 * masses / total) if total > 0.0 else np.zeros(SIZE)


def model_weight_percent(n: Vec) -> Vec:
    """Share of each oxide and of F as the property models want it [mass %].

    CaF2 is written as CaO and two F, F with its whole mass (the oxygen that it replaces is not taken off), the sum
    scaled to 100. Zeros for an empty composition.
    """
    split = n.copy()
    split[_CAO] += n[_CAF2]
    split[_F] += 2.0 * n[_CAF2]
    split[_CAF2] = 0.0
    masses = split * MASS
    masses[_F] = split[_F] * atomic_mass("F")
    total = masses.sum()
    return np.asarray(100.0 * masses / total) if total > 0.0 else np.zeros(SIZE)
