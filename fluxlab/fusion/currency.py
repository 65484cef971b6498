"""The one currency of reduction and oxidation: oxygen, or the lead that it keeps up as litharge.

A reducer takes oxygen from the charge, an oxidiser gives it. The assayer reads the same thing as lead: one oxygen atom
more or less is one lead atom kept up or thrown down.
"""

from collections.abc import Iterable
from types import MappingProxyType

from fluxlab.materials.formulas import atomic_mass, formula

LEAD_PER_OXYGEN = atomic_mass("Pb") / atomic_mass("O")
"""Lead that goes with one gram of oxygen [g/g]."""

LITHARGE_PER_LEAD = formula("PbO").mass / atomic_mass("Pb")
"""Litharge that gives one gram of lead [g/g]."""

METAL_OXYGEN = MappingProxyType(
    {
        metal: oxygens * atomic_mass("O") / atomic_mass(metal)
        for metal, oxygens in (
            ("Zn", 1.0),
            ("Fe", 1.0),
            ("Pb", 1.0),
            ("Cu", 0.5),
            ("Sb", 1.5),
            ("As", 1.5),
            ("Sn", 2.0),
        )
    }
)
"""Oxygen that oxidises one gram of metal to ZnO, FeO, PbO, Cu2O, Sb2O3, As2O3, SnO2 [g/g]."""


def lead_of_oxygen(oxygen: float) -> float:
    """Lead [g] that goes with a mass of oxygen [g]."""
    return oxygen * LEAD_PER_OXYGEN


def net_lead(lines: Iterable[tuple[float, float]]) -> float:
    """Lead that lines of (mass [g], lead power [g/g]) throw down together, oxidisers taken off [g Pb]."""
    return sum(mass * power for mass, power in lines)


def theoretical_power(compound: str, oxygens: float) -> float:
    """Lead power of a pure compound that takes (negative: gives) oxygens per formula unit [g Pb per g].

    Raises what `formula` raises for a text that is no formula.
    """
    return oxygens * atomic_mass("Pb") / formula(compound).mass


def oxygen_to_oxidise(metals: Iterable[tuple[str, float]]) -> float:
    """Oxygen that oxidises masses [g] of metals [g O]; raises KeyError for a metal that is not in `METAL_OXYGEN`."""
    return sum(METAL_OXYGEN[metal] * mass for metal, mass in metals)
