"""The perfect roast: what it leaves of a mineral and what goes up the flue.

Silver and gold stay as metal, copper as CuO, iron as Fe2O3, lead as PbO, manganese as Mn2O3, antimony as Sb2O4,
tellurium as TeO2, cobalt as Co3O4; arsenic leaves as As4O6, selenium as SeO2, mercury as vapour; carbonates and water
go wholly, sulphide sulphur as SO2. A sulphate keeps what its potash, soda, lime, baryta or lead can hold and loses the
rest as SO3. These are the limits that a real roast approaches.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.substance import molar_mass

_LEAVES: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "Si": ("SiO2", 1), "B": ("B2O3", 2), "P": ("P2O5", 2), "Al": ("Al2O3", 2), "Ti": ("TiO2", 1),
        "Fe": ("Fe2O3", 2), "Mn": ("Mn2O3", 2), "Zn": ("ZnO", 1), "Pb": ("PbO", 1), "Cu": ("CuO", 1),
        "Ca": ("CaO", 1), "Mg": ("MgO", 1), "Ba": ("BaO", 1), "Sr": ("SrO", 1), "Na": ("Na2O", 2), "K": ("K2O", 2),
        "Li": ("Li2O", 2), "Zr": ("ZrO2", 1), "Cr": ("Cr2O3", 2), "Sb": ("Sb2O4", 2), "Ni": ("NiO", 1),
        "Co": ("Co3O4", 3), "Sn": ("SnO2", 1), "Bi": ("Bi2O3", 2), "Cd": ("CdO", 1), "Ce": ("CeO2", 1),
        "Te": ("TeO2", 1), "Mo": ("MoO3", 1), "W": ("WO3", 1),
    }
)  # fmt: skip
"""Solid that an element leaves, and how many of its atoms are in one formula unit."""
_FLUES: Mapping[str, tuple[str, float]] = MappingProxyType(
    {"As": ("As4O6", 4), "Se": ("SeO2", 1), "Hg": ("Hg", 1), "C": ("CO2", 1), "H": ("H2O", 2)}
)
"""Gas as which an element leaves, and how many of its atoms are in one molecule."""
_SULPHATES: Mapping[str, str] = MappingProxyType(
    {"K2O": "K2SO4", "Na2O": "Na2SO4", "BaO": "BaSO4", "SrO": "SrSO4", "CaO": "CaSO4", "PbO": "PbSO4"}
)
"""Sulphates that outlast the roast, by the oxide that holds the SO3; the fastest first."""


@dataclass(frozen=True, slots=True)
class Roasted:
    """What becomes of the raw material in the perfect roast.

    `solids` and `gases` by formula and `oxygen` taken from the air, all in g per g raw (of one mineral) or in g (of a
    feed), so that raw + oxygen = solids + gases.
    """

    solids: Mapping[str, float]
    gases: Mapping[str, float]
    oxygen: float

    @property
    def mass(self) -> float:
        """Mass of the calcine [g/g or g]."""
        return sum(self.solids.values())


@cache
def roasted(mineral: Mineral) -> Roasted:
    """What one gram of the mineral becomes in the perfect roast [g/g]."""
    if mineral.roast == "unchanged":
        return Roasted(MappingProxyType({mineral.formula: 1.0}), MappingProxyType({}), 0.0)
    atoms = dict(mineral.read.atoms)
    if mineral.roast == "dries":
        water = atoms["H"] / 2.0 * molar_mass("H2O") / mineral.read.mass
        dry = mineral.formula.split("·")[0]
        return Roasted(MappingProxyType({dry: 1.0 - water}), MappingProxyType({"H2O": water}), 0.0)
    solids, gases = _moles(atoms)
    products = {**solids, **gases}
    oxygen = sum(n * _oxygens(species) for species, n in products.items()) - atoms.get("O", 0.0)
    if oxygen < -1e-9:
        gases["O2"] = -oxygen / 2.0
    return Roasted(
        MappingProxyType({species: n * molar_mass(species) / mineral.read.mass for species, n in solids.items()}),
        MappingProxyType({species: n * molar_mass(species) / mineral.read.mass for species, n in gases.items()}),
        max(0.0, oxygen) * atomic_mass("O") / mineral.read.mass,
    )


def total(parts: Iterable[tuple[float, Roasted]]) -> Roasted:
    """The roast of a mix: grams of each raw mineral with its roast, summed [g]."""
    solids: dict[str, float] = {}
    gases: dict[str, float] = {}
    oxygen = 0.0
    for grams, part in parts:
        oxygen += grams * part.oxygen
        for whole, piece in ((solids, part.solids), (gases, part.gases)):
            for species, share in piece.items():
                whole[species] = whole.get(species, 0.0) + grams * share
    return Roasted(MappingProxyType(solids), MappingProxyType(gases), oxygen)


def is_sulphate(atoms: Mapping[str, float]) -> bool:
    """Whether the sulphur of a substance is that of a sulphate (three oxygens or more for each)."""
    return 0.0 < 3.0 * atoms.get("S", 0.0) <= atoms.get("O", 0.0)


def _moles(atoms: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float]]:
    """Solids and gases of one mole of a mineral [mol], spare oxygen left aside."""
    solids: dict[str, float] = {}
    gases: dict[str, float] = {}
    for symbol, n in atoms.items():
        if symbol in _FLUES:
            species, each = _FLUES[symbol]
            gases[species] = n / each
        elif symbol in _LEAVES:
            species, each = _LEAVES[symbol]
            solids[species] = n / each
        elif symbol not in ("O", "S"):
            solids[symbol] = n
    sulphur = atoms.get("S", 0.0)
    if not is_sulphate(atoms):
        return solids, gases | ({"SO2": sulphur} if sulphur else {})
    for oxide, sulphate in _SULPHATES.items():
        held = min(solids.get(oxide, 0.0), sulphur)
        if held > 0.0:
            solids[sulphate] = held
            solids[oxide] -= held
            sulphur -= held
    if sulphur > 1e-12:
        gases["SO3"] = sulphur
    return {species: n for species, n in solids.items() if n > 1e-12}, gases


@cache
def _oxygens(species: str) -> float:
    return formula(species).atoms.get("O", 0.0)
