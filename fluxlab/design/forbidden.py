"""Substances that never go into a furnace of this kind, told from formula and name."""

import re

from fluxlab.design.recipe import Shelf
from fluxlab.materials.flux_types import ByFormula, ByParts, Component

# Ammonium, chlorates, perchlorates; peroxides; powders of aluminium, magnesium and zinc.
_IN_FORMULA = re.compile(r"NH4|ClO[34]")
_WHOLE = frozenset({"Na2O2", "K2O2", "BaO2", "CaO2", "H2O2", "MgO2", "Al", "Mg", "Zn"})
_NAMES = re.compile(
    r"ammoni|\bchlorate|perchlorate|peroxide|(alumini?um|magnesium|zinc)\s+(powder|dust|filings|turnings|metal)"
    r"|sal[- ]ammoniac|thermit",
    re.IGNORECASE,
)


def is_forbidden(component: Component, shelf: Shelf, above: frozenset[str] = frozenset()) -> bool:
    """Whether a flux, or a part of a jar, is one of the substances that the caution rule names."""
    if "forbidden" in component.tags or _NAMES.search(component.name):
        return True
    made_of = component.made_of
    if isinstance(made_of, ByFormula):
        text = made_of.formula.replace(" ", "")
        return text in _WHOLE or _IN_FORMULA.search(text) is not None
    if isinstance(made_of, ByParts) and component.uid not in above:
        seen = above | {component.uid}
        parts = (shelf.flux(part.flux) for part in made_of.parts)
        return any(part is not None and is_forbidden(part, shelf, seen) for part in parts)
    return False
