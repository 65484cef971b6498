"""Where the sulphur of a charge goes, and what would keep it out of the matte."""

from collections.abc import Mapping

from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.litharge import sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import nitre_efficiency
from fluxlab.fusion.pot_types import SulphurFate
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphate import Sulphate
from fluxlab.fusion.sulphate_left import SulphateLeft
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import atomic_mass, formula

_SODA = formula("Na2CO3").mass
_OXYGEN_PER_SULPHUR = 3.0 * atomic_mass("O") / atomic_mass("S")
"""Oxygen that burns iron sulphide to FeO and SO2, over its sulphur [g/g]."""


def sulphur_of(sulphides: Mapping[str, float]) -> float:
    """Sulphur in sulphides [g], by formula [g]."""
    return sum(g * formula(m).mass_fractions.get("S", 0.0) for m, g in sulphides.items())


def matte_sulphur(redox: Redox, sulphate_sulphur: float, tables: Tables | None = None, doubt: float = 0.0) -> Estimate:
    """Sulphur that metals may take up as matte [g]: of sulphide that nothing burnt and of sulphate brought back.

    The range lets more sulphate come back than the balance says, up to the part that can at all, and more sulphide stay
    unburnt, up to all of it. `doubt` [g S] is how much more sulphide than the balance counts with there may be: of it
    is left what the oxygen that is ready for sulphide, and has nothing to burn so far, does not reach.
    """
    left, back = sulphur_of(redox.unburnt), brought_back(redox, sulphate_sulphur)
    figures = tables or shipped_tables()
    off = figures.sulphur["spread"]
    most: float = max(off["more"] * back, figures.redox["sulphates"]["share"] * sulphate_sulphur)
    unburnt = min(off["more"] * left, left + sulphur_of(redox.burnt))
    more = max(doubt - _spare(redox) / _OXYGEN_PER_SULPHUR, 0.0)
    return Estimate(left + back, off["less"] * (left + back), unburnt + more + min(most, sulphate_sulphur))


def _spare(redox: Redox) -> float:
    """Oxygen ready for sulphide that found none to burn [g O]."""
    taken = sum(oxygen for name, oxygen in redox.by_source.items() if name not in ("pot wall", "metallic iron"))
    return max(redox.reach - taken, 0.0)


def brought_back(redox: Redox, sulphate_sulphur: float) -> float:
    """Sulphur of sulphates [g] that comes back as sulphide [g]."""
    return min(redox.brought_back, sulphate_sulphur)


def sulphur_fate(
    redox: Redox,
    held: Sulphate,
    salts: SulphateLeft,
    sulphate_sulphur: float,
    melt: Melt,
    in_matte: float,
    layer: float,
    iron: Estimate,
    tables: Tables | None = None,
) -> SulphurFate:
    """Where sulphur goes [g S]: `in_matte` is what the matte holds, a `layer` [g] in all.

    `iron` [g] in all would keep it out of there. `held` says what soda keeps of the sulphide that burns, `salts`
    what becomes of sulphates that stay sulphates.
    """
    as_sulphate = sum(sulphur_of({m: g}) * held.shares.get(m, 0.0) for m, g in redox.burnt.items())
    burnt, left = sulphur_of(redox.burnt), sulphur_of(redox.unburnt)
    back = brought_back(redox, sulphate_sulphur)
    return SulphurFate(
        total=burnt + left + sulphate_sulphur,
        dioxide=burnt - as_sulphate + salts.split,
        split=salts.split,
        sulphate=as_sulphate + salts.held,
        matte=in_matte,
        layer=layer,
        stays=sulphate_sulphur - back - salts.held - salts.split,
        free=left + back - in_matte,
        soda_used=(held.alkali + salts.alkali) * _SODA,
        iron_wanted=iron,
        nitre_wanted=_nitre_for(redox.unburnt, melt, tables or shipped_tables()),
    )


def _nitre_for(unburnt: Mapping[str, float], melt: Melt, figures: Tables) -> float:
    """Nitre that burns so much sulphide and its own lead to litharge [g KNO3]."""
    oxygen = sulphide_lead(unburnt, melt, figures.sulphate).lead / LEAD_PER_OXYGEN
    return oxygen / (oxygen_demand("KNO3") * nitre_efficiency(melt, figures.nitre).value)


def dioxide_moles(fate: SulphurFate) -> tuple[float, float]:
    """Sulphur dioxide that leaves, of sulphide that burns and of sulphate that splits [mol]."""
    return (fate.dioxide - fate.split) / atomic_mass("S"), fate.split / atomic_mass("S")
