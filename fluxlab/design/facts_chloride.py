"""Facts about chloride beside silver: how much there is, and what keeps it from the silver."""

from dataclasses import dataclass

from fluxlab.design.balance import Balance
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.materials.formulas import atomic_mass, formula

_HALOGENS = ("Cl", "Br", "I")
_ENOUGH = 2.0
"""Soda or reducer over the least that a silver chloride asks for, from which on it counts as kept from the silver: from
memory, practice gives two to three times the least."""


@dataclass(frozen=True, slots=True)
class Chloride:
    """Halides of ore and fluxes [g], and what keeps silver from them: `soda` [g of soda ash] or reducers that take so
    much `oxygen` [g O]. `reducing` [g O] is what the reducers and the iron of the charge take."""

    grams: float
    soda: float
    oxygen: float
    reducing: float


def chloride_of(found: Balance) -> Chloride:
    """Chloride of a charge [g] and what it asks for.

    No more silver can become chloride than there is of either: 2 AgCl + Na2CO3 = 2 Ag + 2 NaCl + CO2 + O2/2. Salts of
    the flux table count as common salt.
    """
    rows, x, feed = found.fluxes, found.x, found.feed
    salt = float(rows.content("chloride") @ x)
    moles = salt / formula("NaCl").mass + sum(feed.elements.get(s, 0.0) / atomic_mass(s) for s in _HALOGENS)
    bound = _ENOUGH * min(moles, feed.silver / atomic_mass("Ag"))
    return Chloride(
        grams=salt + sum(feed.elements.get(s, 0.0) for s in _HALOGENS),
        soda=bound / 2.0 * formula("Na2CO3").mass,
        oxygen=bound / 2.0 * atomic_mass("O"),
        reducing=float(rows.power.clip(min=0.0) @ x) / LEAD_PER_OXYGEN,
    )
