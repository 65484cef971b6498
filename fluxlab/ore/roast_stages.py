"""The two stages in which a mineral burns, and the side reactions of what has been burnt, each closed in itself.

First the labile sulphur and arsenic leave and plain sulphides stay (FeS2 gives FeS, CuFeS2 gives Cu2S and FeS, FeAsS
gives FeS, Beringer 1904, p. 139 for pyrite); then these burn to what the perfect roast leaves. Side reactions are per
mole: an oxide or metal takes up SO2, oxidised arsenic stays as arsenate, antimony fumes, ferric oxide is left magnetic.
An arsenate is written as its As2O5, its base standing among the oxides: the mass is the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.substance import molar_mass
from fluxlab.ore.roast import Roasted, roasted
from fluxlab.ore.roast_tables import sulphates

_SULPHIDES: Mapping[str, tuple[str, float, float]] = MappingProxyType(
    {
        "Ag": ("Ag2S", 2, 1), "Cu": ("Cu2S", 2, 1), "Fe": ("FeS", 1, 1), "Pb": ("PbS", 1, 1), "Zn": ("ZnS", 1, 1),
        "Mn": ("MnS", 1, 1), "Cd": ("CdS", 1, 1), "Ni": ("NiS", 1, 1), "Co": ("CoS", 1, 1), "Mo": ("MoS2", 1, 2),
        "Bi": ("Bi2S3", 2, 3), "Sb": ("Sb2S3", 2, 3),
    }
)  # fmt: skip
"""The plain sulphide of a metal, and how many atoms of metal and of sulphur are in one formula unit."""
_LEAVES_WITH_SULPHUR = frozenset({"As", "S", "Hg"})
PLAIN_SULPHIDES = frozenset(name for name, _, _ in _SULPHIDES.values())
"""What stays when the labile part has gone."""


@dataclass(frozen=True, slots=True)
class Stages:
    """One gram of mineral raw, without its labile part (None where it has none), and burnt [g/g].

    `turn` is the share of its sulphur and arsenic atoms that is labile: the conversion at which the first stage ends.
    """

    raw: Roasted
    labile_gone: Roasted | None
    burnt: Roasted
    turn: float


@cache
def stages(mineral: Mineral) -> Stages:
    """The stages in which one gram of the mineral burns [g/g]."""
    raw = Roasted(MappingProxyType({mineral.formula: 1.0}), MappingProxyType({}), 0.0)
    core, turn = _core(mineral)
    return Stages(raw, _without_labile(mineral, core) if core else None, roasted(mineral), turn)


@cache
def plain_sulphides(mineral: Mineral) -> Mapping[str, float]:
    """Plain sulphides that one gram of a sulphide mineral can be thought of as, labile sulphur and arsenic aside [g/g].

    A sulphide of arsenic alone counts as As2S3; what is no sulphide, or holds too little sulphur, gives none.
    """
    atoms = mineral.read.atoms
    if set(atoms) == {"As", "S"}:
        return MappingProxyType({"As2S3": 1.0})
    core, _ = _plain(mineral)
    return MappingProxyType({name: n * molar_mass(name) / mineral.read.mass for name, n in core.items()})


def _core(mineral: Mineral) -> tuple[dict[str, float], float]:
    """Plain sulphides that one mole leaves [mol], and the labile share of its sulphur and arsenic atoms."""
    core, labile = _plain(mineral)
    if not core or labile < 1e-9:
        return {}, 0.0
    atoms = mineral.read.atoms
    return core, labile / (atoms["S"] + atoms.get("As", 0.0))


def _plain(mineral: Mineral) -> tuple[dict[str, float], float]:
    """Plain sulphides in one mole [mol], and its sulphur and arsenic beyond them [mol]."""
    atoms = mineral.read.atoms
    sulphur, metals = atoms.get("S", 0.0), {s: n for s, n in atoms.items() if s in _SULPHIDES}
    if sulphur <= 0.0 or not metals or not set(atoms) <= _SULPHIDES.keys() | _LEAVES_WITH_SULPHUR:
        return {}, 0.0
    core = {_SULPHIDES[symbol][0]: n / _SULPHIDES[symbol][1] for symbol, n in metals.items()}
    spare = sulphur - sum(n / _SULPHIDES[symbol][1] * _SULPHIDES[symbol][2] for symbol, n in metals.items())
    return (core, spare + atoms.get("As", 0.0)) if spare > -1e-9 else ({}, 0.0)


def _without_labile(mineral: Mineral, core: Mapping[str, float]) -> Roasted:
    atoms, mass = mineral.read.atoms, mineral.read.mass
    held = sum(n * formula(name).atoms["S"] for name, n in core.items())
    gases = {"SO2": atoms["S"] - held, "As4O6": atoms.get("As", 0.0) / 4.0, "Hg": atoms.get("Hg", 0.0)}
    oxygen = 2.0 * gases["SO2"] + 6.0 * gases["As4O6"]
    return Roasted(
        MappingProxyType({name: n * molar_mass(name) / mass for name, n in core.items()}),
        MappingProxyType({name: n * molar_mass(name) / mass for name, n in gases.items() if n > 1e-12}),
        oxygen * atomic_mass("O") / mass,
    )


@cache
def sulphated(element: str) -> Roasted:
    """One mole of a burnt metal taking up SO2 to sulphate [g/mol metal]: what appears, less what goes."""
    row = next(s for s in sulphates() if s.element == element)
    return _change(
        {row.oxide: -1.0 / formula(row.oxide).atoms[element], row.sulphate: 1.0 / formula(row.sulphate).atoms[element]},
        {"SO2": -formula(row.sulphate).atoms["S"] / formula(row.sulphate).atoms[element]},
    )


@cache
def arsenate_kept() -> Roasted:
    """One mole of arsenic kept as arsenate instead of leaving as As4O6 [g/mol]."""
    return _change({"As2O5": 0.5}, {"As4O6": -0.25})


@cache
def antimony_fumed() -> Roasted:
    """One mole of antimony leaving as Sb4O6 instead of staying as Sb2O4 [g/mol]."""
    return _change({"Sb2O4": -0.5}, {"Sb4O6": 0.25})


@cache
def left_magnetic() -> Roasted:
    """One mole of iron left as Fe3O4 instead of Fe2O3 [g/mol]."""
    return _change({"Fe2O3": -0.5, "Fe3O4": 1.0 / 3.0}, {})


def _change(solids: Mapping[str, float], gases: Mapping[str, float]) -> Roasted:
    oxygen = sum(n * formula(name).atoms.get("O", 0.0) for part in (solids, gases) for name, n in part.items())
    return Roasted(
        MappingProxyType({name: n * molar_mass(name) for name, n in solids.items()}),
        MappingProxyType({name: n * molar_mass(name) for name, n in gases.items()}),
        oxygen * atomic_mass("O"),
    )
