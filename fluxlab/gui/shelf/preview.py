"""What 100 g of a flux give, as rows and sentences for the card beside the table."""

from collections.abc import Callable
from dataclasses import dataclass

from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.oxide_rows import OxideRow
from fluxlab.issue import Issue
from fluxlab.materials.flux_types import ByParts, Component

LITRES = 24.465
"""Volume of a gas at 25 degC and 1 atm [L/mol], ideal gas law."""


@dataclass(frozen=True, slots=True)
class Preview:
    """Oxides to the slag [g per 100 g], the other fates as (words, figure, unit) and what is wrong or doubtful."""

    oxides: tuple[OxideRow, ...]
    fates: tuple[tuple[str, str, str], ...]
    issues: tuple[Issue, ...]


def preview(component: Component, lookup: Callable[[str], Component | None]) -> Preview:
    """What 100 g of the flux as weighed give."""
    from fluxlab.materials import oxides
    from fluxlab.materials.fluxes import yields

    made = yields(component, lookup)
    rows = [
        OxideRow(name, 100 * m * n, 100 * m * low, 100 * m * high)
        for name, m, n, low, high in zip(
            oxides.OXIDES,
            oxides.MASS.tolist(),
            made.oxides.tolist(),
            made.low.tolist(),
            made.high.tolist(),
            strict=True,
        )
        if n > 1e-9
    ]
    fates = [("Slag oxides", shown(sum(row.percent for row in rows), 1), "g")]
    by_species: dict[str, tuple[float, float]] = {}
    for gas in made.gases:
        grams, moles = by_species.get(gas.species, (0.0, 0.0))
        by_species[gas.species] = (grams + gas.grams, moles + gas.moles)
    fates += [
        (f"{typeset(species)} gas, {shown(100 * moles * LITRES, 1)} L at 25 °C", shown(100 * grams, 1), "g")
        for species, (grams, moles) in by_species.items()
    ]
    if made.oxygen > 1e-9:
        fates.append(("Oxygen taken up", shown(100 * made.oxygen, 1), "g"))
    fates += [
        (f"{typeset(name)}, not in the slag model", shown(100 * grams, 1), "g") for name, grams in made.apart.items()
    ]
    if made.unaccounted > 5e-4:
        fates.append(("Impurity, counts as nothing", shown(100 * made.unaccounted, 1), "g"))
    if made.lead_power and isinstance(component.made_of, ByParts):
        words = "Lead it makes" if made.lead_power > 0 else "Lead it burns"
        fates.append((words, shown(100 * abs(made.lead_power), 0), "g"))
    return Preview(tuple(sorted(rows, key=lambda row: -row.percent)), tuple(fates), made.issues)
