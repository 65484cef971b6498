"""Facts about the sulphur of a charge: how much is sulphide, and how much of it iron and oxidisers can take."""

from fluxlab.design.balance import Balance
from fluxlab.fusion.burning import is_fuel
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.sulphur import IRON_PER_SULPHUR
from fluxlab.fusion.sulphur_wanted import iron_wanted
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import INDEX

_OXYGEN_PER_LITHARGE = atomic_mass("O") / formula("PbO").mass
_OXYGEN_PER_SULPHUR = 2.0 * atomic_mass("O") / atomic_mass("S")
"""Least oxygen that takes a gram of sulphide sulphur to sulphur dioxide, its metal staying metal [g/g]: computed. A
block that nobody may lift must not rest on a stricter figure than stoichiometry gives."""
_TOKEN = 0.1
"""Iron over what would make iron sulphide of all the sulphur, below which it is a token even where the sulphur is held
by iron, zinc, copper or manganese of its own [g/g]; judgement."""


def residual_sulphur(found: Balance) -> float:
    """Sulphide sulphur that neither metallic iron nor the oxidisers of the charge can take [g].

    Reducers use up oxygen before it can reach the sulphide. Iron takes what is not bound to the iron, copper, zinc and
    manganese of the ore itself: as much of it as `iron_asked` says takes all.
    """
    rows, x = found.fluxes, found.x
    iron = float(rows.content("iron") @ x)
    drives = rows.power * (rows.content("iron") <= 0.0)
    given = -float(drives.clip(max=0.0) @ x) / LEAD_PER_OXYGEN
    taken = float(drives.clip(min=0.0) @ x) / LEAD_PER_OXYGEN
    oxygen = max(0.0, given + litharge(found) * _OXYGEN_PER_LITHARGE - taken)
    left = max(0.0, found.feed.sulphide_sulphur - oxygen / _OXYGEN_PER_SULPHUR)
    if left <= 0.0 or iron <= 0.0:
        return left
    return left * max(0.0, 1.0 - iron / (iron_asked(found) * left))


def iron_asked(found: Balance) -> float:
    """Metallic iron that takes a gram of the charge's sulphide sulphur [g/g]; nothing without sulphide."""
    sulphur = found.feed.sulphide_sulphur
    if sulphur <= 0.0:
        return 0.0
    sulphides = {mineral: grams for mineral, grams in found.feed.fuel.items() if is_fuel(mineral)}
    return max(iron_wanted(sulphides, 0.0, found.feed.copper) / sulphur, _TOKEN * IRON_PER_SULPHUR)


def litharge(found: Balance) -> float:
    """Lead oxide that the rows bring [g PbO]."""
    return float(found.fluxes.content("lead") @ found.x)


def free_soda(found: Balance) -> float:
    """Soda of the rows that could take up sulphur, told as soda ash; what comes with borax is bound [g]."""
    rows = found.fluxes
    return float((rows.Y[INDEX["Na2O"]] - rows.borax_soda) @ found.x) * formula("Na2CO3").mass


def lead_sulphate_sulphur(found: Balance) -> float:
    """Sulphur of lead sulphate in the pot [g]."""
    return found.feed.reducible.get("PbSO4", 0.0) * atomic_mass("S") / formula("PbSO4").mass
