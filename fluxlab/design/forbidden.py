"""Substances that never go into a furnace of this kind, told from formula, ticks and name."""

import re

from fluxlab.design.recipe import Shelf
from fluxlab.materials.flux_types import ByParts, Component
from fluxlab.materials.trade_facts import evident

_NAMES = re.compile(
    r"ammoni|\bchlorate|perchlorate|peroxide|(alumini?um|magnesium|zinc)\s+(powder|dust|filings|turnings|metal)"
    r"|sal[- ]ammoniac|thermit",
    re.IGNORECASE,
)


def is_forbidden(component: Component, shelf: Shelf, above: frozenset[str] = frozenset()) -> bool:
    """Whether a flux, or a part of a jar, is one of the substances that the caution rule names."""
    if "forbidden" in evident(component) or _NAMES.search(component.name):
        return True
    made_of = component.made_of
    if isinstance(made_of, ByParts) and component.uid not in above:
        seen = above | {component.uid}
        parts = (shelf.flux(part.flux) for part in made_of.parts)
        return any(part is not None and is_forbidden(part, shelf, seen) for part in parts)
    return False
