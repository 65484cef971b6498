"""What the report says of the pot: every figure in its place, a sentence for every odd charge."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from math import isfinite, pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fill_report import fill_report
from fluxlab.design.pot_charge import fusion_charge, pot_mass
from fluxlab.design.pot_oxygen import wanted_lead
from fluxlab.design.pot_report import LEAST_BUTTON, pot_report
from fluxlab.design.pot_rows import pot_rows
from fluxlab.design.pot_text import hold_sentence, recovery_sentence
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Line, Shelf, Work
from fluxlab.design.report_types import Amount
from fluxlab.design.start import demo_work
from fluxlab.fusion.aim import budget_state, state_name
from fluxlab.fusion.deportment import deportment_data
from fluxlab.fusion.pot_words import grams as in_words
from fluxlab.materials.flux_types import ByParts, Component, Part
from fluxlab.materials.minerals import minerals
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.vessel.vessel_types import Crucible
from tests.works import CLEAN, DIRTY, with_lines, work_of

ROUTES = ("roast and melt", "nitre", "iron", "lead collection")
THICK = Amount(1.0, 0.4, 2.5)


def report(work: Work, viscosity: Amount | None = THICK) -> PotReport:
    found = balance(work)
    return pot_report(work, found, fill_report(found), viscosity)


def weighed(work: Work, **grams: float) -> Work:
    """The work with rows fixed by hand [g], by flux id with _ for -."""
    by_id = {name.replace("_", "-"): g for name, g in grams.items()}
    kept = tuple(line for line in work.recipe.lines if line.flux not in by_id)
    return with_lines(work, *kept, *(Line(uid, g) for uid, g in by_id.items()))


def ore(**shares: float) -> OreType:
    names = {m.formula: m.name for m in minerals().values()}
    return OreType("odd", "Odd", minerals=tuple(Share(names[f], g) for f, g in shares.items()), silver=Grade(3000.0))


def numbers(value: Any) -> list[float]:
    """Every number in a frozen value."""
    if isinstance(value, bool | str) or value is None:
        return []
    if isinstance(value, int | float):
        return [float(value)]
    if is_dataclass(value):
        return [x for field in fields(value) for x in numbers(getattr(value, field.name))]
    if isinstance(value, Mapping):
        return [x for each in value.values() for x in numbers(each)]
    return [x for each in value for x in numbers(each)]


def amounts(value: Any) -> list[Amount]:
    """Every figure with a range in a frozen value."""
    if isinstance(value, Amount):
        return [value]
    if is_dataclass(value):
        return [x for field in fields(value) for x in amounts(getattr(value, field.name))]
    return [x for each in value for x in amounts(each)] if isinstance(value, tuple) else []


def sources(value: Any) -> list[str]:
    """Every source in a frozen value."""
    if isinstance(value, tuple):
        return [x for each in value for x in sources(each)]
    if not is_dataclass(value):
        return []
    own = [getattr(value, field.name) for field in fields(value) if field.name == "source"]
    return [*own, *(x for field in fields(value) for x in sources(getattr(value, field.name)))]


@pytest.mark.parametrize("route", ROUTES)
@pytest.mark.parametrize("ore_type", [CLEAN, DIRTY])
def test_every_route_gets_figures_in_their_ranges_and_every_row_its_source(route: str, ore_type: OreType) -> None:
    found = report(work_of(ore_type, route))
    assert all(isfinite(x) for x in numbers(found))
    for each in amounts(found):
        if each.low is not None and each.high is not None:
            assert each.low - 1e-9 <= each.value <= each.high + 1e-9
    told = sources(found)
    assert len(told) > 15
    assert all(source.strip() for source in told)


def test_silver_is_all_there_and_the_button_no_heavier_than_its_metals() -> None:
    work = work_of(CLEAN)
    found = report(work)
    assert sum(row.grams.value for row in found.silver) == pytest.approx(balance(work).feed.silver, rel=1e-9)
    assert sum(row.percent for row in found.silver) == pytest.approx(100.0)
    assert sum(row.grams.value for row in found.button.metals) == pytest.approx(found.button.mass.value, rel=0.01)
    assert found.silver[0].place == "button"


def test_yield_and_recovery_are_told_apart_and_a_rich_button_is_no_good_yield() -> None:
    found = report(weighed(work_of(CLEAN), charcoal=2.5))
    assert found.button.yield_percent == pytest.approx(found.button.mass.value)
    assert found.button.silver_recovery_percent is not None
    assert found.button.silver_recovery_percent.value > 5.0 * found.button.yield_percent
    assert "yield" in found.button.sentence
    assert "recovery" in found.button.sentence


def test_charcoal_goes_the_way_of_the_balance() -> None:
    none, some = (report(weighed(work_of(CLEAN), charcoal=g)) for g in (0.0, 2.5))
    taken = {row.name: row.oxygen for row in some.redox.rows if row.takes}
    assert taken["Charcoal"] == pytest.approx(2.5 * 22.6 * 15.999 / 207.2, rel=1e-6)
    assert some.redox.budget is not None
    assert none.redox.budget is not None
    assert some.redox.budget > 0.9 > none.redox.budget
    assert some.redox.ferric_percent < none.redox.ferric_percent
    assert [row.met_percent for row in some.redox.rows if not row.takes and row.name == "litharge"] == [100.0]


def test_the_pot_wall_counts_in_graphite_and_not_in_clay() -> None:
    work = work_of(CLEAN)
    pot = replace(work.shelf.crucible(work.recipe.crucible), uid="clay", material="clay")
    clay = Work(replace(work.recipe, crucible="clay"), replace(work.shelf, crucibles=(pot,)))
    names = [{row.name for row in report(each).redox.rows} for each in (work, clay)]
    assert "pot wall" in names[0]
    assert "pot wall" not in names[1]


def test_a_button_is_aimed_at_on_the_lead_route_alone_with_what_it_still_wants() -> None:
    assert report(work_of(CLEAN)).redox.lead_wanted is None
    work = work_of(DIRTY, "lead collection", charge=20.0, pot_feed="calcine")
    found = report(work)
    assert found.redox.lead_wanted == wanted_lead(balance(work).targets)
    assert found.redox.reducer_name == "Wheat flour"
    assert found.cupel is not None
    lead = next(row.grams.value for row in found.button.metals if row.symbol == "Pb")
    assert found.cupel.cupel == pytest.approx(lead)
    sulphidic = report(work_of(CLEAN, "lead collection", charge=20.0))
    assert sulphidic.redox.nitre_wanted is not None
    assert sulphidic.redox.nitre_wanted > 1.0
    assert report(work_of(CLEAN)).cupel is None


def test_flour_that_is_wanting_brings_the_button() -> None:
    work = weighed(work_of(DIRTY, "lead collection", charge=20.0, pot_feed="calcine"), wheat_flour=1.0, litharge=60.0)
    first = report(work)
    assert first.redox.reducer_wanted is not None
    more = weighed(work, wheat_flour=1.0 + first.redox.reducer_wanted.value, litharge=60.0)
    assert report(more).redox.lead.value == pytest.approx(first.redox.lead_wanted, rel=1e-6)


def test_raw_sulphide_without_oxidiser_is_a_matte_smelt_and_says_so() -> None:
    found = report(weighed(work_of(CLEAN, "nitre"), nitre=0.0))
    assert found.answer == "no"
    assert "matte takes the silver" in found.reason
    assert found.sulphur.matte.value > 5.0
    assert found.sulphur.iron_wanted is not None
    assert found.sulphur.nitre_wanted is not None
    held = sum(row.sulphur for row in found.sulphur.rows)
    assert held == pytest.approx(found.sulphur.total, rel=1e-6)
    assert "melt for their silver" in found.retreat


def test_a_dead_roast_with_a_reducer_brings_the_metal_down() -> None:
    found = report(weighed(work_of(CLEAN), charcoal=2.5), Amount(0.2, 0.1, 0.4))
    assert found.answer == "yes"
    assert "button" in found.figure
    assert found.state == "reducing"
    assert found.sulphur.sentence == "No matte and no speiss are to be expected."


def test_without_viscosity_drops_and_foam_are_not_known_but_the_metal_is_told() -> None:
    found = report(work_of(CLEAN), None)
    assert found.drops is None
    assert (found.gas.foam, found.gas.free, found.gas.minutes_needed) == (None, None, None)
    assert "not known" in found.gas.sentence
    assert found.button.mass.value > 0.0
    assert next(row.grams.value for row in found.silver if row.place.startswith("drops")) > 0.0


def test_a_stiff_slag_holds_back_more_and_asks_for_a_longer_hold() -> None:
    thin, stiff = (report(work_of(CLEAN), Amount(mu, mu / 2, mu * 2)) for mu in (0.2, 5.0))
    assert thin.drops is not None
    assert stiff.drops is not None
    assert thin.drops.trapped_percent.value < stiff.drops.trapped_percent.value
    assert stiff.drops.advised == 20.0
    assert "thin the slag" in stiff.drops.sentence


def test_a_longer_hold_leaves_less_in_the_slag() -> None:
    short, long = (report(work_of(CLEAN, hold=minutes)) for minutes in (5.0, 20.0))
    assert short.drops is not None
    assert long.drops is not None
    assert long.drops.trapped_percent.value < short.drops.trapped_percent.value
    assert long.button.mass.value > short.button.mass.value


def test_feeds_share_the_gas_and_its_foam() -> None:
    one, four = (report(work_of(CLEAN, feeds=n)) for n in (1, 4))
    assert one.gas.foam is not None
    assert four.gas.foam is not None
    assert four.gas.foam < 0.4 * one.gas.foam
    assert four.gas.litres == pytest.approx(one.gas.litres, rel=0.3)


def test_the_stages_of_the_gas_follow_each_other_and_end_at_the_pour() -> None:
    found = report(weighed(work_of(DIRTY, "nitre"), nitre=5.0, borax_decahydrate=20.0))
    ends = [(stage.low, stage.high) for stage in found.gas.stages]
    assert ends == sorted(ends)
    assert found.gas.stages[0].giver == "Borax, crystals"
    assert found.gas.stages[-1].high <= 1150.0 + 1e-9
    assert all(row.litres > 0.0 for row in found.gas.sources)


def test_crystals_of_borax_cost_heat_and_say_so() -> None:
    rest = {"soda_ash_dense": 80.0, "silica_sand": 50.0, "charcoal": 0.0}
    glass = report(weighed(work_of(CLEAN), borax_glass=40.0, **rest))
    crystals = report(weighed(work_of(CLEAN), borax_decahydrate=75.8, borax_glass=0.0, **rest))
    assert glass.heat is not None
    assert crystals.heat is not None
    assert crystals.heat.total > glass.heat.total + 100.0
    assert crystals.heat.fluxes[0].name == "Borax, crystals"
    assert "Borax, crystals takes" in crystals.heat.sentence
    assert sum(row.heat for row in crystals.heat.rows) == pytest.approx(crystals.heat.total)


def test_propane_is_told_only_where_propane_may_burn() -> None:
    work = work_of(CLEAN)
    electric = Work(work.recipe, replace(work.shelf, workshop=replace(work.shelf.workshop, fuel="electric")))
    first, second = report(work).heat, report(electric).heat
    assert first is not None
    assert first.propane is not None
    assert second is not None
    assert second.propane is None
    assert "propane" not in second.sentence


def test_without_a_pot_there_is_no_heat_and_no_drops_but_a_button() -> None:
    found = report(work_of(CLEAN, crucible=""))
    assert (found.heat, found.drops) == (None, None)
    assert found.button.mass.value > 0.0


def test_a_jar_reduces_and_oxidises_by_its_parts() -> None:
    work = work_of(CLEAN, "lead collection", charge=20.0, pot_feed="calcine")
    jar = Component("jar", "House jar", ByParts((Part("litharge", 80.0), Part("wheat-flour", 5.0), Part("nitre", 2.0))))
    shelf = replace(work.shelf, fluxes=(*work.shelf.fluxes, jar))
    charge = _charge_of(Work(replace(work.recipe, lines=(Line("jar", 87.0),)), shelf))
    assert [r.grams for r in charge.reducers] == [pytest.approx(5.0)]
    assert charge.nitrates["KNO3"] == pytest.approx(2.0 * 0.97)
    assert charge.flux_lead == pytest.approx(80.0 * 0.97 * 0.92833, rel=1e-4)


def _charge_of(work: Work) -> Any:
    found = balance(work)
    return fusion_charge(work, found, fill_report(found), THICK)


def test_weight_of_a_pot_is_that_of_its_wall_and_base() -> None:
    pot = Crucible("p", "Pot", 30.0, 30.0, 100.0, wall=8.0, base=10.0)
    brim, outer = pi * 3.0**2 * 10.0, pi * 3.8**2 * 11.0
    assert pot_mass(pot, brim) == pytest.approx((outer - brim) * 1.8e-3, rel=1e-6)
    assert pot_mass(pot, 0.0) >= 0.0


ODD: dict[str, tuple[Work, str]] = {
    "pure sulphide": (work_of(ore(FeS2=100.0), pot_feed="concentrate"), "matte"),
    "pure quartz": (work_of(ore(SiO2=100.0)), ""),
    "nothing but arsenopyrite": (work_of(ore(FeAsS=100.0), pot_feed="concentrate"), "arsenic leaves as vapour"),
    "nitre with flour": (weighed(work_of(CLEAN, "nitre"), nitre=10.0, wheat_flour=3.0), "burn each other"),
    "mercury": (work_of(ore(HgS=30.0, SiO2=70.0), pot_feed="concentrate"), "retort"),
    "all water": (work_of(replace(CLEAN, moisture=100.0)), ""),
    "nearly all water": (work_of(replace(CLEAN, moisture=99.9), pot_feed="concentrate"), ""),
    "no charge": (work_of(CLEAN, charge=0.0), ""),
    "no minerals": (work_of(OreType("none", "Nothing"), charge=50.0), ""),
    "an empty shelf": (Work(work_of(CLEAN).recipe, Shelf()), ""),
    "no end of charcoal": (weighed(work_of(CLEAN), charcoal=500.0), "times the reducer"),
    "pour below freezing": (work_of(CLEAN, pour_temperature=-40.0), ""),
    "no hold": (work_of(CLEAN, hold=0.0), ""),
}


@pytest.mark.parametrize("what", ODD)
@pytest.mark.parametrize("viscosity", [THICK, None, Amount(0.0), Amount(1e9, 1e8, 1e10)])
def test_an_odd_charge_gets_figures_and_its_sentence(what: str, viscosity: Amount | None) -> None:
    work, word = ODD[what]
    found = report(work, viscosity)
    assert all(isfinite(x) for x in numbers(found))
    said = " ".join(f"{issue.sentence} {issue.remedy}" for issue in found.issues)
    assert word in said


NAMES = sorted(m.name for m in minerals().values())


@given(
    shares=st.dictionaries(st.sampled_from(NAMES), st.floats(0.1, 100.0), min_size=1, max_size=6),
    route=st.sampled_from(ROUTES),
    feed=st.sampled_from(["concentrate", "calcine"]),
    nitre=st.floats(0.0, 30.0),
    flour=st.floats(0.0, 10.0),
)
@settings(deadline=None, max_examples=40)
def test_any_ore_on_any_route_gets_numbers(
    shares: dict[str, float], route: str, feed: str, nitre: float, flour: float
) -> None:
    total = sum(shares.values())
    described = OreType(
        "any", "Any", minerals=tuple(Share(n, 100.0 * g / total) for n, g in shares.items()), silver=Grade(1000.0)
    )
    work = work_of(described, route, pot_feed=feed)
    found = report(weighed(work, nitre=nitre, wheat_flour=flour))
    assert all(isfinite(x) for x in numbers(found))
    assert sum(row.percent for row in found.silver) == pytest.approx(100.0, abs=1e-6)


def test_an_ore_without_an_assay_and_silver_is_not_judged() -> None:
    found = report(work_of(replace(CLEAN, silver=None)))
    assert (found.answer, found.reason) == ("unknown", "no silver or gold grade given")
    assert "not known" in found.button.sentence


@pytest.mark.parametrize(("position", "iron", "state"), [
    (-1.0, 0.0, "oxidising"), (0.1, 0.0, "neutral"), (1.2, 0.0, "reducing"), (1.2, 0.9, "reducing with iron"),
])  # fmt: skip
def test_state_of_the_pot_in_words(position: float, iron: float, state: str) -> None:
    assert state_name(position, iron, deportment_data()["states"]) == state


@pytest.mark.parametrize(("value", "words"), [
    (412.4, "412 g"), (47.23, "47.2 g"), (1.234, "1.23 g"), (0.0123, "12 mg"), (0.0, "0 g"), (1e-6, "0 g"),
])  # fmt: skip
def test_masses_in_words(value: float, words: str) -> None:
    assert in_words(value) == words


def test_a_route_names_its_rules_and_says_where_the_pot_is_not_as_it_wants() -> None:
    bare = report(weighed(work_of(CLEAN, "nitre"), nitre=0.0, wheat_flour=3.0, litharge=60.0))
    assert "Nitre on sulphide" in bare.watch
    assert "this route wants it oxidising or neutral" in bare.redox.sentence
    lead = report(work_of(DIRTY, "lead collection", charge=20.0, pot_feed="calcine"))
    assert "reducing, as this route wants it" in lead.redox.sentence
    ironed = report(weighed(work_of(CLEAN, "iron"), iron_filings=90.0))
    assert ironed.state == "reducing with iron"
    assert "as this route wants it" in ironed.redox.sentence


def with_own(figures: dict[str, float], work: Work | None = None, viscosity: Amount | None = THICK) -> PotReport:
    work = work or work_of(CLEAN)
    found = balance(work)
    return pot_report(work, found, fill_report(found), viscosity, figures)


def test_figures_of_memory_and_judgement_are_told_with_their_sources() -> None:
    rows = {row.key: row for row in report(work_of(CLEAN)).figures}
    assert rows["wall_carbon"].value == Amount(0.2, 0.1, 0.4)
    assert rows["matte_ratio"].value.value == 0.46
    assert rows["burner_power"].unit == "kW"
    assert not any(row.own for row in rows.values())
    flags = ("judgement", "memory", "found", "fitted", "stated")
    assert all(any(flag in row.source for flag in flags) for row in rows.values())


def test_shares_are_asked_only_of_elements_in_the_charge() -> None:
    shares = {row.key for row in report(work_of(CLEAN)).figures if ":" in row.key}
    assert {"metal:Pb", "fume:Pb", "fume:Ag"} <= shares
    assert "metal:Ag" not in shares
    assert not {"metal:Hg", "metal:W", "fume:Te"} & shares


def test_the_figures_of_the_shipped_tables_given_as_own_change_no_likely_value() -> None:
    shipped = report(work_of(CLEAN))
    untold = ("slag_ratio", "trapped", "prill")
    own = {row.key: row.value.value for row in shipped.figures if row.key not in untold and ":" not in row.key}
    same = with_own(own)
    assert same.button.silver_fineness.value == pytest.approx(shipped.button.silver_fineness.value, rel=1e-9)
    assert same.redox.supply.value == pytest.approx(shipped.redox.supply.value, rel=1e-9)
    assert same.heat is not None
    assert shipped.heat is not None
    assert same.heat.minutes.value == pytest.approx(shipped.heat.minutes.value, rel=1e-9)


@pytest.mark.parametrize("value", [-1.0, float("nan"), float("inf"), 1e9])
def test_a_figure_that_makes_no_sense_is_refused_in_words(value: float) -> None:
    found = with_own({"burner_power": value, "no such": 1.0})
    said = " ".join(issue.sentence for issue in found.issues)
    assert "power of the burner" in said
    assert "no such" in said
    assert found.heat == report(work_of(CLEAN)).heat


@pytest.mark.parametrize("route", ["roast and melt", "nitre", "iron", "lead collection"])
def test_the_state_of_the_pot_is_said_on_every_route(route: str) -> None:
    found = report(work_of(CLEAN, route))
    assert f"is {found.state}" in found.redox.sentence


def test_where_the_sulphides_reduce_nobody_is_told_to_take_less_of_a_reducer() -> None:
    rich = (Share("Pyrite", 30.0), Share("Chalcopyrite", 30.0), Share("Galena", 20.0), Share("Quartz", 20.0))
    work = work_of(replace(DIRTY, minerals=rich), "lead collection")
    found = report(replace(work, recipe=replace(work.recipe, pot_feed="concentrate")))
    told = next(issue for issue in found.issues if "times the reducer" in issue.sentence)
    assert told.sentence.startswith("The sulphides of the ore")
    assert "Roast the ore further, or add nitre" in told.remedy
    assert told.sentence in found.redox.sentence
    spilt = report(weighed(work_of(CLEAN), charcoal=500.0))
    (told,) = [issue for issue in spilt.issues if "times the reducer" in issue.sentence]
    assert told.remedy == "Take less of the reducer. Where you want that metal, switch on “Reducers to demand”."


def test_a_button_of_nothing_is_none_and_a_heavy_one_has_no_power_of_ten() -> None:
    assert "No button" in recovery_sentence(1.7e-6, Amount(0.0, 0.0, 0.0))
    assert "Of the gold in the charge 98 %" in recovery_sentence(91.5, Amount(98.0, 82.0, 100.0), "gold")
    assert "weighs 1\u202f200 % of the ore charged" in recovery_sentence(1200.0, None)
    assert "weighs 3.41 % of the ore charged" in recovery_sentence(3.4055, None)


@pytest.mark.parametrize(("budget", "verdict"), [(0.5, "short"), (1.2, "meets"), (2.0, "over")])
def test_a_budget_has_one_word_for_the_figure_that_is_shown(budget: float, verdict: str) -> None:
    assert budget_state(budget, (0.9, 1.5)) == verdict
    assert budget_state(0.899999, (0.9, 1.5)) == budget_state(0.900001, (0.9, 1.5)) == "meets"


def test_words_for_the_hold() -> None:
    assert "no hold brings it down" in hold_sentence(10.0, None, 20.0, 20.0)
    assert "Hold 15 min" in hold_sentence(10.0, 15.0, 15.0, 20.0)
    assert "enough" in hold_sentence(10.0, 3.0, 5.0, 20.0)


@pytest.mark.parametrize("feed", ["concentrate", "calcine"])
def test_quartz_with_a_little_silver_wants_a_collector_and_not_less_matte(feed: str) -> None:
    ore = OreType("q", "Quartz", minerals=(Share("Quartz", 100.0),), silver=Grade(500.0))
    pot = report(work_of(ore, pot_feed=feed))
    assert (pot.answer, pot.reason) == ("no", "no metal comes down: a collector is wanting")
    raw = OreType("p", "Pyrite", minerals=(Share("Pyrite", 100.0),), silver=Grade(500.0))
    matte = report(work_of(raw, pot_feed="concentrate"))
    assert matte.reason.endswith("of matte takes the silver")


def test_less_than_half_a_milligram_of_metal_is_no_button() -> None:
    ore = OreType("q", "Quartz", minerals=(Share("Quartz", 100.0),), gold=Grade(3.0))
    pot = report(work_of(ore, "iron", pot_feed="concentrate"))
    assert 0.0 < pot.button.mass.value < LEAST_BUTTON
    assert pot.reason == "no metal comes down: a collector is wanting"


def test_a_gold_button_tells_its_gold_and_no_silver_that_nobody_asked_for() -> None:
    ore_type = replace(CLEAN, minerals=(Share("Quartz", 100.0),), silver=None, gold=Grade(1.0, "oz/short ton"))
    report = evaluate(work_of(ore_type, "lead collection", pot_feed="calcine", charge=30.0))
    told = dict(pot_rows(report.pot)) if report.pot else {}
    assert "Of the gold in the charge" in told["  yield and recovery"]
    assert "not known" not in told["  yield and recovery"]
    # 34.2857 g/t of 30 g in 28 g of lead, half lost at the worst
    gold = float(told["  gold in a thousand"].split()[0])
    assert 0.02 < gold < 1000.0 * 34.2857e-6 * 30.0 / 25.0
    assert "  silver in a thousand" not in told


def test_the_density_of_a_button_covers_what_its_metals_may_be() -> None:
    button = evaluate(demo_work()).pot
    assert button is not None
    density, metals = button.button.density, {m.symbol: m.grams for m in button.button.metals}
    assert density is not None
    assert {"Ag", "Cu"} <= set(metals)
    assert density.high is not None
    # without the copper it is silver, 10.49 g/cm3 (CRC Handbook)
    assert density.high > 10.2


def test_lead_that_the_wall_brings_down_is_said_to_stay_in_the_figures_of_the_slag() -> None:
    leaden = replace(CLEAN, minerals=(Share("Galena", 30.0), Share("Quartz", 70.0)))
    told = dict(pot_rows(report(work_of(leaden))))["  lead from its oxide"]
    assert told.endswith("; what the wall of the pot takes of it stays in the figures of the slag")
    aimed = dict(pot_rows(report(work_of(leaden, "lead collection", pot_feed="calcine"))))
    assert "wall" not in aimed["  lead from its oxide"]
