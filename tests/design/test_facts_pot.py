"""What the reports of pot and melt hand to the caution rules, and that the rules then speak."""

from dataclasses import replace
from math import inf

import pytest

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.cautions import cautions
from fluxlab.design.facts import Facts
from fluxlab.design.facts_of import facts_of
from fluxlab.design.fill_report import fill_report
from fluxlab.design.fluid_types import FluidReport, Likely
from fluxlab.design.pot_report import pot_report
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_types import Amount
from fluxlab.design.start import demo_work
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import CLEAN, with_lines, work_of

THIN, STIFF = Amount(0.3, 0.1, 0.9), Amount(80.0, 30.0, 200.0)
SODA, BORAX = Line("soda-ash-dense", 60.0), Line("borax-glass", 60.0)


def seen(work: Work, viscosity: Amount | None = THIN, fluid: FluidReport | None = None) -> tuple[Facts, PotReport]:
    found = balance(work)
    fill = fill_report(found)
    pot = pot_report(work, found, fill, viscosity)
    return facts_of(work, found, fill, None, pot, fluid), pot


def rules(facts: Facts) -> set[str]:
    return {c.rule for c in cautions(facts)}


def melt(viscosity: float | None, melt_free: float | None) -> FluidReport:
    def likely(value: float | None) -> Likely | None:
        return None if value is None else Likely(value, value, value, value, value)

    return FluidReport(
        pour=1150.0, limit=None, floor=0.01, curve=None, at_pour=likely(viscosity), below_floor=False, chance=None,
        confidence="low", pour_wanted=None, leaves_pot=None, liquidus=None, melt_free=likely(melt_free), density=None,
        surface_tension=None, heat=None, crystals=(), moves=(), issues=(), sources=(),
    )  # fmt: skip


def test_the_facts_are_those_of_the_pot_s_report() -> None:
    facts, pot = seen(demo_work())
    assert pot.drops is not None
    assert facts.reductant_budget == pot.redox.budget
    assert facts.hold_needed == pot.drops.wanted
    assert (facts.foam_rise, facts.free_height) == (pot.gas.foam, pot.gas.free)


def test_sulphur_dioxide_of_the_pot_is_what_leaves_it_and_is_named() -> None:
    raw = edits.set_route(edits.set_pot_feed(demo_work(), "concentrate")[1], "lead collection")[1]
    facts, pot = seen(raw)
    (sulphur,) = [row.sulphur for row in pot.sulphur.rows if row.name == "leaves as sulphur dioxide"]
    assert sulphur > 30.0
    # 32.06 g of sulphur make 64.06 g of it, 24.47 L at 25 degC
    assert facts.pot_so2 == pytest.approx(sulphur * 64.06 / 32.06, rel=1e-3)
    assert facts.pot_so2_litres == pytest.approx(sulphur / 32.06 * 24.47, rel=2e-3)
    (found,) = [c for c in cautions(facts) if c.rule == "R19"]
    assert "from the pot" in found.because
    assert "from the roast" not in found.because
    assert "m³ of air to thin it to 2 ppm" in found.because


def test_roast_and_pot_are_named_each_with_its_own_gas() -> None:
    facts = replace(seen(demo_work())[0], roast_so2=80.0, roast_so2_litres=31.0, pot_so2=7.0, pot_so2_litres=2.7)
    (found,) = [c for c in cautions(facts) if c.rule == "R19"]
    assert "80 g sulphur dioxide (31 L) from the roast" in found.because
    assert "7.0 g sulphur dioxide (2.7 L) from the pot" in found.because


def test_a_pot_whose_slag_is_not_known_leaves_froth_and_drops_unasked() -> None:
    facts, _ = seen(demo_work(), viscosity=None)
    assert facts.hold_needed is None
    assert facts.foam_rise is None
    assert not {"R08", "R32"} & rules(facts)


def test_a_stiff_slag_holds_its_prills() -> None:
    assert "R32" in rules(seen(demo_work(), viscosity=STIFF)[0])
    assert "R32" not in rules(seen(demo_work())[0])


def test_drops_that_never_come_down_want_an_endless_hold() -> None:
    _, pot = seen(demo_work())
    assert pot.drops is not None
    found = balance(demo_work())
    never = replace(pot, drops=replace(pot.drops, wanted=None))
    assert facts_of(demo_work(), found, None, None, never).hold_needed == inf


def test_much_charcoal_over_a_calcine_goes_past_the_budget() -> None:
    lead = with_lines(work_of(CLEAN), SODA, BORAX)
    assert "R28" not in rules(seen(lead)[0])
    assert "R28" in rules(seen(edits.fix_weight(lead, "charcoal", 40.0)[1])[0])


def test_the_wall_of_a_pot_alone_is_not_called_too_much_reducer() -> None:
    poor = OreType("o", "Poor", minerals=(Share("Arsenopyrite", 0.5), Share("Quartz", 99.5)), silver=Grade(500.0))
    facts, pot = seen(work_of(poor))
    assert pot.redox.budget is not None
    assert pot.redox.budget > 20.0
    assert "R28" not in rules(facts)
    assert "R28" in rules(seen(edits.fix_weight(work_of(poor), "charcoal", 1.0)[1])[0])


def test_the_band_of_the_budget_is_that_of_the_route_or_the_operator_s() -> None:
    assert (seen(work_of(CLEAN, "iron"))[0].budget_low, seen(work_of(CLEAN, "iron"))[0].budget_high) == (1.0, 3.0)
    work, own = demo_work(), {"budget_low": 0.8, "budget_high": 1.2}
    found = balance(work)
    facts = facts_of(work, found, None, None, pot_report(work, found, None, THIN, own))
    assert (facts.budget_low, facts.budget_high) == (0.8, 1.2)


def test_litharge_without_a_reducer_leaves_the_lead_that_is_wanted_in_the_slag() -> None:
    bare = with_lines(work_of(CLEAN, "lead collection", pot_feed="calcine"), SODA, BORAX, Line("litharge", 100.0))
    facts, _ = seen(bare)
    assert facts.base_metal_wanted
    assert "R27" in rules(facts)


@pytest.mark.parametrize("mineral", ["Malachite", "Cuprite", "Cerussite"])
def test_whatever_base_metal_is_wanted_from_oxides_is_missed_when_reducer_is_short(mineral: str) -> None:
    oxides = OreType("o", "Oxide ore", minerals=(Share(mineral, 60.0), Share("Quartz", 40.0)), silver=Grade(500.0))
    work = with_lines(work_of(oxides, pot_feed="concentrate"), SODA, BORAX)
    work = edits.set_crucible(work, next(p.uid for p in work.shelf.crucibles if p.material == "clay"))[1]
    wanted = next(t for t in work.recipe.targets if t.key == "reducer_budget")
    asked = edits.set_target(work, replace(wanted, on=True))[1]
    assert "R27" not in rules(seen(work)[0])
    assert "R27" in rules(seen(asked)[0])
    demand = seen(asked)[1].redox.demand
    power = next(f.lead_power for f in work.shelf.fluxes if f.uid == "charcoal")
    full = demand * LEAD_PER_OXYGEN / power
    for part, fires in ((0.88, True), (0.92, False)):
        assert ("R27" in rules(seen(edits.fix_weight(asked, "charcoal", part * full)[1])[0])) is fires


@pytest.mark.parametrize("route", ["roast and melt", "nitre", "iron", "lead collection"])
def test_the_predicted_button_never_holds_more_silver_than_the_charge(route: str) -> None:
    work = work_of(CLEAN, route)
    silver = sum(m.grams.value for m in seen(work)[1].button.metals if m.symbol == "Ag")
    assert 0.0 < silver <= balance(work).feed.silver * (1.0 + 1e-9)


@pytest.mark.parametrize(
    ("viscosity", "melt_free", "said"),
    [(12.0, None, "12 Pa·s"), (0.5, 1120.0, "30 K above 1120 °C"), (0.5, 1180.0, "30 K below 1180 °C")],
)
def test_a_melt_too_stiff_or_poured_too_near_its_crystals_is_warned_of(
    viscosity: float, melt_free: float | None, said: str
) -> None:
    facts, _ = seen(demo_work(), fluid=melt(viscosity, melt_free))
    (found,) = [c for c in cautions(facts) if c.rule == "R31"]
    assert said in found.because


def test_a_thin_melt_far_from_its_crystals_is_not() -> None:
    assert "R31" not in rules(seen(demo_work(), fluid=melt(0.5, 1000.0))[0])
    assert "R31" not in rules(seen(demo_work(), fluid=melt(None, None))[0])


def test_the_roast_begins_where_its_programme_says() -> None:
    facts, _ = seen(edits.plan_roast(demo_work(), 740.0, 90.0)[1])
    assert facts.roast_start == 350.0
    warm = replace(demo_work().recipe.roast, kind="planned", start_temperature=460.0)
    assert seen(edits.set_roast(demo_work(), warm)[1])[0].roast_start == 460.0
    assert seen(demo_work())[0].roast_start is None
    raw, _ = seen(edits.set_pot_feed(demo_work(), "concentrate")[1])
    assert raw.roast_start is None
