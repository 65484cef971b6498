"""Limits of the lead that sulphides throw down, by the program's own burning of a mineral."""

from fluxlab.fusion.burning import burning
from fluxlab.materials.formulas import atomic_mass, formula


def power_limits(mineral: str) -> tuple[float, float]:
    """Lead with all sulphur as dioxide, and with all as sulphate and arsenate, its own lead counted [g Pb per g]."""
    each, lead = burning(mineral), atomic_mass("Pb") / formula(mineral).mass
    return each.oxygen * lead, (each.oxygen + each.sulphur + each.more_arsenic) * lead
