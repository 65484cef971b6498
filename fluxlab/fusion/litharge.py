"""Sulphides under litharge: the lead that a charge throws down.

One model for every mineral. The oxygen that a sulphide takes is stoichiometry, with its sulphur shared between dioxide
and sulphate by `sulphate`; nitre gives oxygen by its efficiency in the slag (`nitre`); reducers and other oxidisers
count as the lead that they throw down or keep up. No more lead comes down than there is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from fluxlab.fusion.burning import burning
from fluxlab.fusion.currency import LEAD_PER_OXYGEN, LITHARGE_PER_LEAD
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NitreConstants, nitrate_oxygen, nitre_efficiency
from fluxlab.fusion.sulphate import Sulphate, SulphateConstants, sulphate, sulphate_constants
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.materials.formulas import atomic_mass, formula


@dataclass(frozen=True, slots=True)
class SulphideLead:
    """Lead that sulphides throw down, their own lead counted [g Pb], and what it rests on.

    `by_alkali` and `by_acid` [g Pb per mol] say how it changes with the alkali and the acid of the melt. `spread`
    [g Pb] is one standard deviation.
    """

    lead: float
    spread: float
    by_alkali: float
    by_acid: float
    held: Sulphate


@dataclass(frozen=True, slots=True)
class LithargeFusion:
    """Lead button of a fusion under litharge with its likely range [g Pb].

    `thrown_down` by sulphides and reducers and `kept_up` by nitre and other oxidisers [g Pb]; `available` [g Pb] is in
    the charge. `efficiency` of the nitre [-], `sulphate_share` of the sulphur [mol/mol].
    """

    lead: float
    low: float
    high: float
    thrown_down: float
    kept_up: float
    available: float
    efficiency: float
    sulphate_share: float


def sulphide_lead(
    sulphides: Mapping[str, float], melt: Melt, constants: SulphateConstants | None = None
) -> SulphideLead:
    """Lead that sulphides [g], by formula, throw down from litharge in this melt [g Pb]."""
    c = constants or sulphate_constants()
    held = sulphate(sulphides, melt, c)
    oxygen = more_per_alkali = weighed = 0.0
    for mineral, grams in sulphides.items():
        each = burning(mineral)
        moles = grams / formula(mineral).mass
        more = each.sulphur + each.more_arsenic
        oxygen += moles * (each.oxygen + held.shares.get(mineral, 0.0) * more)
        claim = moles * (each.sulphur + c.base_per_arsenic * each.arsenic)
        more_per_alkali += moles * more
        weighed += claim
    lead = oxygen * atomic_mass("Pb")
    per_mole = more_per_alkali / weighed * atomic_mass("Pb") if weighed > 0.0 else 0.0
    return SulphideLead(lead, c.miss * lead, held.by_alkali * per_mole, held.by_acid * per_mole, held)


def litharge_fusion(
    sulphides: Mapping[str, float],
    melt: Melt,
    litharge: float,
    nitrates: Mapping[str, float] | None = None,
    other: float = 0.0,
    other_spread: float = 0.0,
    sulphate_set: SulphateConstants | None = None,
    nitre_set: NitreConstants | None = None,
) -> LithargeFusion:
    """Lead button of sulphides [g] under litharge [g PbO] with nitrates [g] [g Pb].

    `melt` counts the alkali of soda, borax and nitrates. `other` [g Pb] is what reducers throw down less what oxidisers
    other than nitrates keep up, `other_spread` [g Pb] its standard deviation.
    """
    burnt = sulphide_lead(sulphides, melt, sulphate_set)
    works = nitre_efficiency(melt, nitre_set)
    full = nitrate_oxygen(nitrates or {}) * LEAD_PER_OXYGEN
    nitre_spread = full * (works.high - works.low) / 2.0
    own = sum(grams / formula(m).mass * burning(m).lead for m, grams in sulphides.items()) * atomic_mass("Pb")
    available = litharge / LITHARGE_PER_LEAD + own
    net = burnt.lead + other - full * works.value
    spread = NINE_IN_TEN * sqrt(burnt.spread**2 + nitre_spread**2 + other_spread**2)
    lead, low, high = (min(max(net + off, 0.0), available) for off in (0.0, -spread, spread))
    sulphur = sum(grams / formula(m).mass * burning(m).sulphur for m, grams in sulphides.items())
    in_sulphate = sum(
        grams / formula(m).mass * burning(m).sulphur * burnt.held.shares.get(m, 0.0) for m, grams in sulphides.items()
    )
    return LithargeFusion(
        lead,
        low,
        high,
        burnt.lead + max(other, 0.0),
        full * works.value + max(-other, 0.0),
        available,
        works.value,
        in_sulphate / sulphur if sulphur > 0.0 else 0.0,
    )
