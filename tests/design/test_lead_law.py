"""The lead that the solver reckons with is the lead of the pot."""

from dataclasses import replace

import pytest

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.charge import fluxes
from fluxlab.design.evaluate import evaluate
from fluxlab.design.lead_law import burnt_feed, lead_thrown_down, nitrate_rows, with_nitre
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_types import Report
from fluxlab.fusion.melt import Melt, melt_of
from fluxlab.fusion.nitre import nitrate_power
from fluxlab.materials.flux_types import ByParts, Component, Part
from fluxlab.ore.ore_types import OreType
from tests.works import CLEAN, DIRTY, with_lines, work_of


def collection(ore: object, *more: Line) -> Work:
    work = work_of(ore, "lead collection", pot_feed="concentrate")  # type: ignore[arg-type]
    return with_lines(work, *work.recipe.lines, *more)


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
@pytest.mark.parametrize("nitre", [0.0, 10.0, None], ids=["without nitre", "nitre by hand", "nitre free"])
def test_the_lead_button_of_the_target_is_that_of_the_pot(ore: object, nitre: float | None) -> None:
    report = evaluate(collection(ore, Line("nitre", nitre)))
    aimed = next(t.value for t in report.targets if t.key == "lead_button")
    assert report.pot is not None
    assert aimed is not None
    assert aimed > 10.0
    assert aimed == pytest.approx(report.pot.redox.lead.value, abs=0.05)


def lead_of(report: Report) -> tuple[float, float]:
    """Lead brought down by the target and by the pot [g]."""
    aimed = next(t.value for t in report.targets if t.key == "lead_button")
    assert aimed is not None
    assert report.pot is not None
    return aimed, report.pot.redox.lead.value


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
def test_the_carbon_of_a_graphite_pot_throws_down_lead_in_both(ore: OreType) -> None:
    rows = (Line("borax-glass", 30.0), Line("soda-ash-dense", 30.0), Line("litharge", 200.0), Line("wheat-flour", 4.0))
    clay = with_lines(work_of(ore, "lead collection", pot_feed="calcine"), *rows)
    graphite = edits.set_crucible(clay, "pot-30-44-105")[1]
    aimed, brought = lead_of(evaluate(graphite))
    assert aimed == pytest.approx(brought, abs=0.01)
    assert aimed > lead_of(evaluate(clay))[0] + 2.0


@pytest.mark.parametrize("iron", ["iron-filings", "iron-nails"])
def test_iron_throws_down_in_both_what_there_is_of_metal_in_it(iron: str) -> None:
    rows = (Line("borax-glass", 30.0), Line("soda-ash-dense", 30.0), Line("litharge", 200.0), Line("wheat-flour", 2.0))
    work = with_lines(work_of(DIRTY, "lead collection", pot_feed="calcine"), *rows)
    aimed, brought = lead_of(evaluate(with_lines(work, *rows, Line(iron, 10.0))))
    assert aimed == pytest.approx(brought, abs=0.01)
    metal = 10.0 * work.shelf.flux(iron).purity  # type: ignore[union-attr]
    assert aimed - lead_of(evaluate(work))[0] == pytest.approx(metal * 207.2 / 55.845, rel=1e-3)


def test_where_oxides_keep_up_more_than_is_thrown_down_no_lead_comes_down_and_none_is_owed() -> None:
    work = work_of(DIRTY, "lead collection", pot_feed="calcine")
    rows = (
        Line("borax-glass", 30.0),
        Line("litharge", 200.0),
        Line("wheat-flour", 0.0),
        Line("manganese-dioxide", 10.0),
    )
    report = evaluate(with_lines(work, *rows))
    assert lead_of(report) == (0.0, 0.0)
    assert next(t for t in report.targets if t.key == "lead_button").sentence.startswith("Lead brought down 0.0 g")


@pytest.mark.parametrize(("figure", "value"), [("sulphate_constant", 0.5), ("nitre_power", 4.4)])
def test_own_figures_of_sulphate_and_nitre_reach_the_solver_as_well(figure: str, value: float) -> None:
    work = collection(CLEAN, Line("nitre"))
    own = replace(work, recipe=replace(work.recipe, pot_figures=((figure, value),)))
    report, shipped = evaluate(own), evaluate(work)
    aimed = next(t.value for t in report.targets if t.key == "lead_button")
    assert report.pot is not None
    assert aimed == pytest.approx(report.pot.redox.lead.value, abs=0.05)
    nitre = [next(line.grams for line in r.lines if line.flux == "nitre") for r in (report, shipped)]
    assert abs(nitre[0] - nitre[1]) > 1.0


def test_free_nitre_keeps_the_button_of_a_sulphide_ore_to_what_is_wanted() -> None:
    report = evaluate(collection(DIRTY, Line("nitre")))
    button = next(t for t in report.targets if t.key == "lead_button")
    assert button.hi is not None
    assert button.value is not None
    assert button.value <= button.hi + 0.01
    assert next(line.grams for line in report.lines if line.flux == "nitre") > 1.0


def test_nitre_keeps_up_more_lead_the_more_alkaline_the_slag() -> None:
    work = collection(DIRTY, Line("nitre"))
    rows = fluxes(work)
    i = [line.flux for line in rows.lines].index("nitre")
    pure = rows.components[i].purity
    for melt in (Melt(0.1, 1.0), Melt(1.0, 1.0)):
        moved = with_nitre(rows, nitrate_rows(rows, work.shelf), melt)
        assert moved.power[i] == pytest.approx(-pure * nitrate_power("KNO3", melt))
        others = [k for k in range(len(rows.lines)) if k != i]
        assert moved.power[others].tolist() == rows.power[others].tolist()


def test_the_nitre_of_a_jar_counts_by_its_share_and_the_flour_beside_it_stays() -> None:
    plain = collection(DIRTY)
    jar = Component("jar", "Mix", ByParts((Part("nitre", 1.0), Part("wheat-flour", 1.0))), loose_density=1.0)
    shelf = replace(plain.shelf, fluxes=(*plain.shelf.fluxes, jar))
    rows = fluxes(with_lines(replace(plain, shelf=shelf), Line("jar"), Line("nitre"), Line("wheat-flour")))
    moved = with_nitre(rows, nitrate_rows(rows, shelf), Melt(0.4, 1.0)).power
    assert moved[0] == pytest.approx((moved[1] + moved[2]) / 2.0, abs=1e-9)


def test_what_each_mineral_throws_down_adds_up_to_the_lead_of_the_feed() -> None:
    found = balance(collection(CLEAN))
    burnt = burnt_feed(found.feed, melt_of(found.n))
    one_by_one = sum(grams * lead_thrown_down(mineral, burnt) for mineral, grams in found.feed.fuel.items())
    assert one_by_one == pytest.approx(burnt.lead, rel=1e-12)
    assert lead_thrown_down("Ag", burnt) == 0.0
