"""The lead of a charge as a linear row for the solver, around a melt that is known already.

What sulphides throw down bends with soda and quartz, and nitre's efficiency with them. The row takes the tangent of the
first and the second as it stands at the last melt, so that a solver that goes round a few times runs into the model.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fluxlab.fusion.litharge import sulphide_lead
from fluxlab.fusion.melt import Melt, acid_coefficients, alkali_coefficients
from fluxlab.fusion.nitre import NITRATES, nitrate_power
from fluxlab.materials.oxides import Vec


@dataclass(frozen=True, slots=True, eq=False)
class LeadRow:
    """Lead that comes down, linear in the melt [g Pb]: constant + per_oxide · oxides - nitrate · grams of nitrate.

    `per_oxide` [g Pb per mol] stands in the order of the oxide basis, `nitrate` [g Pb per g] by formula.
    """

    constant: float
    per_oxide: Vec
    nitrate: Mapping[str, float]


def lead_row(sulphides: Mapping[str, float], melt: Melt) -> LeadRow:
    """The row of the lead that sulphides [g] throw down and nitrates keep up, around this melt [g Pb]."""
    found = sulphide_lead(sulphides, melt)
    constant = found.lead - found.by_alkali * melt.alkali - found.by_acid * melt.acid
    per_oxide = found.by_alkali * alkali_coefficients() + found.by_acid * acid_coefficients()
    return LeadRow(constant, per_oxide, MappingProxyType({salt: nitrate_power(salt, melt) for salt in NITRATES}))
