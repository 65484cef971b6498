"""Facts about fluxes that caution rules ask for and no trade tag holds."""

from collections.abc import Iterable

from fluxlab.design.recipe import Shelf
from fluxlab.materials.flux_types import ByFormula, ByParts, Component


def sand(rows: Iterable[tuple[Component, float]], shelf: Shelf) -> tuple[str, ...]:
    """Names of the fluxes among rows of (flux, mass [g]) that are or hold crystalline silica."""
    return tuple(component.name for component, grams in rows if grams > 0.0 and _is_sand(component, shelf, 4))


def _is_sand(component: Component, shelf: Shelf, depth: int) -> bool:
    made_of = component.made_of
    if isinstance(made_of, ByFormula):
        return made_of.formula.replace(" ", "") == "SiO2"
    if depth == 0 or not isinstance(made_of, ByParts):
        return False
    parts = (shelf.flux(part.flux) for part in made_of.parts if part.likely > 0.0)
    return any(part is not None and _is_sand(part, shelf, depth - 1) for part in parts)
