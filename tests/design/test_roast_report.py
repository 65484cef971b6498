"""The roast and the lot in the report: as planned, as weighed, and never a NaN."""

import json
import math
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

import pytest

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Recipe, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.report_types import RoastReport
from fluxlab.design.roast_text import grade_places
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build
from fluxlab.design.verdicts import metal_verdict
from fluxlab.ore.ore_types import Grade, Lot, OreType, Share
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from fluxlab.store.document import read_work, recipe_text
from fluxlab.store.report_document import report_plain
from tests.design.test_evaluate import numbers

WORK = demo_work()


def planned(work: Work = WORK, **changes: object) -> Work:
    return edits.set_roast(work, replace(RoastPlan("planned"), **changes))[1]  # type: ignore[arg-type]


def roast_of(work: Work) -> RoastReport:
    roast = evaluate(work).ore.roast
    assert roast is not None
    return roast


def test_a_new_recipe_reckons_with_the_perfect_roast_as_before() -> None:
    roast = roast_of(WORK)
    assert WORK.recipe.roast == PERFECT_PLAN
    assert (roast.kind, roast.perfect) == ("perfect", True)
    assert roast.sulphur_percent.low is None
    assert roast.sulphur_left == 0.0
    assert roast.explained_by == ()
    assert roast.weight_explained is None
    assert [step.title for step in roast.programme] == ["Dry", "Low roast", "Main burn", "Finish", "Test"]


def test_a_planned_roast_leaves_sulphur_with_a_range() -> None:
    roast = roast_of(planned())
    assert (roast.kind, roast.perfect) == ("planned", False)
    for amount in (roast.sulphur_percent, roast.sulphide_sulphur_percent, roast.sulphate_sulphur_percent):
        assert amount.low is not None
        assert amount.high is not None
        assert 0.0 <= amount.low <= amount.value <= amount.high
    total = roast.sulphide_sulphur_percent.value + roast.sulphate_sulphur_percent.value
    assert roast.sulphur_percent.value == pytest.approx(total)
    assert roast.sulphur_left == pytest.approx(roast.sulphur_percent.value * roast.calcine_mass / 100.0)
    assert 100.0 * (roast.calcine_mass / roast.raw_mass - 1.0) == pytest.approx(roast.mass_change_percent.value)
    assert any("memory and judgement" in source for source in roast.sources)


def test_the_air_is_two_to_four_times_what_the_oxygen_needs() -> None:
    roast = roast_of(planned())
    just = roast.oxygen_needed / 31.998 * 0.082057 * 298.15 / 0.2095
    assert roast.air_litres.low == pytest.approx(2.0 * just, rel=1e-3)
    assert roast.air_litres.high == pytest.approx(4.0 * just, rel=1e-3)


def test_a_hotter_finish_leaves_less_sulphate_in_the_report() -> None:
    cold, hot = (roast_of(planned(finish_temperature=t)).sulphate_sulphur_percent.value for t in (620.0, 790.0))
    assert hot < 0.9 * cold


def test_a_weighed_roast_says_what_explains_the_weight() -> None:
    _, work = edits.weigh_roast(WORK, 100.0, 97.0)
    roast = roast_of(work)
    assert roast.weighed_change_percent == pytest.approx(-3.0)
    assert roast.weight_explained is True
    assert any("sulphate hidden" in words for words in roast.explained_by)
    assert roast.mass_change_percent == roast_of(planned()).mass_change_percent
    text = text_of(evaluate(work))
    assert "Roast as weighed" in text
    assert "as weighed" in text


@pytest.mark.parametrize("after", [85.0, 88.0, 95.0])
def test_the_weights_of_the_roast_say_how_much_raw_material_is_behind_the_charge(after: float) -> None:
    """100 g to 85 g stands for 117.6 g to 100 g, and the silver of the raw material stays with it."""
    work = edits.weigh_roast(WORK, 100.0, after)[1]
    report = evaluate(work)
    roast, charge = report.ore.roast, work.recipe.charge
    assert roast is not None
    assert roast.weight_explained
    assert roast.raw_mass == pytest.approx(100.0 * charge / after, rel=1e-9)
    raw_silver = 620.0 * 31.1034768 / 907_184.74 * roast.raw_mass
    assert report.ore.silver == pytest.approx(raw_silver, rel=1e-4)
    text = text_of(report)
    assert f"Roast as weighed          {roast.raw_mass:.1f} g raw gives {charge:.1f} g" in text
    assert f"  change as weighed       -{100.0 - after:.1f} %, explained by" in text
    assert "  change by the plan      -2.9 (" in text


def test_what_the_weights_miss_of_the_reckoned_roast_is_told_in_grams() -> None:
    work = edits.weigh_roast(WORK, 100.0, 85.0)[1]
    report = evaluate(work)
    roast = report.ore.roast
    assert roast is not None
    gas = sum(grams for _, grams, _ in roast.gases)
    off = roast.raw_mass + roast.oxygen_needed - gas - roast.calcine_mass
    assert 1.0 < off < 6.0
    assert f"{off:.1f} g lost as dust or by other shares" in " ".join(text_of(report).split())


@pytest.mark.parametrize(("after", "verb"), [(140.0, "grew"), (40.0, "shrank")])
def test_a_roast_weight_that_cannot_be_right_leaves_no_yes_to_the_metal(after: float, verb: str) -> None:
    plan = evaluate(planned())
    report = evaluate(edits.weigh_roast(WORK, 100.0, after)[1])
    was = {v.key: v for v in plan.verdicts}
    now = {v.key: v for v in report.verdicts}
    assert was["metal"].answer in ("yes", "close")
    assert (now["metal"].answer, now["metal"].word) == ("unknown", "Not known")
    assert f"the roast weight cannot be right: it {verb} by" in now["metal"].reason
    assert was["sure"].answer == "yes"
    assert now["sure"].answer == "close"
    assert "the roast weight denies it" in now["sure"].reason
    assert "Roast as planned" in text_of(report)
    assert "no roast of this ore explains it, the plan is reckoned with" in " ".join(text_of(report).split())


def test_the_ticket_says_that_a_roast_weight_cannot_be_right() -> None:
    report = evaluate(edits.weigh_roast(WORK, 100.0, 140.0)[1])
    ticket = build(report, revision=1, copy=1, when=datetime(2026, 5, 4), mark=",")
    fact = next(fact for fact in ticket.facts if fact.label == "Button")
    assert (fact.value, fact.note) == ("Not known", "the roast weight cannot be right: it grew by 40,0 %")
    assert [c.sentence for c in ticket.cautions if c.title == "Roast weight"] == [
        "It cannot be right: it grew by 40.0 %, and no roast of this ore does that. Weigh again before the melt."
    ]
    fine = build(evaluate(planned()), revision=1, copy=1, when=datetime(2026, 5, 4))
    assert all(c.title != "Roast weight" for c in fine.cautions)


def test_what_the_plan_alone_denies_is_told_beside_a_roast_weight_that_cannot_be_right() -> None:
    """Strip, ticket and answer say alike that nothing is known; why the plan says no stands with it."""
    roast = evaluate(edits.weigh_roast(WORK, 100.0, 140.0)[1]).ore.roast
    pot = evaluate(WORK).pot
    assert pot is not None
    said = metal_verdict(replace(pot, answer="no", reason="no metal comes down"), 1.0, roast)
    assert (said.answer, said.figure) == ("unknown", "at most 1.00 g")
    assert said.reason == "the roast weight cannot be right: it grew by 40.0 %; by the plan, no metal comes down"


def test_a_weight_that_grew_by_forty_per_cent_is_an_error_in_the_report() -> None:
    _, work = edits.weigh_roast(WORK, 100.0, 140.0)
    report = evaluate(work)
    assert report.ore.roast is not None
    assert report.ore.roast.weight_explained is False
    assert any("grew by 40.0 %" in issue.sentence for issue in report.issues)
    assert report.ore.sulphur == pytest.approx(evaluate(planned()).ore.sulphur)


def test_one_weight_missing_is_said_and_the_plan_stands() -> None:
    work = edits.set_roast(WORK, RoastPlan("weighed", before=100.0))[1]
    report = evaluate(work)
    assert report.ore.roast is not None
    assert report.ore.roast.weighed_change_percent is None
    assert report.ore.roast.weight_explained is None
    assert any("not weighed before and after" in issue.sentence for issue in report.issues)


def test_the_lot_stands_in_the_report_and_its_contradictions_among_the_problems() -> None:
    lot = Lot(18_400.0, 663.0, Grade(25.0, "oz/short ton"), tail_silver=Grade(2.5, "oz/short ton"))
    _, work = edits.set_lot(planned(), lot)
    report = evaluate(work)
    assert report.ore.lot is not None
    silver = report.ore.lot.metals[0]
    assert silver.recovery_percent is not None
    assert silver.overall_percent is not None
    assert silver.overall_percent.value < silver.recovery_percent.value
    assert report.ore.lot.calcine_mass is not None
    assert report.ore.lot.calcine_mass < 663.0
    assert "27.75 to 1 by weight" in text_of(report)
    _, wrong = edits.set_lot(work, replace(lot, mass=100.0))
    assert any("weighs more than the lot" in issue.sentence for issue in evaluate(wrong).issues)
    assert evaluate(WORK).ore.lot is None


@pytest.mark.parametrize(("grade", "places"), [(635.1, 1), (10.0, 1), (3.62, 2), (0.362, 3)])
def test_a_grade_is_written_with_three_digits_that_count(grade: float, places: int) -> None:
    assert grade_places(grade) == places


def test_plan_and_lot_are_written_and_read_back() -> None:
    plan = RoastPlan(
        "weighed", 760.0, 75.0, 12.0, False, 0.2, 100.0, 97.5, 0.05, (("Galena", 0.9),), (("Pb", 0.3),), 0.1
    )
    _, work = edits.set_roast(WORK, plan)
    _, work = edits.set_lot(work, Lot(18_400.0, 663.0, Grade(25.0, "oz/short ton"), sample=500.0, top_size=2.0))
    read = read_work(recipe_text(work))
    assert read.issues == ()
    assert read.value is not None
    assert read.value.recipe == work.recipe
    roast = json.loads(recipe_text(work))["recipe"]["roast"]
    assert roast["finish_temperature_c"] == 760.0
    assert roast["before_g"] == 100.0
    assert roast["sulphate"] == [["Pb", 0.3]]


def test_a_document_from_before_the_plan_still_reads() -> None:
    plain = json.loads(recipe_text(WORK))
    del plain["recipe"]["roast"]
    del plain["recipe"]["ore"]["lot"]
    read = read_work(json.dumps(plain))
    assert read.issues == ()
    assert read.value is not None
    assert read.value.recipe.roast == PERFECT_PLAN
    assert read.value.recipe.ore.lot is None


def test_the_report_as_a_document_carries_roast_and_lot() -> None:
    _, work = edits.set_lot(planned(), Lot(18_400.0, 663.0, Grade(25.0, "oz/short ton")))
    plain = report_plain(evaluate(work))
    assert plain["ore"]["roast"]["sulphur_percent"]["high"] > 0.0
    assert plain["ore"]["roast"]["programme"][3]["high_c"] == 740.0
    assert plain["ore"]["lot"]["metals"][0]["unit"] == "oz/short ton"


def test_a_little_residual_sulphide_throws_down_little_lead() -> None:
    """The lead that residual sulphide reduces follows what is left of it, not the raw ore behind the charge."""
    left = [
        balance(planned(conversion=(("Galena", 1.0), ("Pyrite", through)))).setting.ore_lead
        for through in (1.0, 0.999, 0.99)
    ]
    assert 0.0 < left[1] - left[0] < 1.0
    assert left[2] - left[0] == pytest.approx(10.0 * (left[1] - left[0]), rel=0.05)


def test_nothing_jumps_as_the_finish_moves() -> None:
    """Steps of half a degree around the temperatures where something happens: the flux follows evenly."""
    for middle in (450.0, 512.0, 550.0, 650.0, 727.0, 800.0):
        found = [evaluate(planned(finish_temperature=middle + 0.5 * i)) for i in range(-3, 4)]
        for figure in ("flux_mass", "charge_total"):
            values = [getattr(report, figure) for report in found]
            steps = [b - a for a, b in pairwise(values)]
            assert max(abs(step) for step in steps) < 0.02 * values[0]


STRANGE = [
    (Share("Pyrite", 100.0),),
    (Share("Quartz", 100.0),),
    (Share("Arsenopyrite", 100.0),),
    (Share("Cinnabar", 60.0), Share("Quartz", 40.0)),
    (),
]
PLANS = [
    RoastPlan("planned"),
    RoastPlan("weighed", before=100.0, after=140.0),
    RoastPlan("planned", finish_temperature=float("nan"), minutes=float("inf"), bed_depth=-1.0),
]


@pytest.mark.parametrize("minerals", STRANGE, ids=lambda shares: shares[0].what if shares else "nothing")
@pytest.mark.parametrize("plan", PLANS, ids=["planned", "grew", "nonsense"])
@pytest.mark.parametrize("moisture", [0.0, 100.0])
def test_no_strange_ore_makes_a_nan(minerals: tuple[Share, ...], plan: RoastPlan, moisture: float) -> None:
    ore = OreType("o", "Ore", minerals=minerals, moisture=moisture)
    work = replace(WORK, recipe=replace(WORK.recipe, ore=ore, roast=plan))
    report = evaluate(work)
    safe = replace(report, work=WORK)
    assert [path for path, number in numbers(safe) if not math.isfinite(number)] == []
    assert text_of(report)


def test_the_field_is_on_the_recipe() -> None:
    assert Recipe("r", "R", OreType("o", "O")).roast == PERFECT_PLAN
