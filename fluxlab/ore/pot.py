"""What a gram of a mineral brings into the pot, raw or roasted.

The slag oxides are the same either way: those of what a perfect roast leaves, with CuO as Cu2O, Mn2O3 as MnO, Sb2O4 as
Sb2O3, Co3O4 as CoO, an arsenate as As2O3 and a sulphate as its base. What no slag model holds is set apart: SO3, WO3,
MoO3, TeO2, halides, and of raw material its sulphide sulphur, its arsenic, mercury, selenium and carbon.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from fluxlab.materials import oxides
from fluxlab.materials.formulas import Formula, atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.substance import molar_mass, products
from fluxlab.ore.roast import Roasted, is_sulphate, roasted

_NOBLE = ("Ag", "Au")
_LEFT_RAW = ("As", "Hg", "Se")
UNKNOWN_DENSITY = 4.0
_GIVE_OXYGEN = frozenset(
    {
        *("CuO", "Cu2O", "Fe2O3", "Fe3O4", "MnO2", "Mn2O3", "Mn3O4", "PbO", "Sb2O4", "SnO2", "Bi2O3", "ZnO", "CdO"),
        *("NiO", "Co3O4", "As2O5", "PbSO4", "CaSO4", "BaSO4", "SrSO4", "K2SO4", "Na2SO4"),
        *("Ag2SO4", "ZnSO4", "CuSO4", "FeSO4", "MnSO4", "MgSO4"),
    }
)
"""Solids from which a reducer can take oxygen."""
_STEPS = (
    ("Cu2O", "CuO", 2.0, 1.0),
    ("FeO", "Fe2O3", 0.5, 0.5),
    ("MnO", "MnO2", 1.0, 1.0),
    ("As2O3", "As2O5", 1.0, 2.0),
)
"""Lower and higher oxide, moles of the higher from one of the lower, and the oxygen that it takes [mol O]."""


@dataclass(frozen=True, slots=True)
class InPot:
    """What one gram of mineral brings into the pot.

    `slag` [mol] with its iron as FeO; `apart`, `metal` (silver and gold), `gases` given off in the fusion and
    `oxygen` taken up in it [g]; `elements` in the pot [g], oxygen aside; `reducible` oxides and sulphates as they go
    in [g]; so that 1 + oxygen = slag + apart + metal + gases.
    """

    slag: oxides.Vec
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    gases: Mapping[str, float]
    oxygen: float
    elements: Mapping[str, float]
    reducible: Mapping[str, float]


@cache
def calcined(mineral: Mineral) -> InPot:
    """What the calcine of one gram of raw mineral brings into the pot; here calcine + oxygen is what is kept."""
    return brought(roasted(mineral))


@cache
def solid(name: str) -> InPot:
    """What one gram of a solid of the roast, by formula, brings into the pot."""
    return brought(Roasted(MappingProxyType({name: 1.0}), MappingProxyType({}), 0.0))


def brought(left: Roasted) -> InPot:
    """What the solids of a roast bring into the pot, per gram of raw material behind them."""
    reducible: dict[str, float] = {}
    for name, g in left.solids.items():
        parts = {name: 1.0} if name in _GIVE_OXYGEN else _natural(formula(name))
        for part, share in parts.items():
            reducible[part] = reducible.get(part, 0.0) + g * share
    return _fused(left, reducible)


@cache
def raw(mineral: Mineral) -> InPot:
    """What one gram of raw mineral brings into the pot."""
    burnt = calcined(mineral)
    atoms, mass = mineral.read.atoms, mineral.read.mass
    apart = {name: g for name, g in burnt.apart.items() if name not in ("SO3", "S")}
    if sulphur := atoms.get("S", 0.0):
        name = "SO3" if is_sulphate(atoms) else "S"
        apart[name] = sulphur * molar_mass(name) / mass
    kept = oxides.grams(burnt.slag)[oxides.INDEX["As2O3"]] > 0.0
    for symbol in _LEFT_RAW:
        if atoms.get(symbol, 0.0) > 0.0 and not (symbol == "As" and kept):
            apart[symbol] = atoms[symbol] * atomic_mass(symbol) / mass
    carbonate = "O" in atoms
    if "C" in atoms and not carbonate:
        apart["C"] = atoms["C"] * atomic_mass("C") / mass
    gases = {"H2O": atoms.get("H", 0.0) / 2.0, "CO2": atoms.get("C", 0.0) if carbonate else 0.0}
    weighed = {species: n * molar_mass(species) / mass for species, n in gases.items() if n > 0.0}
    elements = {s: n * atomic_mass(s) / mass for s, n in atoms.items() if s != "O"}
    return _balanced(1.0, burnt.slag, apart, burnt.metal, weighed, elements, _natural(mineral.read))


def density(mineral: Mineral) -> float:
    """Density of the solid mineral [g/cm3]; an oxide of an assay counts as its melt, others as 4: judgement."""
    if mineral.density is not None:
        return mineral.density
    i = oxides.INDEX.get(mineral.formula)
    return float(oxides.MELT_DENSITY[i]) if i is not None else UNKNOWN_DENSITY


def is_carbonate(mineral: Mineral) -> bool:
    """Whether the mineral gives off carbon dioxide."""
    return {"C", "O"} <= set(mineral.read.atoms)


def is_sulphide(mineral: Mineral) -> bool:
    """Whether the mineral is a sulphide, arsenide, antimonide, selenide or telluride: matter that nitre burns."""
    atoms = set(mineral.read.atoms)
    return "O" not in atoms and bool(atoms & {"S", "As", "Sb", "Se", "Te"})


def _fused(left: Roasted, reducible: Mapping[str, float]) -> InPot:
    """A calcine as slag oxides, metals and the rest."""
    slag = np.zeros(oxides.SIZE)
    apart: dict[str, float] = {}
    elements: dict[str, float] = {}
    for name, grams in left.solids.items():
        solid = formula(name)
        made = products(solid)
        slag += grams / solid.mass * oxides.split_iron(made.oxides, 0.0)
        for species, n in made.apart.items():
            apart[species] = apart.get(species, 0.0) + grams / solid.mass * n * molar_mass(species)
        for symbol, part in solid.mass_fractions.items():
            if symbol != "O":
                elements[symbol] = elements.get(symbol, 0.0) + grams * part
    metal = {symbol: apart.pop(symbol) for symbol in _NOBLE if symbol in apart}
    gases = {
        species: sum(g / formula(s).mass * products(formula(s)).gases.get(species, 0.0) for s, g in left.solids.items())
        * molar_mass(species)
        for species in ("H2O", "CO2")
    }
    gases = {species: g for species, g in gases.items() if g > 0.0}
    return _balanced(left.mass, slag, apart, metal, gases, elements, reducible)


def _balanced(
    mass: float,
    slag: oxides.Vec,
    apart: Mapping[str, float],
    metal: Mapping[str, float],
    gases: dict[str, float],
    elements: Mapping[str, float],
    reducible: Mapping[str, float],
) -> InPot:
    """The piece with its oxygen balance closed [g]: spare oxygen leaves as O2, missing oxygen is taken up."""
    out = float(oxides.MASS @ slag) + sum(apart.values()) + sum(metal.values()) + sum(gases.values())
    spare = mass - out
    if spare > 1e-12:
        gases = gases | {"O2": spare}
    slag.setflags(write=False)
    return InPot(
        slag,
        MappingProxyType(dict(apart)),
        MappingProxyType(dict(metal)),
        MappingProxyType(gases),
        max(0.0, -spare),
        MappingProxyType(dict(elements)),
        MappingProxyType(dict(reducible)),
    )


def _natural(f: Formula) -> dict[str, float]:
    """The oxides of an unroasted substance from which a reducer can take oxygen [g/g].

    Oxygen beyond Cu2O, FeO, MnO and As2O3 is given to copper, then iron, manganese (as MnO2, so that Mn3O4 counts as
    two MnO and one MnO2) and arsenic. What holds no oxygen has none to give.
    """
    if "O" not in f.atoms:
        return {}
    made = products(f)
    n = oxides.split_iron(made.oxides, 0.0)
    spare = 2.0 * made.gases.get("O2", 0.0) + float(made.oxides[oxides.INDEX["Fe2O3"]])
    found: dict[str, float] = {}
    for low, high, each, oxygen in _STEPS:
        amount = float(n[oxides.INDEX[low]])
        taken = min(1.0, spare / (amount * oxygen)) if amount > 0.0 else 0.0
        spare -= taken * amount * oxygen
        found[high] = taken * amount * each
        if low == "Cu2O":
            found[low] = (1.0 - taken) * amount
    for symbol in ("PbO", "SnO2", "Bi2O3", "ZnO", "CdO", "NiO"):
        found[symbol] = float(n[oxides.INDEX[symbol]])
    sulphur = made.apart.get("SO3", 0.0)
    for base, sulphate in (("K2O", "K2SO4"), ("Na2O", "Na2SO4"), ("BaO", "BaSO4"), ("CaO", "CaSO4"), ("PbO", "PbSO4")):
        held = min(sulphur, float(n[oxides.INDEX[base]]))
        sulphur -= held
        found[sulphate] = held
        if base in found:
            found[base] -= held
    return {name: moles * molar_mass(name) / f.mass for name, moles in found.items() if moles > 1e-9}
