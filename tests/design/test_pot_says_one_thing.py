"""What the report says of the pot never contradicts itself, whatever the recipe: budget, state, matte, iron, button."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fill_report import fill_report
from fluxlab.design.pot_report import pot_report
from fluxlab.design.pot_rows import pot_rows
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_types import Amount
from fluxlab.fusion.aim import budget_state
from fluxlab.fusion.routes import routes
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import CLEAN, DIRTY, with_lines, work_of

ROUTES = ("roast and melt", "nitre", "iron", "lead collection")
MINERALS = (
    "Galena", "Pyrite", "Chalcopyrite", "Sphalerite (pure)", "Arsenopyrite", "Stibnite", "Cerussite", "Hematite",
    "Malachite", "Pyrolusite", "Anglesite", "Quartz", "Orthoclase", "Calcite",
)  # fmt: skip
TOO_LITTLE, TOO_MUCH = "too little", "more than is good"
LESS = ("Take less of the reducer", "Take less nitre", "Roast the ore further")


def pot_of(work: Work) -> PotReport:
    found = balance(work)
    return pot_report(work, found, fill_report(found), Amount(1.0, 0.4, 2.5))


def weighed(work: Work, **grams: float) -> Work:
    """The work with rows fixed by hand [g], by flux id with _ for -."""
    by_id = {name.replace("_", "-"): g for name, g in grams.items()}
    kept = tuple(line for line in work.recipe.lines if line.flux not in by_id)
    return with_lines(work, *kept, *(Line(uid, g) for uid, g in by_id.items()))


def ore(*minerals: tuple[str, float]) -> OreType:
    total = sum(share for _, share in minerals)
    return OreType("o", "Ore", minerals=tuple(Share(m, 100.0 * s / total) for m, s in minerals), silver=Grade(3000.0))


def check(work: Work, pot: PotReport) -> None:
    """Everything that one sentence of the pot could say against another."""
    said, remedies = pot.redox.sentence, " ".join(issue.remedy for issue in pot.issues)
    sentences = " ".join(issue.sentence for issue in pot.issues)
    wants, states = "wants it." in said, routes()[work.recipe.route].states
    # the state that is named is the one of the heading, and it is wanted where nothing is amiss alone
    assert f"The pot is {pot.state}" in said
    assert wants == (pot.redox.verdict == "meets" and "your own" not in pot.redox.asked)
    assert not (wants and any(words in said for words in (TOO_LITTLE, TOO_MUCH, "left short", "does not reach")))
    assert not (TOO_LITTLE in said and TOO_MUCH in said)
    assert said.count("The pot is") == 1
    if pot.redox.verdict in ("meets", "idle"):
        assert TOO_LITTLE not in said + sentences
        assert "Add flour or charcoal." not in remedies
        assert "Take less of the reducer" not in remedies
    if pot.redox.verdict == "short":
        assert "Take less of the reducer" not in remedies
        assert "Roast the ore further, or add nitre" not in remedies
    if pot.redox.verdict == "over":
        assert "Add flour or charcoal." not in remedies
    # the figure that is shown, the band beside it and the word agree
    if "wanted" in pot.redox.asked and pot.redox.budget is not None and (TOO_LITTLE in said or TOO_MUCH in said):
        band = pot.redox.budget_low, pot.redox.budget_high
        assert budget_state(pot.redox.budget, band) == ("short" if TOO_LITTLE in said else "over")
    if not wants and pot.redox.verdict == "meets":
        assert pot.state in states or "your own" in pot.redox.asked
    # matte: what helps against it is told where there is some, and iron is not asked for where it is there
    layer = pot.sulphur.matte.value > 0.05
    assert layer == bool(pot.sulphur.against)
    if "Iron is there enough" in pot.sulphur.against:
        assert "of iron in all" not in pot.sulphur.against + remedies
    assert ("The matte would hold" in sentences) == layer
    if not pot.button.metals and not layer:
        assert "stay in matte" not in sentences
    assert not ("Next to no sulphur" in said and layer)
    # what takes no oxygen is no taker
    if pot.redox.sentence.startswith("Nothing in this charge asks") and work.recipe.route != "iron":
        assert not any(row.takes and row.name == "metallic iron" and row.oxygen > 0.5 for row in pot.redox.rows)
    # iron does not melt here
    iron = next((m for m in pot.button.metals if m.symbol == "Fe"), None)
    assert iron is None or iron.percent < 31.0


AMOUNTS = {"nitre": st.floats(0.5, 60.0), "charcoal": st.floats(0.1, 8.0), "iron_filings": st.floats(0.5, 60.0)}


@given(
    minerals=st.lists(st.tuples(st.sampled_from(MINERALS), st.floats(0.5, 100.0)), min_size=1, max_size=5),
    route=st.sampled_from(ROUTES),
    feed=st.sampled_from(["concentrate", "calcine"]),
    row=st.sampled_from([*AMOUNTS, "", "", "wheat_flour"]),
    grams=st.floats(0.1, 50.0),
    asks=st.booleans(),
    pot=st.sampled_from(["clay-graphite", "clay", ""]),
)
@settings(deadline=None, max_examples=50)
def test_no_sentence_of_any_recipe_says_the_contrary_of_another(
    minerals: list[tuple[str, float]], route: str, feed: str, row: str, grams: float, asks: bool, pot: str
) -> None:
    work = work_of(ore(*minerals), route, pot_feed=feed)
    uid = next((p.uid for p in work.shelf.crucibles if p.material == pot), work.recipe.crucible)
    work = replace(work, recipe=replace(work.recipe, crucible=uid))
    work = weighed(work, **{row: grams}) if row else work
    if asks:
        wanted = next(t for t in work.recipe.targets if t.key == "reducer_budget")
        work = edits.set_target(work, replace(wanted, on=True))[1]
    check(work, pot_of(work))


@given(
    minerals=st.lists(st.tuples(st.sampled_from(MINERALS), st.floats(0.5, 100.0)), min_size=1, max_size=5),
    feed=st.sampled_from(["concentrate", "calcine"]),
)
@settings(deadline=None, max_examples=25)
def test_a_fresh_recipe_of_the_nitre_route_is_as_the_route_wants_it(
    minerals: list[tuple[str, float]], feed: str
) -> None:
    pot = pot_of(work_of(ore(*minerals), "nitre", pot_feed=feed))
    assert pot.redox.verdict in ("meets", "idle"), pot.redox.sentence
    assert pot.state in routes()["nitre"].states
    assert not any("Take less nitre" in issue.remedy for issue in pot.issues)


@pytest.mark.parametrize(("ore_type", "verdict"), [(CLEAN, "meets"), (DIRTY, "idle")])
def test_a_fresh_recipe_of_roast_and_melt_is_told_to_take_no_reducer_and_none_away(
    ore_type: OreType, verdict: str
) -> None:
    pot = pot_of(work_of(ore_type))
    assert pot.redox.verdict == verdict
    remedies = " ".join(issue.remedy for issue in pot.issues)
    assert "Add flour" not in remedies
    assert "clay pot has none" not in remedies
    assert pot.redox.asked == f"up to {pot.redox.budget_high:.2f} leaves the pot neutral"


def test_metal_that_is_wanted_from_oxides_asks_for_the_reducer_and_then_has_it() -> None:
    work = work_of(CLEAN)
    wanted = next(t for t in work.recipe.targets if t.key == "reducer_budget")
    asks = edits.set_target(weighed(work, charcoal=0.0), replace(wanted, on=True))[1]
    short = pot_of(asks)
    assert short.redox.verdict == "short"
    assert "too little" in short.redox.sentence
    assert "metal from the oxides wants it reducing" in short.redox.sentence
    met = pot_of(edits.set_target(work, replace(wanted, on=True))[1])
    assert (met.state, met.redox.verdict, met.redox.asked) == ("reducing", "meets", "0.9 to 1.5 wanted")


def test_iron_is_asked_for_where_it_is_short_and_named_where_it_is_enough() -> None:
    raw = work_of(ore(("Pyrite", 90.0), ("Quartz", 10.0)), "iron", pot_feed="concentrate")
    enough = dict(pot_rows(pot_of(raw)))["  against the matte"]
    assert enough.startswith("Iron is there enough")
    assert "matte too, here iron sulphide" in enough
    short = dict(pot_rows(pot_of(weighed(raw, iron_filings=10.0))))["  against the matte"]
    assert "of iron in all takes the sulphur from lead and silver" in short
    assert "makes iron sulphide of it" in short
    copper = work_of(ore(("Chalcocite", 60.0), ("Quartz", 40.0)), "iron", pot_feed="concentrate")
    assert (
        "Iron takes next to nothing from it, here copper sulphide"
        in dict(pot_rows(pot_of(copper)))["  against the matte"]
    )


def test_sulphur_that_the_ore_holds_from_iron_is_not_told_as_no_sulphur() -> None:
    held = pot_of(work_of(ore(("Arsenopyrite", 80.0), ("Quartz", 20.0)), "iron", pot_feed="concentrate"))
    assert held.sulphur.matte.value > 1.0
    assert "bound to metals of the ore" in held.redox.sentence
    assert "Next to no sulphur" not in held.redox.sentence
    clean = pot_of(work_of(ore(("Quartz", 100.0)), "iron", pot_feed="concentrate"))
    assert "Next to no sulphur is left" in clean.redox.sentence


def test_nitre_is_advised_against_matte_only_where_the_mix_could_bear_it() -> None:
    raw = pot_of(work_of(ore(("Pyrite", 90.0), ("Quartz", 10.0)), pot_feed="concentrate"))
    assert raw.sulphur.nitre_wanted is not None
    assert "nitre" not in raw.sulphur.against
    assert "nitre" not in " ".join(i.remedy for i in raw.issues if "matte would hold" in i.sentence)
    traces = pot_of(work_of(ore(("Galena", 9.0), ("Quartz", 91.0)), pot_feed="concentrate"))
    assert "of nitre more in a clay pot" in traces.sulphur.against


def test_iron_that_is_left_over_is_told_as_sponge_and_is_no_button() -> None:
    work = work_of(ore(("Pyrite", 90.0), ("Quartz", 10.0)), "iron", pot_feed="concentrate")
    found = evaluate(work)
    assert found.pot is not None
    assert found.pot.button.metals == ()
    told = next(issue.sentence for issue in found.pot.issues if "iron is left over" in issue.sentence)
    assert "does not melt below 1538 °C" in told
    assert "no button" in told


def test_a_button_that_would_not_melt_at_the_pour_is_told_so() -> None:
    work = work_of(ore(("Quartz", 100.0)), "iron", pot_feed="concentrate", pour_temperature=930.0)
    cold = pot_of(work)
    told = [issue for issue in cold.issues if "cannot be poured" in issue.sentence]
    assert bool(told) == bool(cold.button.metals)
    assert "962 °C" in told[0].sentence
    hot = pot_of(replace(work, recipe=replace(work.recipe, pour_temperature=1150.0)))
    assert not any("cannot be poured" in issue.sentence for issue in hot.issues)


def test_a_trace_of_silver_that_the_balance_does_not_show_is_worth_no_other_melt() -> None:
    poor = replace(ore(("Pyrite", 90.0), ("Quartz", 10.0)), silver=Grade(10.0))
    work = work_of(poor, "iron", pot_feed="concentrate")
    trace = pot_of(work)
    assert sum(row.grams.value for row in trace.silver) == pytest.approx(0.001, rel=0.01)
    assert trace.retreat == ""
    assert all(row.words == "" for row in trace.silver)
    fine = pot_of(replace(work, shelf=replace(work.shelf, balance_step=0.0001)))
    assert fine.retreat.startswith("Worth another melt for their silver: ")
    rich = pot_of(work_of(ore(("Pyrite", 90.0), ("Quartz", 10.0)), "iron", pot_feed="concentrate"))
    assert rich.retreat
    assert "speiss" not in rich.retreat
