"""What a flux is made of, in the few words that a table cell has room for."""

from collections.abc import Callable
from dataclasses import replace

from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.numbers import exact
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component

Lookup = Callable[[str], Component | None]
MOST = 3


def in_words(component: Component, lookup: Lookup) -> str:
    """Formula, the main oxides of the analysis, or the parts of the jar."""
    made_of = component.made_of
    if isinstance(made_of, ByFormula):
        return typeset(made_of.formula)
    if isinstance(made_of, ByAnalysis):
        main = sorted(made_of.oxides, key=lambda pair: -pair[1])
        return _list([f"{typeset(name)} {exact(percent)}" for name, percent in main])
    return "jar of " + _list([_part_name(part.flux, lookup) for part in made_of.parts])


def _part_name(uid: str, lookup: Lookup) -> str:
    found = lookup(uid)
    return found.name if found else uid


def _list(items: list[str]) -> str:
    if not items:
        return "nothing yet"
    more = len(items) - MOST
    return ", ".join(items[:MOST]) + (f" and {more} more" if more > 0 else "")


def with_densities_of_parts(jar: Component, parts: ByParts, lookup: Lookup) -> Component:
    """The jar with bulk densities [g/cm3] at which its parts lie side by side, until somebody measures it."""
    found = [(part.likely, flux) for part in parts.parts if part.likely > 0 and (flux := lookup(part.flux))]
    mass = sum(share for share, _ in found)
    if not mass:
        return jar
    loose = mass / sum(share / flux.loose_density for share, flux in found)
    tapped = mass / sum(share / flux.tapped_density for share, flux in found)
    return replace(jar, loose_density=round(loose, 2), tapped_density=round(tapped, 2))


def kind_of(made_of: ByFormula | ByAnalysis | ByParts) -> str:
    """The key of the way in which a flux is described."""
    if isinstance(made_of, ByFormula):
        return "formula"
    return "analysis" if isinstance(made_of, ByAnalysis) else "parts"
