"""Recipes as they start on each route: solved, judged as they stand, and mended by what is offered."""

from dataclasses import replace
from functools import cache

import pytest

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.offers import offers
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Mend, Report, TargetReport
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import musts_broken, work_of

QUARTZ = OreType("q", "Quartz", minerals=(Share("Quartz", 100.0),), silver=Grade(500.0))
ROUTES = ("roast and melt", "nitre", "iron", "lead collection")
ORES = ("Pyrite", "Galena", "Chalcopyrite", "Arsenopyrite", "Quartz", "demo")
STARTS = [(route, ore) for route in ROUTES for ore in ORES]


def sulphidic(mineral: str) -> OreType:
    return replace(QUARTZ, name=mineral, minerals=(Share(mineral, 30.0, 25.0, 35.0), Share("Quartz", 70.0, 60.0, 80.0)))


@cache
def start(route: str, ore: str) -> Work:
    """A new recipe for the route; ores go raw into the pot where the route deals with their sulphur."""
    if ore == "demo":
        return edits.set_route(demo_work(), route)[1]  # type: ignore[arg-type]
    feed = "calcine" if route == "roast and melt" else "concentrate"
    return work_of(QUARTZ if ore == "Quartz" else sulphidic(ore), route, pot_feed=feed)


@cache
def report_of(route: str, ore: str) -> Report:
    return evaluate(start(route, ore))


def target(report: Report, key: str) -> TargetReport:
    return next(t for t in report.targets if t.key == key)


def answer(report: Report, key: str) -> str:
    return next(v.answer for v in report.verdicts if v.key == key)


def clicked(work: Work, mend: Mend) -> Work:
    return getattr(edits, mend.edit)(work, *mend.arguments)[1]  # type: ignore[no-any-return]


@pytest.mark.parametrize(("route", "ore"), STARTS)
def test_every_must_holds_at_the_start_and_what_gives_way_is_a_wish(route: str, ore: str) -> None:
    report = report_of(route, ore)
    assert musts_broken(report) == []
    wishes = [t.sentence for t in report.targets if t.on and t.state in ("below", "above")]
    assert list(report.solve.gave_way) == wishes
    assert report.solve.status == ("relaxed" if wishes else "ok")


@pytest.mark.parametrize(("route", "ore"), STARTS)
def test_the_slag_is_no_plain_no_where_every_must_holds(route: str, ore: str) -> None:
    assert answer(report_of(route, ore), "melt") in ("yes", "close")


@pytest.mark.parametrize(("route", "ore"), STARTS)
def test_a_charge_that_does_not_fit_is_offered_in_feeds_that_do(route: str, ore: str) -> None:
    """Nitre makes a heap swell: that is no target, and the answer brings its own way out."""
    report = report_of(route, ore)
    if answer(report, "fit") == "no":
        mend = next(v.mend for v in report.verdicts if v.key == "fit")
        assert mend is not None
        assert answer(evaluate(clicked(start(route, ore), mend)), "fit") != "no"


@pytest.mark.parametrize(("route", "ore"), STARTS)
def test_every_way_out_of_a_start_ends_the_complaint(route: str, ore: str) -> None:
    work, report = start(route, ore), report_of(route, ore)
    made = offers(work, balance(work))
    assert bool(made) == bool(report.solve.gave_way)
    for offer in made:
        after = evaluate(clicked(work, offer.mend))
        assert after.solve.gave_way == (), offer.sentence


@pytest.mark.parametrize("ore", ORES)
def test_the_lead_that_is_asked_for_is_the_lead_of_the_pot(ore: str) -> None:
    report = report_of("lead collection", ore)
    assert report.pot is not None
    assert target(report, "lead_button").value == pytest.approx(report.pot.redox.lead.value, abs=0.01)


@pytest.mark.parametrize(
    ("ore", "iron"),
    [("Pyrite", 13.97), ("Galena", 7.00), ("Chalcopyrite", 4.57), ("Arsenopyrite", 0.0), ("Quartz", 0.0)],
)
def test_iron_is_asked_for_by_stoichiometry_and_a_quarter_more(ore: str, iron: float) -> None:
    """30 g of each, by hand: FeS2 + Fe, PbS + Fe, 2 CuFeS2 + Fe to Cu2S and 3 FeS; FeAsS has its own iron. A little,
    0.02 g, is for the silver of the ore."""
    asked = target(report_of("iron", ore), "iron_for_sulphur")
    assert asked.lo == pytest.approx(1.25 * iron, abs=0.04)
    assert asked.value is not None
    assert asked.hi is not None
    assert asked.lo is not None
    assert asked.lo - 0.01 <= asked.value <= asked.hi + 0.01


@pytest.mark.parametrize(("ore", "sulphur"), [("Pyrite", 16.04), ("Galena", 4.02), ("Chalcopyrite", 10.48)])
def test_soda_for_sulphur_is_asked_for_by_stoichiometry(ore: str, sulphur: float) -> None:
    """Na2CO3 to a sulphur, and a fifth more: 3.31 g of soda ash to a gram."""
    assert target(report_of("iron", ore), "soda_for_sulphur").lo == pytest.approx(1.2 * 3.306 * sulphur, rel=0.01)
