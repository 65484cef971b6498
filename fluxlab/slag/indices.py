"""The slag's indices side by side: degrees, basicities, optical basicity, borate share, NBO/T."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from fluxlab.materials.oxides import (
    BASE_OXYGENS,
    INDEX,
    MASS,
    OPTICAL_BASICITY,
    OPTICAL_BASICITY_METALLURGICAL,
    OXYGENS,
    SIZE,
    Vec,
)
from fluxlab.slag.degree import CONVENTIONS, DegreeConvention, degree
from fluxlab.slag.network import nbo_per_t
from fluxlab.slag.ratio import Ratio, frozen

ACIDS = ("SiO2", "B2O3", "P2O5")


@dataclass(frozen=True, slots=True)
class Indices:
    """Indices of one slag [-]; None where the slag leaves one undefined."""

    degree: Mapping[DegreeConvention, float | None]
    basicity_mass: float | None
    basicity_mole: float | None
    optical_basicity: float | None
    nbo_per_t: float | None
    nbo_per_t_with_boron: float | None
    borate_share: float | None


def indices(n: Vec, borax_soda: float = 0.0) -> Indices:
    """All indices of a composition [mol], `borax_soda` being the Na2O that came with borax [mol] [-]."""
    return Indices(
        degree=MappingProxyType({each: degree(n, each, borax_soda) for each in CONVENTIONS}),
        basicity_mass=basicity(n, "mass"),
        basicity_mole=basicity(n, "mole"),
        optical_basicity=optical_basicity(n),
        nbo_per_t=nbo_per_t(n),
        nbo_per_t_with_boron=nbo_per_t(n, with_boron=True),
        borate_share=borate_share(n),
    )


def basicity_coefficients(by: Literal["mass", "mole"]) -> tuple[Vec, Vec]:
    """Bases and acids per mole of each basis oxide, by mass [g/mol] or by mole [mol/mol].

    Acids are SiO2, B2O3 and P2O5; alumina and titania stand on neither side, nor does anything that no degree counts.
    """
    return _BASICITY[by]


def basicity(n: Vec, by: Literal["mass", "mole"]) -> float | None:
    """Bases over acids of a composition [mol], by mass or by mole [-]; None without an acid."""
    return Ratio(*_BASICITY[by]).of(n)


def optical_basicity_coefficients(with_fluorspar: bool = False) -> tuple[Vec, Vec]:
    """Oxygen times optical basicity, and oxygen, per mole of each basis oxide [mol/mol].

    Values of Rodriguez and McCloy, PNNL-20184, 2011. Fluorspar stands outside; `with_fluorspar` counts it as one
    oxygen of 1.20 (Mills and Sridhar 1999), which is meant for viscosity only.
    """
    return _OPTICAL_WITH_FLUORSPAR if with_fluorspar else _OPTICAL


def optical_basicity(n: Vec, with_fluorspar: bool = False) -> float | None:
    """Optical basicity of a composition [mol] [-]; None without an oxide."""
    return Ratio(*optical_basicity_coefficients(with_fluorspar)).of(n)


def borate_share_coefficients() -> tuple[Vec, Vec]:
    """Boric oxide, and boric oxide with silica, per mole of each basis oxide [mol/mol]."""
    return _BORATE


def borate_share(n: Vec) -> float | None:
    """Boric oxide in boric oxide and silica of a composition [mol] [mol/mol]; None with neither."""
    return Ratio(*_BORATE).of(n)


def mass_share_coefficients(symbol: str) -> tuple[Vec, Vec]:
    """Mass of one basis oxide, and of the whole slag, per mole of each basis oxide [g/mol]."""
    return frozen(_only(symbol) * MASS), MASS


def mass_share(n: Vec, symbol: str) -> float | None:
    """Mass fraction of one basis oxide in a composition [mol] [g/g]; None for an empty slag."""
    return Ratio(*mass_share_coefficients(symbol)).of(n)


def _only(*symbols: str) -> Vec:
    vector = np.zeros(SIZE)
    vector[[INDEX[symbol] for symbol in symbols]] = 1.0
    return vector


_ARE_BASES = np.where(BASE_OXYGENS > 0.0, 1.0, 0.0)
_BASICITY = {
    "mass": (frozen(_ARE_BASES * MASS), frozen(_only(*ACIDS) * MASS)),
    "mole": (frozen(_ARE_BASES), frozen(_only(*ACIDS))),
}
_FLUORSPAR = OPTICAL_BASICITY_METALLURGICAL * _only("CaF2")
_OPTICAL = (frozen(OXYGENS * OPTICAL_BASICITY), OXYGENS)
_OPTICAL_WITH_FLUORSPAR = (frozen(_OPTICAL[0] + _FLUORSPAR), frozen(OXYGENS + _only("CaF2")))
_BORATE = (frozen(_only("B2O3")), frozen(_only("B2O3", "SiO2")))
