"""How much now, how much later, how many melts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.vessel.feeding import MOST_STAGES, Charge, plan_feeds
from fluxlab.vessel.filling import stand
from fluxlab.vessel.profile import stack
from fluxlab.vessel.sections import straight_wall

POT = stack(straight_wall(22.0, 32.0, 75.0))
TWO_THIRDS = 2.0 / 3.0


def test_a_small_charge_goes_in_at_once() -> None:
    plan = plan_feeds(POT, Charge(100.0, 1.0, 0.35), TWO_THIRDS)
    assert plan.melts == 1
    assert plan.issues == ()
    assert [feed.mass for feed in plan.feeds] == [pytest.approx(100.0)]
    assert plan.feeds[0].from_rim == pytest.approx(stand(POT, 100.0).from_rim)


def test_a_second_feed_fills_what_the_first_melt_leaves_free() -> None:
    charge = Charge(180.0, 1.0, 0.35)
    plan = plan_feeds(POT, charge, TWO_THIRDS)
    room = TWO_THIRDS * POT.brim
    assert plan.melts == 1
    assert len(plan.feeds) == 2
    assert plan.feeds[0].volume == pytest.approx(room)
    assert plan.feeds[1].mass == pytest.approx(180.0 - room)
    assert 0.35 * plan.feeds[0].mass + plan.feeds[1].volume <= room


def test_metal_takes_its_room_in_proportion() -> None:
    with_metal = Charge(180.0, 1.0, 0.35, metal_volume=9.0)
    assert with_metal.molten_per_gram == pytest.approx(0.40)
    assert with_metal.molten_volume == pytest.approx(72.0)


def test_a_melt_above_half_the_pot_is_divided_and_it_is_said_why() -> None:
    plan = plan_feeds(POT, Charge(400.0, 1.0, 0.4), TWO_THIRDS)
    assert plan.melts == math.ceil(400.0 * 0.4 / (0.5 * POT.brim)) == 2
    assert sum(feed.mass for feed in plan.feeds) == pytest.approx(200.0)
    assert plan.issues[0].severity is Severity.WARNING
    assert "50%" in plan.issues[0].sentence
    assert "2 melts of 200 g" in plan.issues[0].remedy


def test_a_charge_that_would_take_too_many_feeds_is_divided_and_it_is_said_why() -> None:
    fluffy = Charge(160.0, 8.0, 0.4)
    plan = plan_feeds(POT, fluffy, 0.5)
    assert plan.melts > 1
    assert "over 8 feeds" in plan.issues[0].sentence


def test_feeds_that_hardly_melt_down_are_counted_too() -> None:
    plan = plan_feeds(POT, Charge(500.0, 1.0, 0.0), TWO_THIRDS)
    assert plan.melts == 1
    assert len(plan.feeds) == 5


def test_a_charge_that_swells_on_melting_goes_in_at_once_or_not() -> None:
    plan = plan_feeds(POT, Charge(60.0, 1.0, 1.2), TWO_THIRDS)
    assert (plan.melts, len(plan.feeds)) == (1, 1)
    assert plan_feeds(POT, Charge(100.0, 1.0, 1.2), TWO_THIRDS).melts == 2


@pytest.mark.parametrize("charge", [Charge(0.0, 1.0, 0.3), Charge(10.0, 0.0, 0.3), Charge(10.0, 1.0, math.nan)])
def test_an_unknown_volume_gives_no_plan(charge: Charge) -> None:
    plan = plan_feeds(POT, charge, TWO_THIRDS)
    assert (plan.feeds, plan.melts) == ((), 0)
    assert plan.issues[0].severity is Severity.ERROR


def test_no_room_gives_no_plan() -> None:
    assert plan_feeds(POT, Charge(10.0, 1.0, 0.3), 0.0).melts == 0


@given(
    mass=st.floats(1.0, 2000.0),
    loose=st.floats(0.3, 3.0),
    melt=st.floats(0.1, 0.6),
    metal=st.floats(0.0, 10.0),
    limit=st.floats(0.2, 1.0),
)
def test_every_plan_charges_all_of_it_within_the_limits(
    mass: float, loose: float, melt: float, metal: float, limit: float
) -> None:
    charge = Charge(mass, loose, melt, metal)
    plan = plan_feeds(POT, charge, limit)
    assert sum(feed.mass for feed in plan.feeds) * plan.melts == pytest.approx(mass)
    assert 1 <= len(plan.feeds) <= MOST_STAGES
    assert mass / plan.melts * charge.molten_per_gram <= 0.5 * POT.brim * (1.0 + 1e-6)
    fed = 0.0
    for feed in plan.feeds:
        assert fed * charge.molten_per_gram + feed.volume <= limit * POT.brim * (1.0 + 1e-6)
        fed += feed.mass
    assert (plan.melts > 1) == bool(plan.issues)
