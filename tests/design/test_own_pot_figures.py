"""The operator's own figures of the pot: set, refused, taken back, kept in the document, told in the report."""

import json
from dataclasses import replace
from math import inf, nan

import pytest

from fluxlab import resources
from fluxlab.design.document import Document
from fluxlab.design.edits import set_pot_figure
from fluxlab.design.evaluate import evaluate
from fluxlab.design.pot_figure_list import static_figures
from fluxlab.design.pot_figures import sensible
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.start import demo_work
from fluxlab.materials.fluxes import yields
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.store import document
from tests.works import with_lines, work_of

WORK = demo_work()


def pot(work: Work) -> PotReport:
    found = evaluate(work).pot
    assert found is not None
    return found


def own(work: Work) -> dict[str, float]:
    rows = pot(work).figures
    return {row.key: row.value.value for row in rows if row.own}


def test_the_report_reckons_with_the_operators_own_figure_and_says_so() -> None:
    label, work = set_pot_figure(WORK, "handling", 20.0)
    assert label == "In the pot: silver and gold left on pot, mould and tools 20"
    assert own(WORK) == {}
    assert own(work) == {"handling": 20.0}
    assert pot(work).button.mass.value < pot(WORK).button.mass.value


def test_a_second_figure_of_the_same_name_replaces_the_first() -> None:
    work = set_pot_figure(set_pot_figure(WORK, "handling", 2.0)[1], "handling", 3.0)[1]
    assert work.recipe.pot_figures == (("handling", 3.0),)


@pytest.mark.parametrize(
    ("name", "value"), [("handling", -1.0), ("handling", 101.0), ("handling", nan), ("prill", 0.0), ("prill", inf)]
)
def test_a_figure_that_makes_no_sense_is_refused_in_words(name: str, value: float) -> None:
    label, work = set_pot_figure(WORK, name, value)
    assert "cannot be" in label
    assert work is WORK


def test_a_figure_that_the_pot_does_not_have_is_refused_by_name() -> None:
    label, work = set_pot_figure(WORK, "luck", 1.0)
    assert "luck" in label
    assert work is WORK


def test_taking_a_figure_back_or_undoing_it_gives_the_shipped_one() -> None:
    label, work = set_pot_figure(WORK, "handling", 2.0)
    assert set_pot_figure(work, "handling", None)[1] == WORK
    bench = Document(WORK)
    bench.apply(label, work)
    bench.undo()
    assert bench.work == WORK


def test_a_document_keeps_the_figures_and_one_without_them_opens_as_before() -> None:
    work = set_pot_figure(WORK, "prill", 250.0)[1]
    text = document.recipe_text(work)
    read = document.read_work(text).value
    assert read is not None
    assert read.recipe == work.recipe
    plain = json.loads(text)
    del plain["recipe"]["pot_figures"]
    older = document.read_work(json.dumps(plain)).value
    assert older is not None
    assert older.recipe == WORK.recipe


def with_own(**figures: float) -> Work:
    work = WORK
    for name, value in figures.items():
        label, work = set_pot_figure(work, name.replace("__", ":"), value)
        assert label.startswith("In the pot: "), label
    return work


def test_the_plain_report_names_the_own_figures_with_what_they_stand_for() -> None:
    assert "Own figure" not in text_of(evaluate(WORK))
    text = " ".join(text_of(evaluate(with_own(handling=20.0, metal__Pb=60.0))).split())
    assert "silver and gold left on pot, mould and tools: 20 %, in place of 0.5 %" in text
    assert "lead that goes to the metal, that of litharge aside: 60 %, in place of" in text


def test_the_parts_of_the_report_reckon_with_own_figures_and_tell_them_as_their_source() -> None:
    own = with_own(hold_most=7.0, hold_least=3.0, budget_low=0.2, budget_high=0.8, foam_factor=500.0, pot_heat=3.0)
    told, shipped = pot(own), pot(WORK)
    for found, usual in ((told.drops, shipped.drops), (told.redox, shipped.redox), (told.gas, shipped.gas)):
        assert found is not None
        assert usual is not None
        assert "the operator's own" in found.source
        assert "the operator's own" not in usual.source
    assert told.drops is not None
    assert told.drops.advised <= 7.0
    assert (told.redox.budget_low, told.redox.budget_high) == (0.2, 0.8)
    assert told.gas.foam is not None
    assert shipped.gas.foam is not None
    slower = told.gas.degrees_a_minute.value / shipped.gas.degrees_a_minute.value
    assert slower < 1.0
    assert told.gas.foam == pytest.approx(500.0 / 115.0 * slower * shipped.gas.foam)
    assert told.heat is not None
    assert shipped.heat is not None
    assert told.heat.total > shipped.heat.total
    assert "the operator's own" in told.heat.rows[4].source


def test_the_own_share_of_a_metal_is_named_as_the_source_of_its_row() -> None:
    rows = {row.symbol: row for row in pot(with_own(metal__Pb=60.0)).button.metals}
    assert rows["Pb"].source.endswith(": the operator's own")
    rows = {row.symbol: row for row in pot(with_own(metal__Pb=60.0, layers__Cu=10.0)).button.metals}
    assert "the operator's own as far as given; otherwise judgement" in rows["Cu"].source


def test_an_own_share_of_the_arsenic_moves_the_speiss_of_the_report_and_is_named_as_its_source() -> None:
    ore = OreType("arsenic", "Arsenic", minerals=(Share("Arsenopyrite", 20, 20, 20), Share("Quartz", 80, 80, 80)))
    plain = work_of(replace(ore, silver=Grade(50, "oz/short ton")), pot_feed="concentrate", route="iron")
    plain = with_lines(plain, Line("iron-filings", 30.0))
    label, less = set_pot_figure(plain, "layers:As", 10.0)
    assert label == "In the pot: arsenic that goes to speiss, as far as there is iron for it 10"
    assert 0.0 < pot(less).sulphur.speiss.value < 0.5 * pot(plain).sulphur.speiss.value
    told = {row.name: row for row in pot(less).sulphur.rows}["speiss (arsenic)"]
    assert "the operator's own for arsenic" in told.source
    assert "in place of" in text_of(evaluate(less))


@pytest.mark.parametrize(
    ("before", "name", "value", "said"),
    [
        ({}, "hold_least", 25.0, "has to be below"),
        ({"hold_most": 60.0}, "hold_least", 61.0, "has to be below"),
        ({}, "acid_at", 0.5, "has to be below"),
        ({}, "budget_low", 1.6, "has to be below"),
        ({"metal:Pb": 70.0}, "fume:Pb", 31.0, "more than 100 %"),
        ({"fume:Pb": 70.0}, "metal:Pb", 31.0, "more than 100 %"),
        ({"metal:As": 40.0, "fume:As": 30.0}, "layers:As", 31.0, "more than 100 %"),
        ({"layers:Cu": 70.0}, "metal:Cu", 31.0, "more than 100 %"),
        ({}, "layers:Fe", 50.0, "no figure called"),
        ({}, "layers:Ag", 50.0, "no figure called"),
        ({}, "metal:Ag", 50.0, "no figure called"),
        ({}, "metal:Xx", 50.0, "no figure called"),
        ({}, "metal:Pb", 101.0, "cannot be"),
        ({}, "gas_from:CaCO3:CO2", 900.0, "has to be below"),
        ({}, "gas_from:CaCO3:SO2", 600.0, "no figure called"),
        ({}, "gas_from:not a formula:CO2", 600.0, "no figure called"),
        ({}, "gas_to:", 600.0, "no figure called"),
        ({}, "sulphates_rank", 4.5, "whole number"),
        ({}, "dissolves_most", 90.0, "from 100 to 1000 %"),
    ],
)
def test_figures_that_contradict_each_other_are_refused_in_words(
    before: dict[str, float], name: str, value: float, said: str
) -> None:
    work = with_own(**{key.replace(":", "__"): each for key, each in before.items()})
    label, after = set_pot_figure(work, name, value)
    assert said in label
    assert after is work


@pytest.mark.parametrize("key", static_figures())
def test_beyond_the_ends_of_its_range_a_figure_is_refused_and_at_them_it_is_not(key: str) -> None:
    figure = static_figures()[key]
    assert not figure.refuses(figure.least)
    assert not figure.refuses(figure.most)
    for value in (figure.least - 1e-3 - abs(figure.least) * 1e-3, figure.most * 1.01 + 1e-3, nan, inf, -inf):
        assert "Give" in figure.refuses(value)
        assert figure.words in sensible({key: value})[1][0].sentence


def test_a_figure_that_another_route_puts_at_odds_is_said_and_not_used() -> None:
    own = {"budget_low": 1.2}
    assert sensible(own, "roast and melt")[1] == ()
    kept, issues = sensible(own, "nitre")
    assert kept == {}
    assert "has to be below" in issues[0].sentence


@pytest.mark.parametrize("key", static_figures())
def test_the_help_on_files_lists_each_own_figure_with_its_unit_and_range(key: str) -> None:
    figure = static_figures()[key]
    meaning = f"{figure.words[:1].upper()}{figure.words[1:]}."
    row = f"| `{key}` | {figure.unit or 'number'} | {figure.least:.10g} to {figure.most:.10g} | {meaning} |"
    assert row in resources.text("help/exchange.md").splitlines()


def test_an_own_window_of_a_flux_moves_its_gas_and_no_other() -> None:
    def ends(work: Work) -> dict[str, tuple[float | None, float | None]]:
        return {f"{row.name} {row.species}": (row.low, row.high) for row in pot(work).gas.sources}

    rows = {row.key: row for row in pot(WORK).figures}
    assert (rows["gas_from:Na2CO3:CO2"].value.value, rows["gas_to:Na2CO3:CO2"].value.value) == (750.0, 1000.0)
    assert "from memory" in rows["gas_from:Na2CO3:CO2"].source
    label, moved = set_pot_figure(WORK, "gas_from:Na2CO3:CO2", 600.0)
    assert label == "In the pot: CO2 of soda comes off from 600"
    before, after = ends(WORK), ends(moved)
    changed = {name for name in before if before[name] != after[name]}
    assert {after[name] for name in changed} == {(600.0, 1000.0)}
    assert {before[name] for name in changed} == {(750.0, 1000.0)}
    assert len(changed) == 1


def test_what_bicarbonate_gives_late_is_the_gas_of_soda() -> None:
    shelf = {c.uid: c for c in WORK.shelf.fluxes}
    gases = yields(shelf["sodium-bicarbonate"], shelf.get).gases
    assert {(gas.low, gas.of) for gas in gases if gas.species == "CO2"} == {(100.0, "NaHCO3"), (750.0, "Na2CO3")}


def test_an_own_trace_of_sulphide_asks_for_less_nitre_beside_a_reducer() -> None:
    ore = OreType("clean", "Clean", minerals=(Share("Pyrite", 0.05, 0.05, 0.05), Share("Quartz", 99.95, 99.95, 99.95)))
    work = work_of(ore, "nitre", pot_feed="concentrate")
    work = with_lines(work, *work.recipe.lines, Line("charcoal", 1.0))
    label, moved = set_pot_figure(work, "nitre_trace", 0.5)
    assert label.startswith("In the pot: oxygen that sulphide asks for")
    wanted, less = (
        next(t.lo for t in evaluate(each).targets if t.key == "nitre_for_sulphur") for each in (work, moved)
    )
    assert wanted is not None
    assert less is not None
    assert 0.0 < less < 0.2 * wanted


def foam_of(work: Work) -> float:
    fill = evaluate(work).fill
    assert fill is not None
    return fill.swollen_volume


@pytest.mark.parametrize(
    ("name", "value", "ore", "charcoal", "sign"),
    [
        ("swell_quiet", 1.6, {"Quartz": 100.0}, None, 1.0),
        ("swell_carbonate", 1.5, {"Calcite": 80.0, "Quartz": 20.0}, None, -1.0),
        ("swell_rich", 100.0, {"Calcite": 60.0, "Quartz": 40.0}, None, -1.0),
        ("swell_ferric", 3.0, {"Hematite": 80.0, "Quartz": 20.0}, 2.0, 1.0),
    ],
)
def test_own_swell_factors_move_the_foam_of_the_charge_and_nothing_else(
    name: str, value: float, ore: dict[str, float], charcoal: float | None, sign: float
) -> None:
    shares = tuple(Share(what, grams, grams, grams) for what, grams in ore.items())
    work = work_of(OreType("plain", "Plain", minerals=shares, silver=Grade(50, "oz/short ton")), pot_feed="concentrate")
    if charcoal is not None:
        others = (line for line in work.recipe.lines if line.flux != "charcoal")
        work = with_lines(work, *others, Line("charcoal", charcoal))
    label, moved = set_pot_figure(work, name, value)
    assert label.startswith("In the pot: ")
    assert sign * (foam_of(moved) - foam_of(work)) > 1.0
    before, after = evaluate(work), evaluate(moved)
    assert before.fill is not None
    assert after.fill is not None
    assert after.fill.loose_volume == before.fill.loose_volume
    assert [line.grams for line in after.lines] == [line.grams for line in before.lines]


def test_own_limits_decide_what_is_said_of_the_metal_and_move_no_figure() -> None:
    usual = pot(WORK)
    recovery = usual.button.silver_recovery_percent
    assert recovery is not None
    assert recovery.low is not None
    at, low = recovery.value, recovery.low
    yes = pot(with_own(comes_yes=at - 1.0, comes_close=at - 2.0, comes_low=max(low - 1.0, 0.0)))
    close = pot(with_own(comes_yes=at + 0.5, comes_close=at - 1.0))
    no = pot(with_own(comes_yes=at + 1.0, comes_close=at + 0.5))
    unsure = pot(with_own(comes_yes=at - 1.0, comes_close=at - 2.0, comes_low=low + 0.5))
    assert [each.answer for each in (yes, close, no, unsure)] == ["yes", "close", "no", "close"]
    assert {each.button.mass for each in (yes, close, no, unsure)} == {usual.button.mass}


def test_own_places_of_the_states_rename_the_state_of_the_pot() -> None:
    assert pot(WORK).state == "neutral"
    assert pot(with_own(oxidising_at=0.01, neutral_at=0.9)).state == "oxidising"
