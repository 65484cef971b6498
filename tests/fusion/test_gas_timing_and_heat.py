"""When gas comes, how high it foams, and what a melt costs in heat."""

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.foam import foam_index
from fluxlab.fusion.gas import GasRow, gas_rows, gas_volume
from fluxlab.fusion.gas_timing import FoamSlag, foam_data, gas_timing
from fluxlab.fusion.heat import Furnace, Heat, default_furnace, heat
from fluxlab.fusion.heating import Heating, haste_issues, heating
from fluxlab.fusion.ore_gas import mineral_gas_rows, row
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import SIZE, from_masses
from fluxlab.materials.yield_types import Gas

SODA = gas_rows([("soda ash", 45.0, (Gas("CO2", 0.415, 0.00944, "", 750.0, 1000.0),))], 1150.0)
BORAX = gas_rows([("borax", 20.0, (Gas("H2O", 0.472, 0.02622, "", 60.0, 350.0),))], 1150.0)


def at_rate(rate: float, pour: float = 1150.0) -> Heating:
    return Heating(pour, Estimate(rate, rate, rate), 900.0)


HEATING = at_rate(40.0)


def slag(viscosity: float, free: float = 60.0) -> FoamSlag:
    return FoamSlag(viscosity, 2.5, 50.0, free)


@pytest.mark.parametrize(("viscosity", "seconds"), [(0.1, 0.44), (0.3, 1.6), (1.0, 7.0), (3.0, 26.0)])
def test_foam_index_worked_out_by_hand(viscosity: float, seconds: float) -> None:
    assert foam_index(viscosity, 2.5) == pytest.approx(seconds, rel=0.04)


def test_soda_that_reacts_in_six_minutes_in_a_fifty_millimetre_bore() -> None:
    """45 g of soda ash, 0.063 m/s of gas at 1000 degC, and foam of 0.44 m at one pascal second."""
    litres = gas_volume(45.0 * 0.00944, 1000.0)
    speed = litres * 1e-3 / 360.0 / (np.pi * 0.025**2)
    assert speed == pytest.approx(0.063, rel=0.02)
    assert speed * foam_index(1.0, 2.5) == pytest.approx(0.44, rel=0.02)


@given(pour=st.floats(1000.0, 1250.0))
def test_all_gas_comes_before_the_pour(pour: float) -> None:
    steps = gas_timing(SODA, at_rate(40.0, pour)).steps
    moles = sum(s.litres / gas_volume(1.0, (s.low + s.high) / 2.0) for s in steps)
    assert moles == pytest.approx(45.0 * 0.00944, rel=1e-9)
    assert all(s.source == "soda ash" for s in steps)


def test_steam_of_borax_is_gone_before_soda_begins() -> None:
    steps = gas_timing((*SODA, *BORAX), HEATING).steps
    assert steps[0].source == "borax"
    assert steps[-1].source == "soda ash"
    assert all(s.foam == 0.0 for s in steps)


def test_a_stiff_slag_foams_higher_and_needs_more_time() -> None:
    thin, stiff = gas_timing(SODA, HEATING, slag(0.1)), gas_timing(SODA, HEATING, slag(1.0))
    assert thin.peak is not None
    assert stiff.peak is not None
    assert stiff.peak.foam > 10.0 * thin.peak.foam
    assert stiff.time_needed > stiff.time_planned
    assert stiff.stage
    assert not thin.stage
    assert "Heat slower" in stiff.issues[0].remedy


def test_heating_for_the_time_that_is_needed_keeps_the_foam_in() -> None:
    stiff = gas_timing(SODA, HEATING, slag(1.0))
    for spare, over in ((1.001, False), (0.999, True)):
        rate = at_rate(40.0 * stiff.time_planned / (spare * stiff.time_needed))
        assert gas_timing(SODA, rate, slag(1.0)).stage is over
    (told,) = re.findall(r"at most ([\d.]+) °C a minute", stiff.issues[0].remedy)
    assert not gas_timing(SODA, at_rate(float(told)), slag(1.0)).stage
    assert gas_timing(SODA, at_rate(float(told) + 1.0), slag(1.0)).stage


def test_time_needed_and_time_given_never_speak_against_the_answer() -> None:
    """Soda late in the heat and limestone early: even heating wastes the quiet part of it."""
    late = gas_rows([("late", 20.0, (Gas("CO2", 0.415, 0.00944, "", 1050.0, 1150.0),))], 1150.0)
    for free in (20.0, 60.0, 200.0, 600.0, 2000.0):
        told = gas_timing((*SODA, *late), HEATING, slag(1.0, free))
        assert told.stage is (told.time_needed > told.time_planned)


def test_a_step_names_what_gives_most_of_it() -> None:
    steps = gas_timing((*SODA, *BORAX), HEATING).steps
    first = steps[2]
    assert sum(first.by_source.values()) == pytest.approx(first.litres)
    assert first.source == "borax"


def test_foam_goes_with_the_rate_and_with_the_gas_of_a_feed() -> None:
    slow, fast = gas_timing(SODA, at_rate(20.0), slag(1.0)), gas_timing(SODA, at_rate(80.0), slag(1.0))
    assert slow.peak is not None
    assert fast.peak is not None
    assert fast.peak.foam == pytest.approx(4.0 * slow.peak.foam)
    assert fast.time_planned == pytest.approx(slow.time_planned / 4.0)
    assert fast.time_needed == pytest.approx(slow.time_needed)


def test_so_many_feeds_as_are_told_keep_the_foam_in_and_one_less_does_not() -> None:
    free = 150.0
    once = gas_timing(SODA, HEATING, slag(1.0, free))
    assert once.peak is not None
    assert once.feeds == int(once.peak.foam / free) + 1 == 3
    assert f"feed in {once.feeds} parts" in once.issues[0].remedy
    for feeds, over in ((once.feeds, False), (once.feeds - 1, True)):
        part = [replace(row, moles=row.moles / feeds) for row in SODA]
        told = gas_timing(part, HEATING, slag(1.0, free), feeds=feeds)
        assert told.stage is over
        assert told.feeds == once.feeds
    hopeless = gas_timing(SODA, HEATING, slag(1.0, free=20.0))
    assert hopeless.feeds == 0
    assert "parts" not in hopeless.issues[0].remedy


def test_a_slag_stiffer_than_any_that_was_tried_is_marked() -> None:
    assert gas_timing(SODA, HEATING, slag(0.5)).tried
    assert not gas_timing(SODA, HEATING, slag(5.0)).tried
    most = foam_data()["slag"]["most_viscosity"]
    capped, at = gas_timing(SODA, HEATING, slag(50.0)), gas_timing(SODA, HEATING, slag(most))
    assert capped.time_needed == pytest.approx(at.time_needed)


def test_no_room_above_the_slag_is_said_and_no_gas_needs_no_time() -> None:
    none = gas_timing(SODA, HEATING, slag(0.3, free=0.0))
    assert none.time_needed == float("inf")
    assert "larger pot" in none.issues[0].remedy
    assert gas_timing((), HEATING, slag(0.3, free=0.0)).time_needed == 0.0


def test_a_gas_without_a_window_comes_all_the_way_up() -> None:
    unknown = GasRow("ore", "CO2", 4.4, 0.1, 2.4, 11.0, "on heating", None, None)
    steps = gas_timing((unknown,), HEATING).steps
    assert steps[0].low < 150.0
    assert steps[-1].high == pytest.approx(1150.0)


def test_minerals_give_their_gas_in_their_own_window() -> None:
    rows = mineral_gas_rows(
        {"calcite": ("CaCO3", 10.0), "gypsum": ("CaSO4·2H2O", 5.0), "quartz": ("SiO2", 9.0)}, 1000.0
    )
    assert [(r.source, r.species, r.low) for r in rows] == [("calcite", "CO2", 700.0), ("gypsum", "H2O", 100.0)]
    assert rows[0].moles == pytest.approx(10.0 / 100.09, rel=1e-3)
    assert row("sulphide", "SO2", 0.1, 1000.0).low == 600.0


SLAG = from_masses({"SiO2": 40.0, "B2O3": 20.0, "Na2O": 20.0, "FeO": 20.0})


def test_worked_melt() -> None:
    """Pot 0.5 kg, fibre 0.6 kg that warms by half, charge 264 kJ: 1.27 MJ, 16 min and 210 g of propane at 13 %."""
    furnace = default_furnace(0.5)
    body = heat(np.zeros(SIZE), {}, 0.0, (), (), 0.0, 1150.0, furnace)
    assert body.pot == pytest.approx(650.0, rel=0.01)
    assert body.lining == pytest.approx(360.0, rel=0.02)
    total = body.total + 264.0
    minutes = total / (furnace.power * furnace.efficiency * 60.0)
    assert minutes == pytest.approx(16.0, abs=0.5)
    assert body.propane.value / body.minutes.value * minutes == pytest.approx(210.0, rel=0.02)


def test_ten_kilowatts_burn_seventy_eight_hundredths_of_a_kilogram_an_hour() -> None:
    found = heat(SLAG, {"Ag": 2.0}, 0.0, SODA, (("soda ash", "Na2CO3", 45.0),), 0.0, 1150.0, Furnace(0.5))
    assert found.propane.value / found.minutes.value * 60.0 == pytest.approx(780.0, rel=0.01)
    assert found.minutes.low < found.minutes.value < found.minutes.high
    assert found.total == pytest.approx(found.charge + found.pot + found.lining)


def test_a_dry_charge_takes_a_little_under_two_kilojoules_a_gram_and_crystals_more() -> None:
    soda = ("soda ash", "Na2CO3", 34.0)
    dry = heat(SLAG, {}, 0.0, SODA, (soda,), 0.0, 1150.0, Furnace(0.5))
    weighed = 100.0 + 34.0 * 0.415
    assert 1.4 < dry.charge / weighed < 2.0
    crystals = ("borax, crystals", "Na2B4O7·10H2O", 55.0)
    steam = gas_rows([(crystals[0], 55.0, (Gas("H2O", 0.472, 0.02622, "", 60.0, 350.0),))], 1150.0)
    wet = heat(SLAG, {}, 0.0, (*SODA, *steam), (soda, crystals), 0.0, 1150.0, Furnace(0.5))
    assert wet.charge > dry.charge + 80.0
    assert wet.by_flux[0][0] == "borax, crystals"


def test_a_burner_without_power_takes_for_ever() -> None:
    assert heat(SLAG, {}, 0.0, (), (), 0.0, 1150.0, Furnace(0.5, power=0.0)).minutes.value == float("inf")


def warmed(rate: float | None = None, power: float = 10.0) -> Heat:
    found = heat(SLAG, {}, 0.0, SODA, (), 0.0, 1150.0, Furnace(0.5, power=power), rate=rate)
    assert found.total == pytest.approx(body_and_charge(), rel=1e-12)
    return found


def body_and_charge() -> float:
    return heat(SLAG, {}, 0.0, SODA, (), 0.0, 1150.0, Furnace(0.5)).total


def test_the_rate_is_the_rise_over_the_minutes_that_the_furnace_takes() -> None:
    """A melt of 1.27 MJ in 16 min goes by 69 degC a minute; at 8 and 20 % in the pot by as much less and more."""
    found = warmed()
    told = heating(1150.0, found, None, foam_data())
    assert told.whose == "furnace"
    assert told.rate.value * found.minutes.value == pytest.approx(1125.0)
    assert told.rate.low * found.minutes.high == pytest.approx(1125.0)
    assert told.rate.high * found.minutes.low == pytest.approx(1125.0)
    assert (told.rate.low / told.rate.value, told.rate.high / told.rate.value) == pytest.approx((8 / 13, 20 / 13))
    worked = 1125.0 / (1270.0 / (0.13 * 10.0 * 60.0))
    assert worked == pytest.approx(69.1, abs=0.1)


def test_an_own_rate_wins_over_the_furnace_and_gives_the_minutes_but_not_the_fuel() -> None:
    found, usual = warmed(rate=30.0), warmed()
    assert heating(1150.0, found, 30.0, foam_data()) == Heating(1150.0, Estimate(30.0, 30.0, 30.0), 900.0, "own")
    assert (found.minutes.value, found.minutes.low, found.minutes.high) == pytest.approx((37.5, 37.5, 37.5))
    assert found.propane == usual.propane
    assert found.burning == usual.minutes


def test_an_own_rate_beyond_the_burner_is_said() -> None:
    most = 1125.0 / warmed().minutes.low
    assert not haste_issues(warmed(rate=0.999 * most), 0.999 * most)
    said = haste_issues(warmed(rate=2.0 * most), 2.0 * most)
    assert f"at most {most:.0f}" in said[0].sentence
    assert not haste_issues(None, 500.0)
    assert "no heat" in haste_issues(warmed(rate=50.0, power=0.0), 50.0)[0].sentence


def test_without_a_furnace_the_usual_rate_counts() -> None:
    for found in (None, warmed(power=0.0)):
        told = heating(1150.0, found, None, foam_data())
        assert (told.whose, told.rate.value) == ("usual", foam_data()["heating"]["rate"])
    assert heating(20.0, warmed(), None, foam_data()).whose == "usual"
