"""The report as text: what it says of the pot, of the melt as a liquid, and of how sure it is."""

from dataclasses import replace

import pytest

from fluxlab.design.chance_rows import chance_rows
from fluxlab.design.chance_types import ChanceReport, LimitChance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fluid_text import fluid_rows
from fluxlab.design.fluid_types import Crystal
from fluxlab.design.pot_rows import pot_rows, pot_sources, span
from fluxlab.design.recipe import Line
from fluxlab.design.report_text import WIDTH, findings_text, text_of
from fluxlab.design.report_types import Amount, Report
from fluxlab.design.start import demo_work
from fluxlab.issue import warning
from fluxlab.ore.ore_types import Share
from tests.gui.fluids import doubted_fluid, sample_fluid, unknown_fluid
from tests.works import CLEAN, with_lines, work_of

ROUTES = ("roast and melt", "nitre", "iron", "lead collection")


@pytest.fixture(scope="module", params=ROUTES)
def report(request: pytest.FixtureRequest) -> Report:
    return evaluate(work_of(CLEAN, request.param, pot_feed="concentrate"))


@pytest.fixture(scope="module")
def lead() -> Report:
    return evaluate(work_of(CLEAN, "lead collection", pot_feed="concentrate"))


def section(text: str, title: str) -> str:
    return text.partition(f"{title} -")[2].partition("\n\n")[0]


def flat(words: str) -> str:
    return " ".join(words.split())


def test_no_line_is_wider_than_the_page(report: Report) -> None:
    told = text_of(replace(report, fluid=doubted_fluid()))
    assert max(map(len, told.splitlines())) <= WIDTH


def test_the_pot_tells_its_sentences_whole(report: Report) -> None:
    pot = report.pot
    told = flat(section(text_of(report), "In the pot"))
    sentences = [pot.redox.sentence, pot.sulphur.sentence, pot.gas.sentence, pot.heat.sentence, pot.retreat]
    sentences += [pot.button.sentence] if pot.button.metals else ["no metal comes down"]
    sentences += [pot.cupel.sentence] if pot.cupel else []
    sentences += [pot.drops.sentence] if pot.drops else []
    for sentence in sentences:
        assert flat(sentence) in told
    for row in pot.redox.rows:
        assert row.oxygen <= 0.005 or row.name in told


def test_no_section_of_pot_melt_and_chance_is_a_table_of_forty_rows(report: Report) -> None:
    for rows in (pot_rows(report.pot), chance_rows(report.chance), fluid_rows(report.fluid or sample_fluid())):
        assert len(list(rows)) < 40


def test_what_the_figures_of_the_pot_rest_on_is_told_to_the_letter(report: Report) -> None:
    told = dict(pot_sources(report.pot))
    assert told["Oxygen"] == report.pot.redox.source
    assert told["Heat for the furnace"] == report.pot.heat.source
    for row in report.pot.silver:
        assert row.source in told["Silver"]


def test_the_heat_in_the_slag_and_the_heat_for_the_furnace_have_names_of_their_own() -> None:
    report = evaluate(work_of(CLEAN))
    labels = [label for label, _ in (*fluid_rows(report.fluid), *pot_rows(report.pot)) if "Heat" in label]
    assert labels == ["Heat in the slag alone", "Heat for the furnace"]
    assert report.fluid.heat.value < 0.5 * report.pot.heat.total
    assert report.pot.heat.sentence.startswith("Furnace heat ")


def test_what_hangs_in_the_slag_of_the_mould_is_told_apart_from_its_oxides() -> None:
    rich = (Share("Pyrite", 30.0), Share("Chalcopyrite", 30.0), Share("Galena", 20.0), Share("Quartz", 20.0))
    report = evaluate(work_of(replace(CLEAN, minerals=rich), pot_feed="concentrate"))
    hung = report.mould.slag_volume - report.slag.volume.value
    assert hung > 1.0
    words = text_of(report)
    assert f"{hung:.1f} cm³ are no oxides" in words
    assert f"{report.slag.mass:.1f} g oxides" in words
    assert "are no oxides" not in text_of(evaluate(demo_work()))


def test_sources_show_typeset_units() -> None:
    told = text_of(evaluate(work_of(CLEAN, "nitre", pot_feed="concentrate")))
    assert "degC" not in told
    assert "g/cm3" not in told


def test_a_button_is_told_with_its_range_and_its_metals(lead: Report) -> None:
    rows = dict(pot_rows(lead.pot))
    mass = lead.pot.button.mass
    assert rows["Button"] == span(mass)
    assert f"{mass.low:.0f} g to {mass.high:.0f} g" in rows["Button"]
    assert rows["  made of"].startswith("lead ")
    assert "recovery" in rows["  yield and recovery"]
    assert rows["Cupel"] == lead.pot.cupel.sentence


def test_a_range_that_says_nothing_is_left_out() -> None:
    assert span(Amount(1.02, 1.018, 1.022)) == "1.02 g"
    assert span(Amount(18.5, 6.2, 42.7)) == "18.5 g (6.20 g to 42.7 g)"
    assert span(Amount(0.0, 0.0, 0.0)) == "0 g"


def test_what_may_fail_is_told_and_the_rest_is_not() -> None:
    limits = (
        LimitChance("cover#lo", "Slag over the metal at least 10 mm", "must", 0.5),
        LimitChance("borate#lo", "Borate share at least 0.20", "must", 0.61),
        LimitChance("fluorspar#hi", "Fluorspar at most 5.0 %", "must", 1.0),
        LimitChance("degree#hi", "Silicate degree at most 2.00", "wish", 0.995),
    )
    rows = list(
        chance_rows(ChanceReport(0.4, limits, "cover#lo", 1000, "Every must holds in 40 of 100; weakest cover"))
    )
    assert rows == [
        ("Musts together", "Every must holds in 40 of 100; weakest cover (1000 tried)"),
        ("  must", "Borate share at least 0.20: 61 of 100"),
        ("  wish", "Silicate degree at most 2.00: more than 99 of 100"),
    ]


def test_the_melt_is_told_as_a_liquid() -> None:
    rows = dict(fluid_rows(sample_fluid()))
    assert rows["Viscosity"] == "0.63 Pa·s (0.30 to 1.3) at 1150 °C"
    assert rows["  chance"] == "86 % that it is at most 1 Pa·s there"
    assert rows["  Soda ash, dense"] == "degree -0.03, basicity +0.02, viscosity -7 %"
    assert rows["  Charcoal"] == "viscosity not known"
    assert "Al2O3 +15 %" in rows["  viscosity by oxides"]


def test_crystals_are_told_with_their_temperatures_and_what_is_judged() -> None:
    measured = Crystal("Spinel (magnetite)", 1040.0, 1120.0, "grains that hold up drops", False, "40 glasses")
    judged = replace(measured, name="Quartz", judgement=True)
    rows = dict(fluid_rows(replace(sample_fluid(), crystals=(measured, judged))))
    assert rows["  ! Spinel"] == "likely below 1040 to 1120 °C: grains that hold up drops (40 glasses)"
    assert rows["  ! Quartz"].endswith("(40 glasses; a judgement)")


def test_two_opinions_are_told_with_their_say() -> None:
    assert dict(fluid_rows(doubted_fluid()))["  opinions"] == "low confidence; own equation 30 %, Riboud 70 %"


def test_a_melt_that_cannot_be_told_says_so_and_shows_no_figure() -> None:
    rows = dict(fluid_rows(unknown_fluid()))
    assert rows["Viscosity"] == "not known at 1150 °C"
    assert "Density hot" not in rows
    assert "Last crystal goes, advice" not in rows


def test_problems_of_pot_and_melt_stand_with_the_others_once(lead: Report) -> None:
    issue = warning("slag", "This slag was invented.", "Weigh another.")
    doubled = replace(
        lead, issues=(issue,), fluid=replace(sample_fluid(), issues=(issue,)), pot=replace(lead.pot, issues=(issue,))
    )
    assert flat(text_of(doubled)).count("This slag was invented.") == 1
    assert flat(findings_text(doubled)).count("This slag was invented.") == 1


def test_a_recipe_that_brings_down_no_metal_says_so() -> None:
    work = with_lines(work_of(CLEAN, "nitre", pot_feed="concentrate"), Line("soda-ash", 50.0), Line("silica", 50.0))
    report = evaluate(work)
    assert not report.pot.button.metals
    assert dict(pot_rows(report.pot))["Button"] == "no metal comes down"


@pytest.mark.parametrize("route", ["roast and melt", "nitre", "iron", "lead collection"])
def test_the_charge_is_ore_with_its_fluxes_and_what_is_told_of_the_ore_alone_says_so(route: str) -> None:
    text = " ".join(text_of(evaluate(work_of(CLEAN, route))).split())
    assert "Charge in all" in text
    assert "% of the charge" not in text
    assert "% of the ore charged: that is its yield" in text or "no metal comes down" in text
