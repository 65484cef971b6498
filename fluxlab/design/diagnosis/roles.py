"""Which flux of the shelf does what: the row that a recipe has already is taken before another."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from fluxlab.design.recipe import Work
from fluxlab.materials.flux_types import ByFormula, Component

_FORMULAS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "silica": ("SiO2",),
        "soda": ("Na2CO3",),
        "borax": ("Na2B4O7",),
        "fluorspar": ("CaF2",),
        "litharge": ("PbO",),
        "iron": ("Fe",),
        "charcoal": ("C",),
        "flour": ("C6H10O5",),
        "nitre": ("KNO3", "NaNO3"),
    }
)


def flux_for(work: Work, role: str) -> Component | None:
    """The flux that plays a role: a row of the recipe, else one on the shelf, else None."""
    return _first(work, lambda c: isinstance(c.made_of, ByFormula) and c.made_of.formula in _FORMULAS[role])


def reducer(work: Work) -> Component | None:
    """The reducer of the recipe, else charcoal or flour from the shelf."""
    used = {line.flux for line in work.recipe.lines}
    mine = [c for c in work.shelf.fluxes if c.uid in used and "reducer" in c.tags and c.lead_power > 0.0]
    return mine[0] if mine else flux_for(work, "charcoal") or flux_for(work, "flour")


def _first(work: Work, fits: Callable[[Component], bool]) -> Component | None:
    found = [c for c in work.shelf.fluxes if fits(c)]
    used = {line.flux for line in work.recipe.lines if not line.hidden}
    return next((c for c in found if c.uid in used), found[0] if found else None)
