"""What keeps the sulphur of a charge out of the matte, in all: iron that binds it, or nitre that burns it."""

from collections.abc import Mapping

from fluxlab.fusion.currency import LEAD_PER_OXYGEN, METAL_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.litharge import sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NITRATES, nitre_efficiency
from fluxlab.fusion.redox import NOT_BY_IRON
from fluxlab.fusion.redox_order import sulphates, sulphur_in
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphur import IRON_PER_SULPHUR
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import atomic_mass, formula

_HOLDS = (("Fe", 1.0), ("Cu", 0.5), ("Zn", 1.0), ("Mn", 1.0))
"""Metals that keep their sulphur from metallic iron, with the sulphur atoms that one atom holds: the signs of the
exchange reactions at 1150 degC, computed; iron itself has it already."""


def iron_in_all(
    redox: Redox, iron: float, sulphate_sulphur: float, copper: float, tables: Tables | None = None
) -> Estimate:
    """Metallic iron that a charge asks for so that its sulphur ends as iron sulphide [g], with the usual excess.

    The oxides that iron reduces come first, sulphates that come back as sulphide among them; what `iron` [g] the
    balance `redox` was reckoned with makes no difference. `copper` [g] keeps its part of the sulphur.
    """
    steps = [m.demand for m in redox.met if m.demand.substance not in NITRATES]
    others = redox.supply - redox.given - iron * METAL_OXYGEN["Fe"]
    oxides = max(sum(d.oxygen for d in steps if d.substance not in NOT_BY_IRON) - max(others, 0.0), 0.0)
    back = sulphur_in(sum(d.oxygen for d in steps if d.substance in sulphates()))
    bound = iron_wanted(redox.unburnt, min(back, sulphate_sulphur), copper)
    data, reduces = (tables or shipped_tables()).redox, oxides / METAL_OXYGEN["Fe"]
    # oxides alone ask for no iron; down to nothing it goes in a straight line, so that no recipe jumps
    hardly = data["sulphur_trace"]["iron"] * reduces
    part = min(bound / hardly, 1.0) if hardly > 0.0 else 1.0
    return Estimate(*(part * reduces + data["iron"][end] * bound for end in ("excess", "low", "high")))


def iron_wanted(unburnt: Mapping[str, float], brought_back: float, copper: float) -> float:
    """Iron that takes up the sulphur of sulphides [g] and of sulphate brought back [g S] as FeS [g].

    What iron, copper, zinc and manganese of the same mineral hold stays theirs; other copper of the charge holds its
    part too, `copper` [g] being all of it.
    """
    free = brought_back / atomic_mass("S")
    spare_copper = copper / atomic_mass("Cu")
    for mineral, grams in unburnt.items():
        atoms = formula(mineral).atoms
        held = sum(atoms.get(metal, 0.0) * each for metal, each in _HOLDS)
        moles = grams / formula(mineral).mass
        free += moles * max(atoms.get("S", 0.0) - held, 0.0)
        spare_copper -= moles * atoms.get("Cu", 0.0)
    left = max(free - max(spare_copper, 0.0) / 2.0, 0.0)
    return left * atomic_mass("S") * IRON_PER_SULPHUR


def nitre_in_all(
    sulphides: Mapping[str, float], melt: Melt, carbon: float = 0.0, tables: Tables | None = None
) -> float:
    """Nitre that burns all sulphide of a charge, its lead too, as potassium nitrate [g KNO3].

    `carbon` [g O] is what reducers of the charge take: they burn along with the sulphide. What oxides hold is left to
    them: sulphide that took it would bring base metal down.
    """
    figures = tables or shipped_tables()
    asked = sulphide_lead(sulphides, melt, figures.sulphate).lead / LEAD_PER_OXYGEN
    oxygen: float = asked + carbon * min(asked / figures.redox["sulphur_trace"]["oxygen"], 1.0)
    return oxygen / (oxygen_demand("KNO3") * nitre_efficiency(melt, figures.nitre).value)
