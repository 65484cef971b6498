"""Viscosity equations to be scored on measured melts: our regression's form, its terms, and two published equations.

Written apart from the program's own code on purpose, so that the two can be compared.
"""

import re
from collections.abc import Sequence

import numpy as np
from melt_data import Floats

from fluxlab.materials.oxides import (
    CATIONS,
    INDEX,
    OPTICAL_BASICITY_METALLURGICAL,
    OXIDES,
    OXYGENS,
    SIZE,
)

CATIONS_OF = {
    "Si": "SiO2", "B": "B2O3", "P": "P2O5", "Al": "Al2O3", "Ti": "TiO2", "Fe2": "FeO", "Fe3": "Fe2O3", "Mn": "MnO",
    "Zn": "ZnO NiO CoO CdO", "Pb": "PbO Bi2O3", "Cu": "Cu2O", "Ca": "CaO CaF2", "Mg": "MgO", "Ba": "BaO", "Sr": "SrO",
    "Na": "Na2O", "K": "K2O", "Li": "Li2O", "Zr": "ZrO2 SnO2 CeO2", "Cr": "Cr2O3", "As": "As2O3 Sb2O3", "La": "",
}  # fmt: skip
SUMS = {
    "alk": "Na K Li",
    "RO": "Ca Mg Ba Sr Fe2 Mn Zn Pb Cu",
    "T3": "Al Fe3",
    "FeMn": "Fe2 Mn",
    "Na+Li": "Na Li",
}
A = -2.9
LEAST_L = 0.1
K_RANGE = (-0.3, 3.0)
_HALF_MIN = re.compile(r"h\((.+),(.+)\)")


def shares(n: Floats) -> dict[str, Floats]:
    """Cations of each kind and group, and F, per cation (samples,) [-]."""
    total = n @ CATIONS
    found = {
        kind: sum((n[:, INDEX[o]] * CATIONS[INDEX[o]] for o in oxides.split()), np.zeros(len(n))) / total
        for kind, oxides in CATIONS_OF.items()
    }
    found["F"] = (2.0 * n[:, INDEX["CaF2"]] + n[:, INDEX["F"]]) / total
    found |= {name: np.sum([found[kind] for kind in kinds.split()], axis=0) for name, kinds in SUMS.items()}
    found["2RO"] = 2.0 * found["RO"]
    found["alk-T3"] = np.maximum(found["alk"] - found["T3"], 0.0)
    found["1"] = np.ones(len(n))
    return found


def terms(n: Floats, names: Sequence[str]) -> Floats:
    """Terms (samples, terms) of compositions [mol], by name: "alk", "alk*B", "h(B,2RO)" [-]."""
    share = shares(n)
    columns = []
    for name in names:
        if found := _HALF_MIN.fullmatch(name):
            a, b = share[found[1]], share[found[2]]
            columns.append(a * b / (a + b + 1e-9))
        else:
            a_name, _, b_name = name.partition("*")
            columns.append(share[a_name] * share[b_name or "1"])
    return np.stack(columns, axis=1)


def reciprocal(temperature: Floats) -> Floats:
    """Reciprocal of the absolute temperature over that of 1000 degC [-]."""
    return np.asarray(1273.15 / (temperature + 273.15))


def regression(features: Floats, coefficients: Floats, temperature: Floats) -> Floats:
    """log10 of the viscosity by our regression, `coefficients` (L and K, terms) [log10 Pa s]."""
    u = reciprocal(temperature)
    height = np.maximum(features @ coefficients[0], LEAST_L)
    bend = np.clip(features @ coefficients[1], *K_RANGE)
    return np.asarray(A + height * u * np.exp(bend * (u - 1.0)))


def _per_mole(counts: dict[str, float]) -> Floats:
    vector = np.zeros(SIZE)
    for symbol, count in counts.items():
        vector[INDEX[symbol]] = count
    return vector


_ALL = _per_mole({s: 1.0 for s in OXIDES if s != "F"} | {"Fe2O3": 2.0, "Cu2O": 2.0, "Bi2O3": 2.0})
_LIME = _per_mole(
    dict.fromkeys(["CaO", "MgO", "FeO", "MnO", "BaO", "SrO", "ZnO", "PbO", "NiO", "CoO", "CdO", "B2O3"], 1.0)
    | {"Fe2O3": 2.0, "Cu2O": 2.0, "Bi2O3": 2.0, "F": -0.5}
)
_SODA = _per_mole(dict.fromkeys(("Na2O", "K2O", "Li2O"), 1.0))
_FLUORSPAR = _per_mole({"CaF2": 1.0, "F": 0.5})
_ALUMINA = _per_mole({"Al2O3": 1.0})


def riboud(n: Floats, temperature: Floats) -> Floats:
    """log10 of the viscosity by the equation of Riboud et al. 1981, boric oxide counted with lime [log10 Pa s].

    Coefficients from memory, checked on soda-lime and slag data; that boric oxide goes with lime is our choice.
    """
    total = n @ _ALL
    lime, soda, fluorspar, alumina = (n @ group / total for group in (_LIME, _SODA, _FLUORSPAR, _ALUMINA))
    ln_a = -19.81 + 1.73 * lime + 5.82 * fluorspar + 7.02 * soda - 35.76 * alumina
    b = 31140.0 - 23896.0 * lime - 46356.0 * fluorspar - 39159.0 * soda + 68833.0 * alumina
    kelvin = temperature + 273.15
    return np.asarray((ln_a + np.log(kelvin) + b / kelvin) / np.log(10.0))


def ray_pal(n: Floats, temperature: Floats, boric_oxide: float = 0.70) -> Floats:
    """log10 of the viscosity by the optical basicity equation of Ray and Pal 2004 [log10 Pa s].

    Coefficients from memory; the basicity of boric oxide was chosen on these data, in the equation's favour.
    """
    basicity = OPTICAL_BASICITY_METALLURGICAL.copy()
    basicity[INDEX["B2O3"]] = boric_oxide
    oxygens = OXYGENS.copy()
    oxygens[INDEX["CaF2"]] = 1.0
    mean = np.minimum((n @ (oxygens * basicity)) / (n @ oxygens), 0.785)
    b = 297.14 * mean**2 - 466.69 * mean + 196.22
    ln_a = -(0.2056 * b + 12.492)
    kelvin = temperature + 273.15
    return np.asarray((ln_a + np.log(kelvin) + 1000.0 * b / kelvin) / np.log(10.0) - 1.0)


def smooth_step(x: Floats, low: float, high: float) -> Floats:
    """Smooth rise from 0 at `low` to 1 at `high` [0..1]."""
    share = np.clip((x - low) / (high - low), 0.0, 1.0)
    return np.asarray(share * share * (3.0 - 2.0 * share))


def leaning(weight: Floats, iron: tuple[float, float] = (1.0, 5.0), outside: float = 2.0) -> Floats:
    """How far the blend leans on Riboud, from oxides and F (samples, oxides) [mass %] [0..1].

    Rises with FeO + MnO. The box is 5 to 30 % B2O3, 20 % SiO2 and 5 % Na2O at least; the leaning begins so many per
    cent `outside` it and takes 5 % to be whole.
    """

    def inside(oxide: str, edge: float, inward: float = 1.0) -> Floats:
        return smooth_step(inward * (weight[:, INDEX[oxide]] - edge) + outside, 0.0, 5.0)

    box = inside("B2O3", 5.0) * inside("B2O3", 30.0, -1.0) * inside("SiO2", 20.0) * inside("Na2O", 5.0)
    return np.asarray(smooth_step(weight[:, INDEX["FeO"]] + weight[:, INDEX["MnO"]], *iron) * box)
