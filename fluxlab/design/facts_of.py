"""The caution rules' facts, gathered from a solved recipe."""

from fluxlab.design.balance import Balance
from fluxlab.design.facts import Facts
from fluxlab.design.forbidden import is_forbidden
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import FillReport
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, Vec

NITRE_ENERGY = 2.5
"""Energy of nitre with enough fuel [kJ per g of nitre]: computed from heats of formation, CRC Handbook."""
_BURNS = ("reducer", "iron")


def facts_of(work: Work, found: Balance, fill: FillReport | None) -> Facts:
    """What the rules ask about this plan. With equal feeds every share is the same in each of them."""
    recipe, feed, rows, x = work.recipe, found.feed, found.fluxes, found.x
    pot = work.shelf.crucible(recipe.crucible)
    total = feed.charge + float(x.sum())
    flux = float(rows.is_flux @ x)
    nitre = float(rows.content("nitrate") @ x)
    share = 100.0 * nitre / total if total > 0.0 else 0.0
    fluoride = float(rows.content("fluoride") @ x)
    return Facts(
        route=recipe.route,
        dry=recipe.dry,
        moisture=100.0 * feed.water / feed.charge if feed.charge > 0.0 else 0.0,
        mould_preheat=recipe.mould_preheat,
        heap_fraction=fill.loose_fraction if fill else None,
        foam_fraction=fill.foam_fraction if fill else None,
        feeds=max(1, recipe.feeds),
        pot_material=pot.material if pot else "",
        nitre=nitre,
        nitre_share=share,
        nitre_energy=_nitre_energy(found, nitre, total),
        reducers=_named(found, *_BURNS),
        raw_sulphide=feed.sulphide,
        raw_sulphide_share=100.0 * feed.sulphide / feed.charge if feed.charge > 0.0 else 0.0,
        litharge=float((rows.content("lead")) @ x),
        forbidden=tuple(c.name for c in rows.components if is_forbidden(c, work.shelf)),
        mercury=feed.elements.get("Hg", 0.0) + feed.raw_elements.get("Hg", 0.0),
        arsenic=max(feed.raw_elements.get("As", 0.0), feed.arsenic),
        lead=feed.lead + float(rows.Y[INDEX["PbO"]] @ x) * atomic_mass("Pb"),
        fluorspar_share=100.0 * fluoride / flux if flux > 0.0 else 0.0,
        hydrated_with_fluoride=_named(found, "hydrated") if fluoride > 0.0 else (),
        scrap=recipe.scrap,
    )


def _named(found: Balance, *tags: str) -> tuple[str, ...]:
    """Names of the rows that weigh something and hold fluxes of these tags."""
    held: Vec = sum((found.fluxes.content(tag) for tag in tags), start=0.0 * found.x) * found.x
    return tuple(c.name for c, grams in zip(found.fluxes.components, held, strict=True) if grams > 0.0)


def _nitre_energy(found: Balance, nitre: float, total: float) -> float:
    """Energy that nitre and fuel of one feed can set free [kJ per g of feed]."""
    if nitre <= 0.0 or total <= 0.0:
        return 0.0
    powers = found.fluxes.power
    nitrate = found.fluxes.content("nitrate") > 0.0
    gives = -float((powers * nitrate) @ found.x) / LEAD_PER_OXYGEN
    takes = float((powers.clip(min=0.0)) @ found.x) + max(found.setting.ore_lead, 0.0)
    fuel = takes / LEAD_PER_OXYGEN / gives if gives > 0.0 else 1.0
    return nitre * min(1.0, fuel) * NITRE_ENERGY / total
