"""Ores, weights and charges that no workshop should melt: a plain sentence and the right rule, on report and ticket."""

import re
from dataclasses import replace
from datetime import datetime

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, RouteName, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.start import new_recipe, new_shelf
from fluxlab.design.ticket import build
from fluxlab.design.ticket_text import text_of as ticket_text
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan

PLANNED = RoastPlan("planned")
GROWN = RoastPlan("weighed", before=100.0, after=140.0)
NO_NUMBER = re.compile(r"\b(nan|inf|infinity)\b", re.IGNORECASE)


def work_of(
    minerals: dict[str, float],
    plan: RoastPlan = PERFECT_PLAN,
    route: RouteName = "roast and melt",
    moisture: float = 0.0,
    lines: tuple[Line, ...] = (),
) -> Work:
    shares = tuple(Share(name, share) for name, share in minerals.items())
    ore = OreType("o", "Odd ore", minerals=shares, stage="concentrate", silver=Grade(1_000.0), moisture=moisture)
    shelf = new_shelf()
    recipe = new_recipe(ore, shelf, route=route, charge=100.0)
    fixed = {line.flux for line in lines}
    kept = tuple(line for line in recipe.lines if line.flux not in fixed)
    return Work(replace(recipe, roast=plan, lines=(*kept, *lines)), shelf)


HALF = {"Pyrite": 50.0, "Quartz": 50.0}
CASES = {
    "pure sulphide": (work_of({"Pyrite": 100.0}, PLANNED), "tends to run away and clot", "R19"),
    "pure sulphide raw, with nitre": (work_of({"Pyrite": 100.0}, route="nitre"), "100 % raw sulphide", "R12"),
    "pure quartz": (work_of({"Quartz": 100.0}, PLANNED), "Hardly anything in this ore burns", "R38"),
    "nothing but arsenopyrite": (work_of({"Arsenopyrite": 100.0}, PLANNED), "arsenic left", "R16"),
    "weight grown by 40 %": (work_of(HALF, GROWN), "The weight grew by 40.0 %; no roast of this ore", "R19"),
    "nitre with flour": (
        work_of(HALF, route="nitre", lines=(Line("wheat-flour", grams=10.0), Line("nitre", grams=20.0))),
        "nitrate beside Wheat flour",
        "R11",
    ),
    "mercury": (work_of({"Cinnabar": 5.0, "Quartz": 95.0}), "all of it leaves the roast as vapour", "R15"),
    "all moisture": (work_of(HALF, moisture=100.0), "A moisture of 100 % is not possible", "R01"),
    "all moisture, raw": (work_of(HALF, route="nitre", moisture=100.0), "as damp in the cautions", "R01"),
}


@pytest.mark.parametrize("case", CASES)
def test_report_and_ticket_say_what_is_wrong_and_show_no_figure_that_is_none(case: str) -> None:
    work, words, rule = CASES[case]
    report = evaluate(work)
    ticket = build(report, revision=None, copy=1, when=datetime(2026, 3, 2))
    said, printed = text_of(report), ticket_text(ticket)
    assert words in " ".join(said.split())
    assert not NO_NUMBER.search(said)
    assert not NO_NUMBER.search(printed)
    assert rule in {caution.rule for caution in report.cautions}
    assert rule in {caution.rule for caution in ticket.cautions}
    assert {v.key: v.answer for v in report.verdicts}["safe"] != "yes"
    assert {v.key: v.answer for v in report.verdicts}["metal"] != "yes"


def test_the_weight_that_grew_is_told_on_the_ticket_too() -> None:
    ticket = build(evaluate(CASES["weight grown by 40 %"][0]), revision=None, copy=1, when=datetime(2026, 3, 2))
    assert "the roast weight cannot be right: it grew by 40.0 %" in " ".join(ticket_text(ticket).split())
    assert [caution.level for caution in ticket.cautions if caution.title == "Roast weight"] == ["warn"]
