"""The caution rules' facts, gathered from a solved recipe."""

from fluxlab.design import facts_ore as ore
from fluxlab.design import facts_sulphur as sulphur
from fluxlab.design.balance import Balance
from fluxlab.design.cautions.sulphur import SPEISS_PER_ARSENIC
from fluxlab.design.facts import Facts
from fluxlab.design.facts_chloride import chloride_of
from fluxlab.design.facts_flux import sand
from fluxlab.design.facts_pot import with_fluid, with_pot
from fluxlab.design.fluid_types import FluidReport
from fluxlab.design.forbidden import is_forbidden
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.pot_oxygen import metal_wanted
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import FillReport, MouldReport
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.gas import ROOM, gas_volume, steam
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import INDEX, Vec

NITRE_ENERGY = 2.5
"""Energy of nitre with enough fuel [kJ per g of nitre]: computed from heats of formation, CRC Handbook."""


def facts_of(
    work: Work,
    found: Balance,
    fill: FillReport | None,
    mould: MouldReport | None = None,
    pot: PotReport | None = None,
    fluid: FluidReport | None = None,
) -> Facts:
    """What the rules ask about this plan; without the reports of pot or melt their rules stay silent."""
    facts = _of_charge(work, found, fill, mould)
    facts = facts if pot is None else with_pot(facts, pot, found.feed.charge)
    return facts if fluid is None else with_fluid(facts, fluid)


def _of_charge(work: Work, found: Balance, fill: FillReport | None, mould: MouldReport | None) -> Facts:
    """What charge, fluxes and vessels tell. With equal feeds every share is the same in each of them."""
    recipe, feed, rows, x = work.recipe, found.feed, found.fluxes, found.x
    pot = work.shelf.crucible(recipe.crucible)
    total = feed.charge + float(x.sum())
    flux = float(rows.is_flux @ x)
    nitre = float(rows.content("nitrate") @ x)
    iron = float(rows.content("iron") @ x)
    fluoride = float(rows.content("fluoride") @ x)
    stubborn, stubborn_share = ore.stubborn(feed)
    so2 = None if feed.roast is None else feed.roast.gases.get("SO2", 0.0)
    planned = feed.roast is not None and recipe.roast.kind != "perfect"
    lead_sulphate = sulphur.lead_sulphate_sulphur(found)
    halide, limits = chloride_of(found), own_tables(recipe.pot_figures, recipe.route)

    def of_charge(grams: float) -> float:
        return 100.0 * grams / feed.charge if feed.charge > 0.0 else 0.0

    return Facts(
        route=recipe.route,
        # what goes in unroasted is as damp as the ore, and a moisture that cannot be is none that is known
        dry=recipe.dry and (feed.roast is not None or 0.0 <= recipe.ore.moisture < 100.0),
        moisture=of_charge(feed.water),
        mould_preheat=recipe.mould_preheat,
        heap_fraction=fill.loose_fraction if fill else None,
        swollen_fraction=fill.swollen_fraction if fill else None,
        feeds=max(1, recipe.feeds),
        pot_material=pot.material if pot else "",
        nitre=nitre,
        nitre_share=100.0 * nitre / total if total > 0.0 else 0.0,
        nitre_energy=_nitre_energy(found, nitre, total),
        reducers=_named(found, "reducer", "iron"),
        carbon=_named(found, "reducer"),
        raw_sulphide=feed.sulphide,
        raw_sulphide_share=of_charge(feed.sulphide),
        litharge=sulphur.litharge(found),
        forbidden=tuple(c.name for c in rows.components if is_forbidden(c, work.shelf)),
        mercury=feed.elements.get("Hg", 0.0) + feed.raw_elements.get("Hg", 0.0),
        arsenic=max(feed.raw_elements.get("As", 0.0), feed.arsenic),
        lead=feed.lead + float(rows.Y[INDEX["PbO"]] @ x) * atomic_mass("Pb"),
        fluorspar_share=100.0 * fluoride / flux if flux > 0.0 else 0.0,
        hydrated_with_fluoride=_named(found, "hydrated") if fluoride > 0.0 else (),
        scrap=recipe.scrap,
        water=feed.water,
        steam=steam("", feed.water, recipe.pour_temperature).hot if feed.water > 0.0 else None,
        mould_fraction=mould.fraction if mould else None,
        mould_freeboard=mould.freeboard if mould else None,
        gas_formers=bool(fill and fill.gas_formers),
        iron=iron,
        antimony=max(feed.raw_elements.get("Sb", 0.0), feed.antimony),
        tellurium=feed.raw_elements.get("Te", 0.0),
        selenium=feed.raw_elements.get("Se", 0.0),
        cadmium=feed.raw_elements.get("Cd", 0.0),
        chloride=halide.grams,
        chloride_soda=halide.soda,
        chloride_oxygen=halide.oxygen,
        reducing=halide.reducing,
        silver=feed.silver,
        soda=sulphur.free_soda(found),
        soda_slag=limits.sulphur["soda_slag"]["share"],
        iron_asked=sulphur.iron_asked(found),
        pour_temperature=recipe.pour_temperature,
        hold=recipe.hold,
        roast_so2=so2,
        roast_so2_litres=gas_volume(so2 / formula("SO2").mass, ROOM) if so2 else None,
        roast_minutes=recipe.roast.minutes if planned else None,
        roast_finish=recipe.roast.finish_temperature if planned else None,
        roast_start=ore.roast_start(feed) if planned else None,
        clotting=ore.clotting(feed) if feed.roast is not None else (),
        lead_with_silica=feed.roast is not None and ore.lead_with_silica(feed),
        sulphide_sulphur=feed.sulphide_sulphur,
        residual_sulphur=of_charge(sulphur.residual_sulphur(found)),
        lead_sulphate_sulphur=of_charge(lead_sulphate) if lead_sulphate > 0.0 else None,
        arsenic_share=of_charge(feed.arsenic) if feed.arsenic > 0.0 else None,
        speiss_metals=ore.speiss_metals(feed, iron),
        speiss=SPEISS_PER_ARSENIC * feed.arsenic,
        speiss_from=100.0 * limits.sulphur["speiss_forms"]["least"],
        arsenic_left=feed.arsenic,
        nickel_cobalt=ore.nickel_cobalt(feed),
        longest_hold=limits.losses["hold"]["most"],
        base_metal_wanted=metal_wanted(recipe.targets),
        refractory=stubborn,
        refractory_share=stubborn_share,
        sulphate_share=of_charge(ore.sulphate_gangue(feed)),
        carbonate_share=of_charge(feed.carbonate),
        carbonate_litres=_carbon_dioxide(found),
        manganese_share=of_charge(ore.manganese(feed)),
        silica=(*ore.quartz(feed), *sand(zip(rows.components, x.tolist(), strict=True), work.shelf)),
        unknown_share=ore.unknown_share(work, feed),
        assayed=ore.assayed(work),
        radioactive=ore.radioactive(recipe.ore),
        workshop=work.shelf.workshop,
    )


def _carbon_dioxide(found: Balance) -> float | None:
    grams = found.feed.gases.get("CO2", 0.0)
    return gas_volume(grams / formula("CO2").mass, ROOM) if grams > 0.0 else None


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
