from dataclasses import replace

import pytest

from fluxlab.design.recipe import Line, Recipe, Shelf, Work
from fluxlab.gui.shelf import naming
from fluxlab.gui.shelf.composition import in_words, with_densities_of_parts
from fluxlab.gui.shelf.flux_columns import source_in_words
from fluxlab.gui.shelf.in_use import crucible_in_use, flux_in_use, mould_in_use
from fluxlab.gui.shelf.preview import preview
from fluxlab.materials import trade_facts
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part
from fluxlab.materials.fluxes import shipped
from fluxlab.ore.ore_types import OreType
from fluxlab.vessel.vessel_types import Crucible, Mould

SHIPPED = {flux.uid: flux for flux in shipped()}
JAR = Component("jar", "House mix", ByParts((Part("borax-glass", 2), Part("soda-ash-dense", 1))))


def lookup(uid: str) -> Component | None:
    return {**SHIPPED, "jar": JAR}.get(uid)


def test_names_are_wanted_and_only_once():
    assert naming.refusal(" ", shipped()).startswith("A name is needed")
    assert "already" in naming.refusal("borax GLASS", shipped())
    assert naming.refusal("Borax glass", shipped(), own_uid="borax-glass") == ""
    assert naming.free_name("Borax glass", shipped()) == "Borax glass 2"


def test_ids_are_made_of_the_name_and_never_twice():
    assert naming.free_uid("Flußspat, fein!", ()) == "fluspat-fein"
    assert naming.free_uid("Borax glass", shipped()) == "borax-glass-2"
    assert naming.free_uid("···", ()) == "thing"
    copy = naming.copied(SHIPPED["salt"], shipped())
    assert (copy.name, copy.uid, copy.made_of) == ("Salt, copy", "salt-copy", SHIPPED["salt"].made_of)


def test_what_is_in_use_cannot_leave_the_shelf():
    shelf = Shelf((*shipped(), JAR), (Crucible("p", "Pot", 20, 30, 80),), (Mould("m", "Mould"),))
    recipe = Recipe(
        "r", "R", OreType("o", "O"), lines=(Line("salt"),), house=(("potash", 3.0),), crucible="p", mould="m"
    )
    work = Work(recipe, shelf)
    assert flux_in_use(work, "salt") == "Salt is in the recipe on the bench. Take its row out of the flux table first."
    assert flux_in_use(work, "borax-glass") == "Borax glass is a part of House mix. Take it out of there first."
    assert "house recipe" in flux_in_use(work, "potash")
    assert flux_in_use(work, "charcoal") == ""
    assert "pot of the recipe" in crucible_in_use(work, "p")
    assert "mould of the recipe" in mould_in_use(work, "m")
    assert crucible_in_use(work, "other") == mould_in_use(work, "other") == ""


@pytest.mark.parametrize("flux", shipped(), ids=lambda flux: flux.uid)
def test_formulas_suggest_the_facts_that_the_shipped_fluxes_carry(flux):
    # Iron, carbon and higher oxides reduce or oxidise by what the trade uses them for: that a formula cannot tell.
    told_by_use = {"oxidiser", "reducer", "gas-former"}
    assert flux.tags - told_by_use <= trade_facts.suggested(flux.made_of)
    assert trade_facts.suggested(flux.made_of) - told_by_use <= flux.tags


@pytest.mark.parametrize("formula", ["NH4Cl", "NH4NO3", "KClO3", "NaClO4", "Na2O2", "BaO2", "Al", "Mg", "Zn"])
def test_what_must_never_go_into_the_pot_is_told_by_its_formula(formula):
    assert "forbidden" in trade_facts.suggested(ByFormula(formula))


@pytest.mark.parametrize("formula", ["KNO3", "NaNO3", "Ca(NO3)2", "Ba(NO3)2"])
def test_a_nitrate_is_told_by_its_formula(formula):
    assert {"nitrate", "oxidiser", "gas-former"} <= trade_facts.suggested(ByFormula(formula))


def test_facts_ticked_by_hand_stay_when_the_formula_changes():
    old = Component("x", "X", ByFormula("CaF2"), tags=frozenset({"fluoride", "reducer"}))
    assert trade_facts.carried_over(old, ByFormula("PbO")) == {"reducer", "lead"}


def test_an_analysis_shows_its_fluoride_and_what_it_loses():
    made_of = ByAnalysis((("CaF2", 85.0), ("SiO2", 5.0)), "H2O")
    assert trade_facts.suggested(made_of) == {"fluoride", "hydrated", "gas-former"}
    assert trade_facts.suggested(ByAnalysis((("CaF2", 0.0), ("SiO2", 5.0)))) == frozenset()


def test_lead_power_by_formula_is_that_of_all_its_oxygen():
    # 4 KNO3 + 10 Pb -> 10 PbO: 5.12 g Pb per g of nitre; C + 2 PbO -> 2 Pb + CO2: 34.5 g Pb per g of carbon.
    nitre = replace(SHIPPED["nitre"], purity=1.0)
    carbon = Component("c", "Carbon", ByFormula("C"), purity=1.0)
    assert trade_facts.power_by_formula(nitre, lookup) == pytest.approx(-5.12, abs=0.01)
    assert trade_facts.power_by_formula(carbon, lookup) == pytest.approx(34.5, abs=0.05)


@pytest.mark.parametrize("flux", [*shipped(), JAR], ids=lambda flux: flux.uid)
def test_what_100_grams_give_adds_up_to_100_grams(flux):
    found = preview(flux, lookup)
    grams = {
        words: float(figure) for words, figure, unit in found.fates if unit == "g" and not words.startswith("Lead")
    }
    taken_up = grams.pop("Oxygen taken up", 0.0)
    assert sum(grams.values()) - taken_up == pytest.approx(100.0, abs=0.35)
    assert sum(row.percent for row in found.oxides) == pytest.approx(grams["Slag oxides"], abs=0.06)


def test_borax_decahydrate_gives_its_water_as_gas():
    fates = {words: figure for words, figure, _ in preview(SHIPPED["borax-decahydrate"], lookup).fates}
    # 47.24 % water, process facts computed from the formula, times the purity of 0.97
    assert float(fates["H₂O gas, 62.2 L at 25 °C"]) == pytest.approx(45.8, abs=0.05)


def test_a_flux_is_described_in_a_few_words():
    assert in_words(SHIPPED["borax-decahydrate"], lookup) == "Na₂B₄O₇·10H₂O"
    assert in_words(SHIPPED["bottle-glass"], lookup) == "SiO₂ 72, Na₂O 14, CaO 11 and 2 more"
    assert in_words(JAR, lookup) == "jar of Borax glass, Soda ash, dense"
    assert in_words(Component("e", "E", ByParts(())), lookup) == "jar of nothing yet"


def test_a_long_source_is_shortened_to_how_its_figures_are_known():
    assert source_in_words("my own cup") == "my own cup"
    assert source_in_words(SHIPPED["borax-glass"].source) == "memory, judgement"


def test_a_jar_lies_as_dense_as_its_parts_side_by_side():
    jar = with_densities_of_parts(JAR, JAR.made_of, lookup)
    loose = 3 / (2 / SHIPPED["borax-glass"].loose_density + 1 / SHIPPED["soda-ash-dense"].loose_density)
    assert jar.loose_density == pytest.approx(loose, abs=0.005)
    assert with_densities_of_parts(JAR, ByParts(()), lookup) == JAR
