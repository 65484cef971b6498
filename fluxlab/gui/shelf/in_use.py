"""Why a thing cannot leave the shelf: what on the bench or on the shelf still needs it."""

from fluxlab.design.recipe import Work
from fluxlab.materials.flux_types import ByParts


def flux_in_use(work: Work, uid: str) -> str:
    """What needs a flux, as the sentence of a refusal; empty when nothing does."""
    component = work.shelf.flux(uid)
    name = component.name if component else uid
    if any(line.flux == uid for line in work.recipe.lines):
        return f"{name} is in the recipe on the bench. Take its row out of the flux table first."
    jars = [c.name for c in work.shelf.fluxes if isinstance(c.made_of, ByParts) and _holds(c.made_of, uid)]
    if jars:
        return f"{name} is a part of {', '.join(jars)}. Take it out of there first."
    if any(flux == uid for flux, _ in work.recipe.house):
        return f"{name} is in the house recipe that this one stays close to. Keep another one as house recipe first."
    return ""


def crucible_in_use(work: Work, uid: str) -> str:
    """The refusal to take away a pot, empty when it may go."""
    pot = work.shelf.crucible(uid)
    if pot is not None and work.recipe.crucible == uid:
        return f"{pot.name} is the pot of the recipe on the bench. Choose another pot on the Flux place first."
    return ""


def mould_in_use(work: Work, uid: str) -> str:
    """The refusal to take away a mould, empty when it may go."""
    mould = work.shelf.mould(uid)
    if mould is not None and work.recipe.mould == uid:
        return f"{mould.name} is the mould of the recipe on the bench. Choose another mould on the Flux place first."
    return ""


def _holds(jar: ByParts, uid: str) -> bool:
    return any(part.flux == uid for part in jar.parts)
