"""The caution rules met by whole recipes: what a plan says is what the rules are asked with."""

import re
from dataclasses import replace
from datetime import datetime

import pytest

from fluxlab.design import edits
from fluxlab.design.cautions.findings import rough
from fluxlab.design.evaluate import evaluate
from fluxlab.design.pot_types import SulphurReport
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_text import findings_text
from fluxlab.design.report_text import text_of as report_text
from fluxlab.design.report_types import Caution
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build
from fluxlab.design.ticket_text import text_of as ticket_text
from fluxlab.design.workshop import Workshop
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import CLEAN, with_lines, work_of


def ore(*minerals: tuple[str, float], silver: float | None = 500.0) -> OreType:
    grade = None if silver is None else Grade(silver)
    return OreType("o", "Ore", minerals=tuple(Share(name, share) for name, share in minerals), silver=grade)


def met(work: Work) -> dict[str, Caution]:
    return {c.rule: c for c in evaluate(work).cautions}


def levels(work: Work) -> dict[str, str]:
    return {rule: c.level for rule, c in met(work).items()}


def raw(*lines: Line, minerals: tuple[tuple[str, float], ...], route: str = "roast and melt") -> Work:
    """A recipe that melts unroasted concentrate with weights fixed by hand."""
    return with_lines(work_of(ore(*minerals), route, pot_feed="concentrate"), *lines)


GALENA = (("Galena", 60.0), ("Quartz", 40.0))
SODA, SAND = Line("soda-ash-dense", 60.0), Line("silica-sand", 20.0)


def test_the_demo_is_asked_what_its_card_leaves_open_and_one_statement_lets_its_ticket_out() -> None:
    found = levels(demo_work())
    assert {rule for rule, level in found.items() if level == "block"} == {"R50"}
    assert {"R18", "R19", "R38", "R45", "R49", "R50"} == found.keys()
    _, stated = edits.set_workshop(demo_work(), Workshop(ppe=True))
    assert levels(stated)["R50"] == "caution"
    assert "block" not in levels(stated).values()


def test_a_stated_danger_of_the_place_stops_the_demo_until_it_is_confirmed() -> None:
    _, work = edits.set_workshop(demo_work(), Workshop(indoors=True, ppe=True))
    assert {rule: c.lift for rule, c in met(work).items() if c.level == "block"} == {
        "R19": "operator",
        "R45": "operator",
    }
    assert "38 L" in met(work)["R19"].because


def test_raw_sulphide_alone_makes_so_much_matte_that_nobody_may_lift_it() -> None:
    work = raw(SODA, SAND, minerals=GALENA)
    found = met(work)
    assert found["R23"].level == "block"
    assert found["R23"].lift == "never"
    assert "8.0 % of the ore charged" in found["R23"].because
    assert "R22" not in found
    assert found["R24"].level == "warn"


def test_iron_enough_for_the_sulphur_answers_for_it_and_a_token_does_not() -> None:
    # 100 g of charge hold 8.04 g sulphur, which asks for 14 g iron
    for grams, fires in ((1.0, True), (15.0, False)):
        work = raw(SODA, SAND, Line("iron-filings", grams), minerals=GALENA, route="iron")
        assert ("R23" in met(work)) is fires
        assert ("R24" in met(work)) is fires
    # of the 8.04 g, 0.57 g go to a gram of iron
    assert "7.5 g sulphide sulphur" in met(raw(SODA, SAND, Line("iron-filings", 1.0), minerals=GALENA))["R24"].because


def test_litharge_answers_for_sulphide_and_flour_takes_it_away_again() -> None:
    litharge = Line("litharge", 250.0)
    clear = raw(SODA, litharge, minerals=GALENA, route="lead collection")
    assert "R23" not in met(clear)
    starved = raw(SODA, litharge, Line("wheat-flour", 20.0), minerals=GALENA, route="lead collection")
    assert met(starved)["R23"].level == "block"


def test_matte_that_is_kept_is_a_warning() -> None:
    _, work = edits.set_workshop(raw(SODA, SAND, minerals=GALENA), Workshop(matte_kept=True))
    assert met(work)["R23"].level == "warn"


def test_nitre_in_a_graphite_pot_is_warned_of_and_beside_iron_stopped() -> None:
    calcine = work_of(CLEAN, "nitre")
    pot = next(p.uid for p in calcine.shelf.crucibles if p.material == "clay-graphite")
    nitre = edits.set_crucible(with_lines(calcine, SODA, SAND, Line("nitre", 8.0)), pot)[1]
    found = levels(nitre)
    assert found["R13"] == "warn"
    assert "R26" not in found
    assert levels(edits.fix_weight(nitre, "iron-filings", 5.0)[1])["R26"] == "block"


@pytest.mark.parametrize(
    ("rule", "level", "minerals"),
    [
        ("R15", "block", (("Cinnabar", 1.0), ("Quartz", 99.0))),
        ("R16", "block", (("Arsenopyrite", 5.0), ("Quartz", 95.0))),
        ("R17", "warn", (("Stibnite", 5.0), ("Quartz", 95.0))),
        ("R17", "warn", (("Calaverite", 1.0), ("Quartz", 99.0))),
        ("R17", "warn", (("Greenockite", 1.0), ("Quartz", 99.0))),
        ("R18", "warn", (("Cerussite", 5.0), ("Quartz", 95.0))),
        ("R29", "warn", (("Anglesite", 10.0), ("Quartz", 90.0))),
        ("R34", "caution", (("Chromite", 6.0), ("Quartz", 94.0))),
        ("R37", "caution", (("Pyrolusite", 15.0), ("Quartz", 85.0))),
        ("R38", "warn", (("Quartz", 50.0), ("Hematite", 50.0))),
        ("R48", "block", (("Monazite (Ce)", 1.0), ("Quartz", 99.0))),
    ],
)
def test_minerals_of_the_ore_meet_their_rule(rule: str, level: str, minerals: tuple[tuple[str, float], ...]) -> None:
    assert levels(work_of(ore(*minerals)))[rule] == level
    assert rule not in levels(with_lines(work_of(ore(("Hematite", 100.0))), SODA))


def speiss(*minerals: tuple[str, float], iron: float = 0.0) -> tuple[str, SulphurReport, float]:
    """What the rule says of a raw charge, what the pot makes of it, and its arsenic [g]."""
    lines = (SODA, SAND, Line("iron-filings", iron)) if iron else (SODA, SAND)
    report = evaluate(raw(*lines, minerals=minerals))
    assert report.pot is not None
    return next(c.because for c in report.cautions if c.rule == "R25"), report.pot.sulphur, report.ore.arsenic


def test_the_speiss_that_is_told_is_the_one_that_the_pot_makes() -> None:
    said, sulphur, _ = speiss(("Arsenopyrite", 10.0), ("Quartz", 90.0), iron=10.0)
    made, most = sulphur.speiss.value, sulphur.speiss.high
    assert most is not None
    assert 5.0 < made < most
    assert f"the pot makes about {rough(made)} g speiss, {rough(most)} g at most" in said
    assert "nickel" not in said
    found = met(work_of(ore(("Mimetite", 10.0), ("Hematite", 90.0))))
    assert "iron; the pot books no Fe₅As₂" in found["R25"].because


def test_a_speiss_of_nickel_or_cobalt_is_said_to_be_unreckoned_with_the_most_that_it_can_be() -> None:
    bare, none, arsenic = speiss(("Nickeline", 10.0), ("Quartz", 90.0))
    assert none.speiss.value == 0.0
    assert "the pot books no Fe₅As₂" in bare
    # all of NiAs
    assert arsenic == pytest.approx(5.6, rel=0.01)
    assert bare.endswith("speiss of nickel or cobalt is not reckoned: up to 10 g more")
    held, some, _ = speiss(("Nickeline", 10.0), ("Quartz", 90.0), iron=10.0)
    left = arsenic - some.speiss.value * 2.0 * atomic_mass("As") / formula("Fe5As2").mass
    assert held.endswith(f"up to {rough(left + 10.0 - arsenic)} g more")
    assert "cobalt is not reckoned" in speiss(("Cobaltite", 10.0), ("Quartz", 90.0))[0]


def test_barite_is_said_only_beside_carbon() -> None:
    work = with_lines(work_of(ore(("Barite", 20.0), ("Quartz", 80.0))), SODA)
    assert "R35" not in met(work)
    assert levels(edits.fix_weight(work, "charcoal", 2.0)[1])["R35"] == "caution"


def test_carbonate_that_was_roasted_foams_no_more() -> None:
    minerals = (("Calcite", 30.0), ("Quartz", 70.0))
    assert levels(raw(SODA, minerals=minerals))["R36"] == "caution"
    assert "R36" not in met(work_of(ore(*minerals)))


def test_horn_silver_without_soda_and_reducer_is_warned_of() -> None:
    minerals = (("Chlorargyrite (horn silver)", 2.0), ("Quartz", 98.0))
    bare = with_lines(work_of(ore(*minerals)), Line("borax-glass", 50.0))
    assert levels(bare)["R21"] == "warn"
    assert "R21" not in met(edits.fix_weight(bare, "soda-ash-dense", 20.0)[1])


def test_an_ore_without_any_assay_is_to_be_tried_small() -> None:
    assert levels(work_of(ore(("Quartz", 100.0), silver=None)))["R47"] == "warn"
    assert "R47" not in met(work_of(ore(("Quartz", 100.0))))


def test_an_assay_that_leaves_much_unnamed_is_to_be_tried_small() -> None:
    assayed = OreType("o", "Ore", known_by="oxides", as_is=True, oxides=(Share("SiO2", 60.0),), silver=Grade(500.0))
    assert "40 % of the ore is not named" in met(work_of(assayed))["R47"].because


def test_a_hot_mould_and_a_long_hold_over_lead_are_warned_of() -> None:
    _, hot = edits.set_mould_preheat(demo_work(), 400.0)
    assert levels(hot)["R03"] == "warn"
    _, long = edits.set_hold(demo_work(), 45.0)
    assert levels(long)["R33"] == "warn"


def test_a_mould_too_small_for_the_pour_is_a_block_that_the_operator_may_lift() -> None:
    small = replace(demo_work().shelf.moulds[0], uid="small", depth=40.0)
    _, work = edits.set_mould(edits.put_mould(demo_work(), small)[1], "small")
    assert (met(work)["R04"].level, met(work)["R04"].lift) == ("block", "operator")
    assert met(work)["R04"].because.endswith("mm too shallow")


def test_everywhere_mercury_is_named_before_what_the_operator_may_lift() -> None:
    small = replace(demo_work().shelf.moulds[0], uid="small", depth=40.0)
    work = edits.put_mould(work_of(ore(("Cinnabar", 1.0), ("Quartz", 99.0))), small)[1]
    work = edits.set_dry(edits.set_mould(work, "small")[1], False)[1]
    report = evaluate(work)
    assert [c.rule for c in report.cautions if c.level == "block"] == ["R15", "R01", "R04", "R50"]
    assert next(v for v in report.verdicts if v.key == "safe").reason.startswith("Mercury")
    ticket = build(report, revision=None, copy=1, when=datetime(2026, 1, 1))
    assert [c.rule for c in ticket.cautions if c.level == "block"] == ["R15", "R01", "R04", "R50"]
    for words in (ticket_text(ticket), report_text(report), findings_text(report)):
        assert words.index("!! R15 Mercury" if "R15" in words else "Mercury:") < words.index("Mould room")


def test_a_tall_heap_of_bicarbonate_will_rise() -> None:
    work = with_lines(demo_work(), Line("sodium-bicarbonate", 120.0), Line("borax-glass", 90.0))
    assert levels(work)["R06"] == "warn"


def test_water_in_the_charge_is_told_as_steam() -> None:
    damp = replace(CLEAN, stage="calcine", moisture=5.0)
    assert "L of steam" in met(work_of(damp))["R01"].because


@pytest.mark.parametrize(
    "minerals",
    [(("Pyrite", 100.0),), (("Quartz", 100.0),), (("Arsenopyrite", 100.0),), (("Cinnabar", 100.0),)],
    ids=["sulphide", "quartz", "arsenopyrite", "mercury"],
)
@pytest.mark.parametrize("feed", ["calcine", "concentrate"])
def test_odd_ores_get_their_cautions_and_words_without_a_broken_figure(
    minerals: tuple[tuple[str, float], ...], feed: str
) -> None:
    for caution in evaluate(work_of(ore(*minerals), pot_feed=feed)).cautions:
        assert "nan" not in caution.because
        assert "inf" not in caution.because.replace("information", "")


def test_an_ore_that_is_all_water_is_a_block_and_no_crash() -> None:
    soaked = replace(CLEAN, stage="calcine", moisture=100.0)
    assert {c.level for c in evaluate(work_of(soaked)).cautions} <= {"block", "warn", "caution"}


def test_a_roast_finished_too_hot_over_lead_and_silica_is_warned_of() -> None:
    _, hot = edits.plan_roast(demo_work(), 820.0, 120.0)
    assert "820 °C" in met(hot)["R30"].because
    _, fair = edits.plan_roast(demo_work(), 740.0, 120.0)
    assert "R30" not in met(fair)


@pytest.mark.parametrize("mineral", ["Stibnite", "Realgar", "Orpiment"])
def test_a_roast_that_begins_too_hot_over_what_melts_early_is_warned_of(mineral: str) -> None:
    work = work_of(ore((mineral, 20.0), ("Quartz", 80.0)))
    plan = replace(work.recipe.roast, kind="planned")
    hot, fair = (edits.set_roast(work, replace(plan, start_temperature=t))[1] for t in (455.0, 450.0))
    assert f"{mineral} roasted from 455 °C on" in met(hot)["R30"].because
    assert "R30" not in met(fair)
    other = work_of(ore(("Pyrite", 20.0), ("Quartz", 80.0)))
    assert "R30" not in met(edits.set_roast(other, replace(plan, start_temperature=455.0))[1])


def test_a_short_roast_leaves_sulphur_that_the_rules_see() -> None:
    _, short = edits.plan_roast(demo_work(), 650.0, 30.0)
    found = met(short)
    assert found["R23"].level == "block"
    assert "R29" in found
    _, long = edits.plan_roast(demo_work(), 760.0, 180.0)
    assert "R23" not in met(long)


def test_the_planned_time_of_a_roast_spreads_its_gas() -> None:
    _, planned = edits.plan_roast(demo_work(), 740.0, 200.0)
    assert "over 200 min" in met(planned)["R19"].because


@pytest.mark.parametrize("moisture", [5.0, 99.9, 100.0, 150.0, float("nan")])
def test_damp_ore_blocks_whatever_is_ticked_and_an_impossible_moisture_is_damp(moisture: float) -> None:
    ore = replace(CLEAN, moisture=moisture)
    found = {c.rule: c.level for c in evaluate(work_of(ore, pot_feed="concentrate")).cautions}
    assert found["R01"] == "block"
    dried = {c.rule for c in evaluate(work_of(replace(CLEAN, moisture=0.0), pot_feed="concentrate")).cautions}
    assert "R01" not in dried


@pytest.mark.parametrize("moisture", [100.0, -1.0, 150.0, float("nan"), float("inf")])
@pytest.mark.parametrize(("pot_feed", "said"), [("concentrate", True), ("calcine", False)])
def test_what_is_said_of_an_impossible_moisture_is_what_the_rule_does(
    moisture: float, pot_feed: str, said: bool
) -> None:
    report = evaluate(work_of(replace(CLEAN, moisture=moisture), pot_feed=pot_feed))
    (issue,) = [i for i in report.issues if i.where == "ore.moisture"]
    assert ("damp in the cautions" in issue.sentence) is said
    assert ("before its roast" in issue.sentence) is not said
    assert ("R01" in {c.rule for c in report.cautions}) is said
    assert "less than 100 %" in issue.remedy


def pyritic(iron: float | None) -> Work:
    rows = () if iron is None else (Line("iron-filings", iron),)
    work = work_of(ore(("Pyrite", 30.0), ("Quartz", 60.0), ("Calcite", 10.0)), "iron", pot_feed="concentrate")
    return with_lines(work, Line("borax-glass"), Line("soda-ash-dense"), Line("silica-sand"), *rows)


def test_much_matte_is_lifted_by_the_iron_that_pyrite_asks_and_not_by_less() -> None:
    # FeS2 + Fe = 2 FeS: 0.4655 g of iron to a gram of pyrite
    enough = 30.0 * 55.845 / 119.98
    assert met(pyritic(None))["R23"].level == "block"
    assert met(pyritic(0.80 * enough))["R23"].level == "block"
    assert "R22" in met(pyritic(0.95 * enough))
    assert not {"R22", "R23"} & met(pyritic(1.01 * enough)).keys()
    # what the solver weighs, with its usual excess, is enough for the rule
    free = work_of(ore(("Pyrite", 30.0), ("Quartz", 60.0), ("Calcite", 10.0)), "iron", pot_feed="concentrate")
    assert "R23" not in met(free)


def test_sulphur_that_the_pot_burns_makes_no_matte_and_no_sulphide_slag() -> None:
    burnt = work_of(ore(("Pyrite", 5.0), ("Galena", 5.0), ("Quartz", 90.0)), "lead collection", pot_feed="concentrate")
    pot = evaluate(burnt).pot
    assert pot is not None
    assert pot.sulphur.sulphide == pytest.approx(0.0, abs=1e-6)
    assert not {"R22", "R24"} & met(burnt).keys()
    _, left = edits.fix_weight(burnt, "litharge", 0.0)
    assert {"R22", "R23"} & met(left).keys()


def test_no_reducer_is_advised_beside_nitre() -> None:
    rows = (Line("litharge", 60.0), Line("nitre", 20.0), Line("wheat-flour", 5.0), Line("borax-glass"))
    work = with_lines(work_of(ore(("Quartz", 100.0)), "lead collection"), *rows)
    report = evaluate(work)
    assert "R11" in met(work)
    assert report.pot is not None
    assert report.pot.redox.reducer_wanted is None
    told = " ".join((*(f"{i.sentence} {i.remedy}" for i in report.pot.issues), report_text(report)))
    assert "give no reducer beside it" in told
    assert not re.search(r"Add (flour|charcoal)|more of Wheat flour", told)


def test_gas_that_may_lift_the_melt_over_the_rim_is_no_plain_yes_to_the_fit() -> None:
    burnt = work_of(ore(("Pyrite", 5.0), ("Galena", 5.0), ("Quartz", 90.0)), "lead collection", pot_feed="concentrate")
    for work in (burnt, demo_work()):
        report = evaluate(work)
        fit = next(v for v in report.verdicts if v.key == "fit")
        assert fit.answer != "yes" if "R08" in met(work) else fit.answer == "yes"
    assert "R08" in met(burnt)
