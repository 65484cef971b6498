"""What it costs litharge to burn a sulphide: oxygen by stoichiometry, heat by heats of formation.

Burning here means: iron to FeO, copper to Cu2O, antimony to Sb2O3, arsenic to As2O3 and the other metals to the oxides
of the slag; sulphur to sulphur dioxide. Silver, gold, bismuth and mercury stay metal. The heat of it decides how
readily the dioxide leaves before soda can hold the sulphur (see `sulphate`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from fluxlab import resources
from fluxlab.fusion.reactions import BURNT_TO, burn
from fluxlab.materials.formulas import Formula, formula

_SIMPLE: tuple[tuple[str, str, float, float], ...] = (
    ("Mn", "MnS", 1, 1), ("Zn", "ZnS", 1, 1), ("Cd", "CdS", 1, 1), ("Mo", "MoS2", 1, 2), ("Cu", "Cu2S", 2, 1),
    ("Fe", "FeS", 1, 1), ("Co", "CoS", 1, 1), ("Ni", "NiS", 1, 1), ("Sn", "SnS", 1, 1), ("Pb", "PbS", 1, 1),
    ("Bi", "Bi2S3", 2, 3), ("Sb", "Sb2S3", 2, 3), ("As", "As2S3", 2, 3), ("Ag", "Ag2S", 2, 1), ("Hg", "HgS", 1, 1),
)  # fmt: skip
"""Simple sulphides in the order in which they take up sulphur: metal, sulphide, its metal and sulphur atoms."""


FUEL = frozenset({"S", "As", "Sb", "Se", "Te", "C"})
"""Elements one of which is in every mineral without oxygen that litharge or nitre burns; a native metal is none."""


@dataclass(frozen=True, slots=True)
class Burning:
    """One mole of a sulphide burnt.

    `oxygen` [mol O] is taken to the lower oxides and sulphur dioxide, `more_arsenic` [mol O] besides for arsenate in
    place of arsenious oxide; `sulphur`, `arsenic` and `lead` [mol] are in it. `heat` [kJ per mol S] is what litharge
    takes up to burn it, None without sulphur; `tabled` says that its own heat of formation was at hand.
    """

    oxygen: float
    more_arsenic: float
    sulphur: float
    arsenic: float
    lead: float
    heat: float | None
    tabled: bool


@cache
def burning(mineral: str) -> Burning:
    """What burning one mole of a sulphide, arsenide, telluride or carbon takes [mol O, kJ per mol S].

    A substance that holds oxygen takes nothing. Heats of formation at 25 degC stand in resources/fusion/formation.csv;
    a mineral that is not there counts as the simple sulphides that it is made of, an estimate.
    """
    read = formula(mineral)
    atoms = read.atoms
    if atoms.get("O", 0.0) > 0.0:
        return Burning(0.0, 0.0, 0.0, 0.0, 0.0, None, tabled=False)
    oxygen, held = (-burn(mineral, share).get("O", 0.0) for share in (0.0, 1.0))
    sulphur, arsenic = atoms.get("S", 0.0), atoms.get("As", 0.0)
    own, tabled = _own_heat(read)
    heat = None
    if sulphur > 0.0:
        lead = atoms.get("Pb", 0.0)
        made = sum(
            n / BURNT_TO[s][1] * _FORMATION[BURNT_TO[s][0]] for s, n in atoms.items() if s in BURNT_TO and s != "Pb"
        )
        heat = (made - own - (oxygen - lead) * _FORMATION["PbO"]) / sulphur
    return Burning(oxygen, held - oxygen - sulphur, sulphur, arsenic, atoms.get("Pb", 0.0), heat, tabled)


def is_fuel(mineral: str) -> bool:
    """Whether litharge and nitre burn a mineral: it holds no oxygen, but sulphur, arsenic, their like or carbon."""
    atoms = set(formula(mineral).atoms)
    return "O" not in atoms and bool(atoms & FUEL)


def _own_heat(mineral: Formula) -> tuple[float, bool]:
    """Heat of formation of a mineral [kJ/mol], and whether it was tabled."""
    for substance, heat in _FORMATION.items():
        known = formula(substance).atoms
        if set(known) == set(mineral.atoms):
            each = {symbol: mineral.atoms[symbol] / n for symbol, n in known.items()}
            scale = next(iter(each.values()))
            if all(abs(other - scale) < 1e-9 * scale for other in each.values()):
                return heat * scale, True
    left, heat = mineral.atoms.get("S", 0.0), 0.0
    for metal, sulphide, metals, sulphurs in _SIMPLE:
        moles = min(mineral.atoms.get(metal, 0.0) / metals, left / sulphurs)
        heat += moles * _FORMATION[sulphide]
        left -= moles * sulphurs
    return heat, False


_FORMATION: Mapping[str, float] = MappingProxyType(
    {row["substance"]: float(row["kj_per_mol"]) for row in resources.table("fusion/formation.csv")}
)
