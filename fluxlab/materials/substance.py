"""What a pure substance becomes in the fusion: slag oxides, gases, and what is neither.

Carbonates give CO2, hydrates and hydroxides water, nitrates nitrogen and oxygen, higher oxides their spare oxygen;
organic matter and carbon burn with oxygen from elsewhere, metals become the oxide that the basis holds. Chlorides stay
salt. Sulphate gives base and SO3, the SO3 set apart; sulphide sulphur is set apart as it is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from fluxlab.materials import oxides
from fluxlab.materials.formulas import Formula, formula

_SALT_OF_ONE = ("Ag", "K", "Na", "Li")
_SALT_OF_TWO = ("Ca", "Mg", "Ba", "Sr", "Pb", "Zn", "Cu", "Fe", "Mn")
_HALOGENS = ("Cl", "Br", "I")
_HIGH_OXIDES: Mapping[str, tuple[str, float]] = MappingProxyType(
    {"W": ("WO3", 3.0), "Mo": ("MoO3", 3.0), "Te": ("TeO2", 2.0), "Se": ("SeO2", 2.0)}
)
_AIR = frozenset({"C", "H", "N", "S", "O", "F"})


@dataclass(frozen=True, slots=True)
class Products:
    """What one mole of a substance becomes [mol].

    `gases` by species; `apart` are substances that belong neither to the slag nor to the gas, by formula; `metal` is
    what the substance brings as metal, counted in `oxides` as if oxidised; `oxygen` is taken from elsewhere [mol O].
    """

    oxides: oxides.Vec
    gases: Mapping[str, float]
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    oxygen: float


@cache
def molar_mass(species: str) -> float:
    """Molar mass of a product [g/mol]."""
    return formula(species).mass


def products(substance: Formula) -> Products:
    """What one mole of the substance becomes in the fusion [mol]; atoms and mass are kept."""
    atoms = dict(substance.atoms)
    metal = {s: n for s, n in atoms.items() if s in oxides.ELEMENTS} if set(atoms) <= oxides.ELEMENTS - _AIR else {}
    apart = _take_salts(atoms) | _take_strangers(atoms)
    n = oxides.place(atoms).oxides
    carbon, hydrogen, nitrogen, sulphur = (atoms.get(s, 0.0) for s in ("C", "H", "N", "S"))
    oxygen_in_oxides = float(oxides.OXYGENS @ n) - 0.5 * float(n[oxides.INDEX["F"]])
    spare = atoms.get("O", 0.0) - oxygen_in_oxides - 2.0 * carbon - hydrogen / 2.0
    if sulphur > 0.0:
        sulphate = spare >= 3.0 * sulphur - 1e-9
        apart["SO3" if sulphate else "S"] = sulphur
        spare -= 3.0 * sulphur if sulphate else 0.0
    n, spare = _to_ferric(n, spare)
    gases = {"CO2": carbon, "H2O": hydrogen / 2.0, "N2": nitrogen / 2.0, "O2": max(0.0, spare) / 2.0}
    return Products(
        oxides=n,
        gases=MappingProxyType({species: amount for species, amount in gases.items() if amount > 1e-12}),
        apart=MappingProxyType(apart),
        metal=MappingProxyType(metal),
        oxygen=max(0.0, -spare),
    )


def _take_salts(atoms: dict[str, float]) -> dict[str, float]:
    """Halides taken out of the atoms [mol], each halogen with the metal that holds it fastest."""
    salts: dict[str, float] = {}
    for halogen in _HALOGENS:
        left = atoms.pop(halogen, 0.0)
        for metal in (*_SALT_OF_ONE, *_SALT_OF_TWO):
            each = 1.0 if metal in _SALT_OF_ONE else 2.0
            taken = min(atoms.get(metal, 0.0), left / each)
            if taken > 0.0:
                salts[f"{metal}{halogen}{'2' if each > 1.0 else ''}"] = taken
                atoms[metal] -= taken
                left -= taken * each
        if left > 1e-12:
            salts[halogen] = left
    return salts


def _take_strangers(atoms: dict[str, float]) -> dict[str, float]:
    """Elements outside the slag model taken out of the atoms [mol], as oxide or as element."""
    strangers: dict[str, float] = {}
    for symbol in [s for s in atoms if s not in oxides.ELEMENTS and s not in _AIR]:
        amount = atoms.pop(symbol)
        name, oxygens = _HIGH_OXIDES.get(symbol, (symbol, 0.0))
        if amount > 0.0:
            strangers[name] = amount
            atoms["O"] = atoms.get("O", 0.0) - oxygens * amount
    return strangers


def _to_ferric(n: oxides.Vec, spare: float) -> tuple[oxides.Vec, float]:
    """Iron oxidised [mol] as far as the spare oxygen of its own substance goes, and the oxygen left [mol O]."""
    iron = float(n[oxides.INDEX["FeO"]])
    if iron <= 0.0 or spare <= 0.0:
        return n, spare
    share = min(1.0, 2.0 * spare / iron)
    return oxides.split_iron(n, share), spare - share * iron / 2.0
