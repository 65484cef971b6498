"""What keeps the sulphur of a charge out of the matte, in all: iron that binds it, or nitre that burns it."""

from collections.abc import Mapping

from fluxlab.fusion.currency import METAL_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NITRATES, nitre_efficiency
from fluxlab.fusion.redox import NOT_BY_IRON, nitre_oxygen_wanted
from fluxlab.fusion.redox_order import redox_data, sulphates, sulphur_in
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphur_fate import iron_wanted
from fluxlab.materials.estimate import Estimate

_HARDLY = 0.02
"""Iron for the sulphur over iron for the oxides, below which the sulphur hardly counts [g/g]; judgement."""


def iron_in_all(redox: Redox, iron: float, sulphate_sulphur: float, copper: float) -> Estimate:
    """Metallic iron that a charge asks for so that its sulphur ends as iron sulphide [g], with the usual excess.

    The oxides that iron reduces come first, sulphates that come back as sulphide among them; what `iron` [g] the
    balance `redox` was reckoned with makes no difference. `copper` [g] keeps its part of the sulphur.
    """
    steps = [m.demand for m in redox.met if m.demand.substance not in NITRATES]
    others = redox.supply - redox.given - iron * METAL_OXYGEN["Fe"]
    oxides = max(sum(d.oxygen for d in steps if d.substance not in NOT_BY_IRON) - max(others, 0.0), 0.0)
    back = sulphur_in(sum(d.oxygen for d in steps if d.substance in sulphates()))
    bound = iron_wanted(redox.unburnt, min(back, sulphate_sulphur), copper)
    row, reduces = redox_data()["iron"], oxides / METAL_OXYGEN["Fe"]
    # oxides alone ask for no iron; down to nothing it goes in a straight line, so that no recipe jumps
    part = min(bound / (_HARDLY * reduces), 1.0) if reduces > 0.0 else 1.0
    return Estimate(*(part * reduces + row[end] * bound for end in ("excess", "low", "high")))


def nitre_in_all(
    sulphides: Mapping[str, float], reducible: Mapping[str, float], melt: Melt, carbon: float = 0.0
) -> float:
    """Nitre that burns all sulphide of a charge, as potassium nitrate [g KNO3]; `carbon` [g O] burns along with it."""
    oxygen = nitre_oxygen_wanted(sulphides, reducible, melt, carbon)
    return oxygen / nitre_oxygen(melt)


def nitre_oxygen(melt: Melt) -> float:
    """Oxygen that a gram of potassium nitrate gives to the charge in this melt [g O/g]."""
    return oxygen_demand("KNO3") * nitre_efficiency(melt).value
