"""The partial roast as arrays: many roast states of one mix of minerals at once.

Everything is linear in the minerals once a state is given, save two limits: sulphates cannot take up more SO2 than
burns, and arsenates need a base. Both are straight cuts, so that nothing jumps.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.substance import molar_mass
from fluxlab.ore import roast_stages as stage
from fluxlab.ore.roast import Roasted, is_sulphate
from fluxlab.ore.roast_tables import burning, decompositions, sulphates

Arr = NDArray[np.float64]
METALS = ("Fe", "Cu", "Zn", "Mg", "Ag", "Pb", "Mn", "Ca")
"""Metals that the roast can leave as sulphate, in the order of every array of them."""
_SULPHUR = {metal: 0.5 if metal == "Ag" else 1.0 for metal in METALS}
_PER_ARSENIC_PENTOXIDE = {"Fe2O3": 1.0, "CaO": 1.0 / 3.0, "PbO": 1.0 / 3.0, "MgO": 1.0 / 3.0, "ZnO": 1.0 / 3.0}
_NOT_FREE = frozenset({"Si", "P", "W", "Ti", "Cr", "Al", "Mo"})
_NONE = 1e-30


@dataclass(frozen=True, slots=True, eq=False)
class Arrays:
    """What the minerals of a mix do in a roast, one entry per mineral; g or mol per gram of raw mineral.

    `metals` (minerals x METALS) [mol] can become sulphate; `burns`, `inert` and `carbonate` say which rule of the
    conversion holds; `bases` [mol As2O5] can hold arsenic.
    """

    minerals: tuple[Mineral, ...]
    burns: NDArray[np.bool_]
    inert: NDArray[np.bool_]
    carbonate: NDArray[np.bool_]
    turn: Arr
    core_mass: Arr
    burnt_mass: Arr
    sulphide_raw: Arr
    sulphide_core: Arr
    sulphate_raw: Arr
    sulphate_burnt: Arr
    arsenic_raw: Arr
    arsenic_burnt: Arr
    arsenic_freed: Arr
    antimony: Arr
    dioxide_core: Arr
    dioxide_burnt: Arr
    metals: Arr
    iron: Arr
    bases: Arr


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """Roast states, one per line: shares of the minerals [g/g], conversion of each, and the side reactions [0..1]."""

    shares: Arr
    conversion: Arr
    sulphate: Arr
    arsenate: Arr
    antimony_fumed: Arr
    magnetite: Arr


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """What each state leaves of one gram of mix, one line per state.

    `raw`, `labile_gone`, `burnt` are the shares of each mineral in its stages and `open` the share that sulphate can
    take hold of; `sulphate` and `arsenate` are the shares asked for as far as there was SO2 and a base for them.
    `calcine`, `sulphide_sulphur`, `sulphate_sulphur`, `arsenic` [g per g of mix].
    """

    raw: Arr
    labile_gone: Arr
    burnt: Arr
    open: Arr
    sulphate: Arr
    arsenate: Arr
    calcine: Arr
    sulphide_sulphur: Arr
    sulphate_sulphur: Arr
    arsenic: Arr


@dataclass(frozen=True, slots=True, eq=False)
class Detail:
    """One state mineral by mineral: `sulphated` (minerals x METALS), `arsenic_kept`, `antimony_fumed`, `magnetic`
    [mol per g of mineral] and `ratio` [g/g], what a gram of each mineral leaves."""

    sulphated: Arr
    arsenic_kept: Arr
    antimony_fumed: Arr
    magnetic: Arr
    ratio: Arr


@lru_cache(maxsize=128)
def arrays(minerals: tuple[Mineral, ...]) -> Arrays:
    """The roast of these minerals as arrays [g/g, mol/g]."""
    found = [stage.stages(m) for m in minerals]
    core = [s.labile_gone or s.raw for s in found]
    return Arrays(
        minerals=minerals,
        burns=np.array([m.name in burning() for m in minerals], dtype=bool),
        inert=np.array([m.name not in burning() and m.name not in decompositions() for m in minerals], dtype=bool),
        carbonate=np.array([{"C", "O"} <= m.read.atoms.keys() for m in minerals], dtype=bool),
        turn=np.array([s.turn for s in found]),
        core_mass=np.array([c.mass for c in core]),
        burnt_mass=np.array([s.burnt.mass for s in found]),
        sulphide_raw=np.array([_sulphur(s.raw, False) for s in found]),
        sulphide_core=np.array([_sulphur(c, False) for c in core]),
        sulphate_raw=np.array([_sulphur(s.raw, True) for s in found]),
        sulphate_burnt=np.array([_sulphur(s.burnt, True) for s in found]),
        arsenic_raw=np.array([_held(s.raw, "As") for s in found]),
        arsenic_burnt=np.array([_held(s.burnt, "As") for s in found]),
        arsenic_freed=np.array([4.0 * _moles(s.burnt.gases, "As4O6") for s in found]),
        antimony=np.array([2.0 * _moles(s.burnt.solids, "Sb2O4") for s in found]),
        dioxide_core=np.array([_moles(c.gases, "SO2") for c in core]),
        dioxide_burnt=np.array([_moles(s.burnt.gases, "SO2") for s in found]),
        metals=np.array([_metals(m, s.burnt) for m, s in zip(minerals, found, strict=True)]).reshape(-1, len(METALS)),
        iron=np.array([_iron(m, s.burnt) for m, s in zip(minerals, found, strict=True)]),
        bases=np.array([_bases(m, s.burnt) for m, s in zip(minerals, found, strict=True)]),
    )


def outcome(a: Arrays, s: States) -> Outcome:
    """What the states leave of the mix, per gram."""
    m, x = _molar(), s.shares
    raw, burnt = _burning(a, s.conversion)
    part = np.where(a.carbonate, 1.0, burnt)
    room = (x * part) @ a.metals
    xb, core = x * burnt, 1.0 - raw - burnt
    demand = (room * s.sulphate) @ m.sulphur
    supply = (core * x) @ a.dioxide_core + xb @ a.dioxide_burnt
    psi = s.sulphate * np.minimum(1.0, supply / np.maximum(demand, _NONE))[:, None]
    for i in np.flatnonzero(a.carbonate):
        # A carbonate that takes up SO2 has given off its CO2, however cold it stayed.
        held = (psi * (a.metals[i] > 0.0)).max(axis=1)
        burnt[:, i] = 1.0 - (1.0 - s.conversion[:, i]) * (1.0 - held)
        raw[:, i] = 1.0 - burnt[:, i]
        core[:, i] = 0.0
    xb, xc, xr = x * burnt, x * core, x * raw
    freed, bases = xb @ a.arsenic_freed, 2.0 * xb @ a.bases
    arsenate = s.arsenate * np.minimum(1.0, bases / np.maximum(s.arsenate * freed, _NONE))
    made = room * psi
    magnetic = np.maximum(xb @ a.iron - made[:, 0], 0.0) * s.magnetite
    return Outcome(
        raw, core, burnt, part, psi, arsenate,
        calcine=xr.sum(axis=1) + xc @ a.core_mass + xb @ a.burnt_mass + made @ m.gain
        + arsenate * freed * m.kept + s.antimony_fumed * (xb @ a.antimony) * m.fumed + magnetic * m.magnetic,
        sulphide_sulphur=xr @ a.sulphide_raw + xc @ a.sulphide_core,
        sulphate_sulphur=xr @ a.sulphate_raw + xb @ a.sulphate_burnt + made @ m.sulphur * m.atom,
        arsenic=xr @ a.arsenic_raw + xb @ a.arsenic_burnt + arsenate * freed * m.arsenic,
    )  # fmt: skip


def detail(a: Arrays, s: States, o: Outcome) -> Detail:
    """The first of the states, mineral by mineral."""
    m, burnt = _molar(), o.burnt[0]
    sulphated = o.open[0][:, None] * a.metals * o.sulphate[0]
    arsenic = burnt * a.arsenic_freed * o.arsenate[0]
    fumed = burnt * a.antimony * s.antimony_fumed[0]
    magnetic = np.maximum(burnt * a.iron - sulphated[:, 0], 0.0) * s.magnetite[0]
    ratio = (
        o.raw[0] + o.labile_gone[0] * a.core_mass + burnt * a.burnt_mass
        + sulphated @ m.gain + arsenic * m.kept + fumed * m.fumed + magnetic * m.magnetic
    )  # fmt: skip
    return Detail(sulphated, arsenic, fumed, magnetic, ratio)


def _burning(a: Arrays, conversion: Arr) -> tuple[Arr, Arr]:
    """Raw and burnt share of each mineral: the labile part goes first, then the rest burns."""
    turn = np.where(a.turn > 0.0, a.turn, 1.0)
    raw = 1.0 - np.minimum(1.0, conversion / turn)
    burnt = np.where(
        a.turn > 0.0, np.maximum(0.0, conversion - turn) / np.where(turn < 1.0, 1.0 - turn, 1.0), conversion
    )
    return raw, burnt


@dataclass(frozen=True, slots=True, eq=False)
class _Molar:
    """Gains of mass and masses per mole of the side reactions [g/mol]."""

    sulphur: Arr
    gain: Arr
    kept: float
    fumed: float
    magnetic: float
    atom: float
    arsenic: float


@lru_cache(maxsize=1)
def _molar() -> _Molar:
    return _Molar(
        sulphur=np.array([_SULPHUR[metal] for metal in METALS]),
        gain=np.array([stage.sulphated(metal).mass for metal in METALS]),
        kept=stage.arsenate_kept().mass,
        fumed=stage.antimony_fumed().mass,
        magnetic=stage.left_magnetic().mass,
        atom=atomic_mass("S"),
        arsenic=atomic_mass("As"),
    )


def _moles(part: object, species: str) -> float:
    grams = part.get(species, 0.0)  # type: ignore[attr-defined]
    return float(grams) / molar_mass(species)


def _held(part: Roasted, element: str) -> float:
    return sum(g * formula(name).mass_fractions.get(element, 0.0) for name, g in part.solids.items())


def _sulphur(part: Roasted, as_sulphate: bool) -> float:
    """Sulphur of the solids, that of sulphates or the other [g]."""
    return sum(
        g * formula(name).mass_fractions.get("S", 0.0)
        for name, g in part.solids.items()
        if is_sulphate(formula(name).atoms) == as_sulphate
    )


def _metals(mineral: Mineral, burnt: Roasted) -> list[float]:
    """Metals of a sulphide or a carbonate that the roast can leave as sulphate [mol]."""
    atoms = mineral.read.atoms
    if not ({"C", "O"} <= atoms.keys() or ("S" in atoms and "O" not in atoms)):
        return [0.0] * len(METALS)
    oxides = {row.element: row.oxide for row in sulphates()}
    return [_moles(burnt.solids, oxides[metal]) * formula(oxides[metal]).atoms[metal] for metal in METALS]


def _iron(mineral: Mineral, burnt: Roasted) -> float:
    """Iron that the roast makes into oxide [mol]."""
    atoms = mineral.read.atoms
    fresh = "O" not in atoms or {"C", "O"} <= atoms.keys()
    return 2.0 * _moles(burnt.solids, "Fe2O3") if fresh else 0.0


def _bases(mineral: Mineral, burnt: Roasted) -> float:
    """Arsenic pentoxide that the free bases can hold [mol]."""
    if _NOT_FREE & mineral.read.atoms.keys():
        return 0.0
    return sum(_moles(burnt.solids, oxide) * each for oxide, each in _PER_ARSENIC_PENTOXIDE.items())
