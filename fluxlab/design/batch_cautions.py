"""The caution rules for a jar of mixed flux that is weighed by itself, without a charge."""

from collections.abc import Sequence

from fluxlab.design.batch import BatchRow
from fluxlab.design.cautions import cautions
from fluxlab.design.facts import Facts
from fluxlab.design.facts_flux import sand
from fluxlab.design.forbidden import is_forbidden
from fluxlab.design.recipe import Shelf
from fluxlab.design.report_types import Caution
from fluxlab.design.ticket_rows import holds
from fluxlab.materials.flux_types import Component

_FUEL = ("reducer", "iron")


def batch_cautions(rows: Sequence[BatchRow], shelf: Shelf) -> tuple[Caution, ...]:
    """The rules that a dry mix of fluxes meets by itself, the gravest first.

    The jar counts as dry and without pot or mould; how much nitre a feed may hold is asked of the recipe that uses it.
    """
    parts = [(component, row.grams) for row in rows if (component := shelf.flux(row.flux)) and row.grams > 0.0]
    total = sum(grams for _, grams in parts)

    def having(tag: str) -> list[tuple[Component, float]]:
        return [(component, grams) for component, grams in parts if holds(component, tag, shelf)]

    def share(tag: str) -> float:
        return 100.0 * sum(grams for _, grams in having(tag)) / total if total > 0.0 else 0.0

    fluoride = share("fluoride")
    facts = Facts(
        route="",
        dry=True,
        moisture=0.0,
        mould_preheat=200.0,
        heap_fraction=None,
        swollen_fraction=None,
        feeds=1,
        pot_material="",
        nitre=0.0,
        nitre_share=share("nitrate"),
        nitre_energy=0.0,
        reducers=tuple(dict.fromkeys(component.name for tag in _FUEL for component, _ in having(tag))),
        raw_sulphide=0.0,
        raw_sulphide_share=0.0,
        litharge=0.0,
        forbidden=tuple(component.name for component, _ in parts if is_forbidden(component, shelf)),
        mercury=0.0,
        arsenic=0.0,
        lead=sum(grams for _, grams in having("lead")),
        fluorspar_share=fluoride,
        hydrated_with_fluoride=tuple(component.name for component, _ in having("hydrated")) if fluoride > 0.0 else (),
        scrap=False,
        silica=sand(parts, shelf),
    )
    return cautions(facts)
