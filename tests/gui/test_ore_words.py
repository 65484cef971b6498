import pytest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.report_types import Amount, Caution, RoastReport, ShareRow
from fluxlab.design.workshop import Workshop
from fluxlab.gui.ore.assay_part import residual_lines, ticked_rows
from fluxlab.gui.ore.heaps import widths
from fluxlab.gui.ore.metals_part import grams_words, per_tonne, put_in
from fluxlab.gui.ore.roast_words import gas_words, roast_lines
from fluxlab.gui.ore.sum_line import parted, sum_words
from fluxlab.gui.tables.formulas import typeset
from fluxlab.issue import error, note
from fluxlab.ore.mix_types import Explained
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import work_of


def roast(*gases, change=(-13.9, -15.3, -12.5), sulphur=0.0) -> RoastReport:
    return RoastReport(116.0, 100.0, Amount(*change), 30.0, gases, sulphur, 0.0)


def test_heaps_go_by_the_cube_root_of_their_volume():
    assert widths([27.0, 1.0], 90.0) == pytest.approx((90.0, 30.0))
    assert widths([0.0, 8.0], 90.0) == (0.0, 90.0)
    assert widths([], 90.0) == ()
    assert widths([0.0], 90.0) == (0.0,)


def test_a_weight_loss_is_shown_as_a_loss_with_its_likely_range():
    line = roast_lines(roast())[0]
    assert (line.words, line.figure, line.unit, line.note) == ("Weight loss", "13.9", "%", "likely 12.5 – 15.3")
    assert line.rail.value == 13.9
    assert line.rail.likely == (12.5, 15.3)


def test_a_feed_that_takes_up_oxygen_is_shown_as_a_gain():
    line = roast_lines(roast(change=(3.2, 2.0, 4.0)))[0]
    assert (line.words, line.figure) == ("Weight gain", "3.2")


def test_sulphur_that_stays_is_named_as_sulphate_in_per_cent_of_the_calcine():
    line = roast_lines(roast(sulphur=1.5))[1]
    assert (line.words, line.figure, line.note) == ("Sulphur left", "1.5", "as sulphate")


def ruled(rule, level, sentence="What the rule says."):
    return Caution(rule, level, "Title", sentence, "the reason", "cause", "judgement")


def test_much_sulphur_dioxide_is_told_by_its_litres_and_the_rule_s_own_words():
    answer, first, second = gas_words(roast(("SO2", 99.5, 38.0), ("CO2", 4.0, 2.2)), (ruled("R19", "warn"),))
    assert answer == "close"
    assert first == "38 L of sulphur dioxide leaves the roast"
    assert second == "2.2 L CO₂ besides, at 25 °C. What the rule says."


def test_white_arsenic_comes_before_sulphur_dioxide():
    rules = (ruled("R19", "warn"), ruled("R16", "warn"))
    answer, first, second = gas_words(roast(("SO2", 99.5, 146.0), ("As4O6", 34.0, 2.1)), rules)
    assert answer == "close"
    assert first == "34.0 g of white arsenic leaves the roast"
    assert "146 L SO₂" in second


def test_a_block_comes_before_a_warning_whatever_the_gas():
    rules = (ruled("R19", "block"), ruled("R17", "warn"))
    assert gas_words(roast(("SO2", 99.5, 146.0)), rules)[:2] == ("no", "146 L of sulphur dioxide leaves the roast")


def test_antimony_that_fumes_is_told_as_its_oxide():
    answer, first, _ = gas_words(roast(("SO2", 30.0, 11.0), ("Sb4O6", 12.0, 0.5)), (ruled("R17", "warn"),))
    assert (answer, first) == ("close", "12.0 g of antimony oxide leaves the roast")


def test_a_rule_without_a_gas_of_its_own_gives_its_reason():
    answer, first, second = gas_words(roast(("SO2", 1.0, 0.4)), (ruled("R17", "warn"),))
    assert (answer, first) == ("close", "Title: the reason")
    assert second == "0.4 L SO₂ besides, at 25 °C. What the rule says."


def test_a_little_gas_stays_quiet_and_none_is_said():
    assert gas_words(roast(("CO2", 2.0, 1.1)), ())[:2] == ("yes", "1.1 L of carbon dioxide, at 25 °C")
    assert gas_words(roast(), ())[:2] == ("yes", "No gas leaves the roast")


@pytest.mark.parametrize("minerals", [
    {"Cinnabar": 1.0}, {"Cinnabar": 0.01}, {"Arsenopyrite": 5.0}, {"Arsenopyrite": 0.7}, {"Arsenopyrite": 0.05},
    {"Stibnite": 5.0}, {"Pyrite": 20.0}, {"Pyrite": 3.0}, {"Calcite": 20.0}, {"Pyrite": 20.0, "Cinnabar": 1.0},
])  # fmt: skip
@pytest.mark.parametrize("indoors", [None, True])
def test_the_roast_card_never_contradicts_the_rules(minerals, indoors):
    shares = (*(Share(name, likely) for name, likely in minerals.items()),)
    quartz = Share("Quartz", 100.0 - sum(minerals.values()))
    work = work_of(OreType("o", "Ore", minerals=(*shares, quartz), silver=Grade(100.0)))
    report = evaluate(edits.set_workshop(work, Workshop(indoors=indoors))[1])
    levels = {c.level for c in report.cautions if c.rule in ("R15", "R16", "R17", "R19")}
    expected = "no" if "block" in levels else "close" if levels else "yes"
    answer, first, second = gas_words(report.ore.roast, report.cautions)
    assert answer == expected
    if "Cinnabar" in minerals:
        assert answer == "no"
        assert "g of mercury vapour leaves" in first
        assert "licensed plant" in second
        assert "draught" not in second


def test_the_sum_says_what_becomes_of_it():
    whole, more = [Share("Pyrite", 60), Share("Quartz", 40)], [Share("Pyrite", 80), Share("Quartz", 50)]
    assert sum_words("minerals", False, whole) == "the likely shares add up to 100"
    assert sum_words("minerals", False, more) == "more than the whole"
    assert sum_words("minerals", False, [Share("Pyrite", 97)]) == "scaled to 100 for the reckoning"
    assert sum_words("elements", False, whole[:1]) == "what the laboratory found"
    assert sum_words("oxides", True, whole[:1]) == "the rest is not named"
    assert sum_words("oxides", True, more) == "more than the whole, scaled to 100"


def test_a_note_on_the_sum_is_left_to_the_line_and_an_error_is_told_in_full():
    scaled = note("ore.minerals", "The mineral shares add up to 97.0 %; they are scaled to 100 %.")
    too_much = error("ore.minerals", "The mineral shares add up to 130 %, more than the whole.", "Lower them.")
    other = error("ore.minerals", "“Foo” is not in the list of minerals.")
    elsewhere = error("ore.silver", "A grade.")
    assert parted([scaled, other, elsewhere], "ore.minerals") == (scaled, (other,))
    assert parted([too_much], "ore.minerals") == (too_much, (too_much,))


def test_grades_are_shown_in_grams_per_tonne_beside_the_laboratorys_unit():
    assert per_tonne(Grade(42.0, "oz/short ton")) == "1440 g/t"
    assert per_tonne(Grade(3.1, "oz/short ton")) == "106 g/t"
    assert per_tonne(Grade(1000.0, "g/t")) == ""
    assert per_tonne(None) == ""


@pytest.mark.parametrize(
    ("grams", "words"),
    [(0.0, "0.00"), (0.0028, "0.0028"), (0.951, "0.951"), (4.9378, "4.94"), (38.0, "38.0"), (950.2, "950")],
)
def test_noble_metal_is_shown_in_about_three_figures(grams, words):
    assert grams_words(grams) == words


def test_what_a_grade_put_into_its_carrier_is_not_what_was_listed():
    found = (ShareRow("Acanthite/argentite", Amount(2.44), 1.0), ShareRow("Galena", Amount(45.0), 40.0))
    assert put_in(found, [Share("Galena", 46)], "Acanthite/argentite") == 2.44
    assert put_in(found, [Share("Acanthite/argentite", 2)], "Acanthite/argentite") == 0.0


def test_a_ticked_mineral_that_was_not_needed_stays_with_nothing():
    rows = ticked_rows(
        ("Quartz", "Galena", "Calcite"), (ShareRow("Quartz", Amount(20), 20), ShareRow("Galena", Amount(80), 80))
    )
    assert [(row.name, row.percent.value) for row in rows] == [("Galena", 80), ("Quartz", 20), ("Calcite", 0.0)]


def test_the_residual_names_the_elements_that_make_it():
    lines = residual_lines(4.6, (Explained("As", 2.5, 0.0), Explained("S", 20.0, 21.1), Explained("Fe", 12.0, 12.0)))
    assert lines[0] == ("Not explained by these minerals", "4.6", "%")
    assert lines[1][0] == "As: assayed 2.5 %, explained 0.0 %"
    assert len(lines) == 3
    assert residual_lines(None, ()) == []


def test_formulas_are_typeset_with_counts_below_the_line():
    assert typeset("Na2B4O7·10H2O") == "Na₂B₄O₇·10H₂O"
    assert typeset("KAl3Si3O10(OH)2") == "KAl₃Si₃O₁₀(OH)₂"
    assert typeset("LOI") == "LOI"
