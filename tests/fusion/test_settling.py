"""Drops in a slag: speeds, the mass that hangs, the hold it takes, when slag is worth another melt."""

from math import inf, isfinite

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.stats import lognorm

from fluxlab.fusion.losses import SlagColumn, prills_of, settling, worth_retreating
from fluxlab.fusion.settling import (
    GRAVITY,
    Prills,
    clean_drop,
    hold_for,
    reynolds,
    settled_size,
    stokes,
    trapped,
)

MM_A_MINUTE = 60e3


@pytest.mark.parametrize(("viscosity", "size", "speed"), [
    (0.1, 30, 1.9), (0.1, 200, 86), (0.3, 100, 7.2), (1, 100, 2.16), (1, 500, 54), (3, 200, 2.9), (10, 1000, 22),
])  # fmt: skip
def test_speeds_worked_out_by_hand(viscosity: float, size: float, speed: float) -> None:
    assert stokes(size, viscosity, 6.6) * MM_A_MINUTE == pytest.approx(speed, rel=0.03)


@pytest.mark.parametrize("size", [50.0, 200.0, 600.0])
def test_stokes_speed_against_a_drop_followed_in_time(size: float) -> None:
    """The motion of a sphere under weight, buoyancy and Stokes' drag, integrated by scipy until it is steady."""
    radius, viscosity, slag, metal = size * 0.5e-6, 1.0, 2600.0, 9200.0
    mass = 4.0 / 3.0 * np.pi * radius**3 * metal
    weight = 4.0 / 3.0 * np.pi * radius**3 * (metal - slag) * GRAVITY
    steady = mass / (6.0 * np.pi * viscosity * radius)
    run = solve_ivp(
        lambda t, y: [(weight - 6.0 * np.pi * viscosity * radius * y[0]) / mass],
        (0.0, 40.0 * steady),
        [0.0],
        method="LSODA",
        rtol=1e-9,
        atol=1e-14,
    )
    assert run.y[0][-1] == pytest.approx(stokes(size, viscosity, 6.6), rel=1e-6)


def test_a_clean_drop_falls_up_to_half_as_fast_again() -> None:
    assert clean_drop(1.0, 0.0) == pytest.approx(1.5)
    assert clean_drop(1.0, 1e9) == pytest.approx(1.0, rel=1e-6)
    assert clean_drop(1.0, 1.0) == pytest.approx(1.2)


@pytest.mark.parametrize(("viscosity", "size"), [(0.1, 37), (0.3, 65), (1, 118), (3, 204), (10, 373)])
def test_smallest_drop_that_settles_thirty_millimetres_in_ten_minutes(viscosity: float, size: float) -> None:
    assert settled_size(viscosity, 6.6, 30.0, 10.0) == pytest.approx(size, rel=0.01)


@given(viscosity=st.floats(0.01, 20.0), depth=st.floats(1.0, 100.0), hold=st.floats(0.1, 60.0))
def test_hold_and_settled_size_are_each_others_inverse(viscosity: float, depth: float, hold: float) -> None:
    size = settled_size(viscosity, 6.6, depth, hold)
    assert hold_for(size, viscosity, 6.6, depth) == pytest.approx(hold, rel=1e-9)


@given(settled=st.floats(5.0, 3000.0), median=st.floats(50.0, 1000.0), spread=st.floats(1.1, 4.0))
def test_hanging_mass_against_the_integral(settled: float, median: float, spread: float) -> None:
    sizes = lognorm(s=np.log(spread), scale=median)
    integral, _ = quad(lambda d: (1.0 - (d / settled) ** 2) * sizes.pdf(d), 0.0, settled, limit=200)
    assert trapped(settled, Prills(median, spread)) == pytest.approx(integral, abs=2e-6)


def test_reynolds_number_says_when_stokes_no_longer_holds() -> None:
    assert reynolds(100.0, 1.0, 6.6, 2.6) < 1e-3
    assert reynolds(1000.0, 0.1, 6.6, 2.6) > 0.5
    assert reynolds(100.0, 0.0, 6.6, 2.6) == inf


COLUMN = SlagColumn(viscosity=1.0, viscosity_low=0.4, viscosity_high=2.5, density=2.6, depth=30.0, metal=9.2)


def test_a_longer_hold_and_a_thinner_slag_leave_less() -> None:
    short, long = settling(COLUMN, 5.0), settling(COLUMN, 20.0)
    assert long.trapped < short.trapped
    assert short.trapped_low < short.trapped < short.trapped_high


def test_the_good_end_lets_drops_fall_as_fast_as_clean_ones_may() -> None:
    usual, coarse, fine = prills_of()
    low = settling(SlagColumn(1.0, 1.0, 1.0, 2.6, 30.0, 9.2), 10.0, (usual, usual, usual))
    clean = 118.0 / 1.5**0.5
    assert low.trapped_low == pytest.approx(trapped(clean, usual), rel=0.05)
    assert low.trapped_high == pytest.approx(low.trapped)
    assert coarse.median > usual.median > fine.median


def test_the_hold_for_small_drops_is_kept_between_five_and_twenty_minutes() -> None:
    assert settling(COLUMN, 10.0).wanted == pytest.approx(30.0 / 2.157, rel=0.01)
    thin = SlagColumn(0.05, 0.05, 0.05, 2.6, 30.0, 9.2)
    assert settling(thin, 10.0).advised == 5.0
    stiff = SlagColumn(20.0, 10.0, 40.0, 2.6, 30.0, 9.2)
    found = settling(stiff, 10.0)
    assert found.advised == 20.0
    assert "too long to hold" in found.issues[0].sentence


def test_metal_no_heavier_than_the_slag_never_settles() -> None:
    found = settling(SlagColumn(1.0, 1.0, 1.0, 9.5, 30.0, 9.2), 10.0)
    assert found.trapped == 1.0
    assert not isfinite(found.wanted)
    assert found.advised == 20.0
    assert found.issues


def test_no_slag_holds_nothing_back_and_no_time_lets_nothing_down() -> None:
    assert trapped(settled_size(1.0, 6.6, 0.0, 0.0), Prills(400.0, 2.4)) == 0.0
    assert trapped(settled_size(1.0, 6.6, 30.0, 0.0), Prills(400.0, 2.4)) == 1.0


def test_lead_gathers_drops_and_silver_from_its_sulphide_without_any_stays_fine() -> None:
    usual, _, _ = prills_of()
    rained, _, _ = prills_of(lead_per_silver=5.0)
    fine, _, _ = prills_of("Acanthite/argentite")
    assert rained.median == pytest.approx(2.0 * usual.median)
    assert fine.median < usual.median
    half, _, _ = prills_of(lead_per_silver=0.5)
    assert half.median == pytest.approx(1.5 * usual.median)


def test_more_of_the_silver_than_a_part_and_than_the_balance_shows_is_worth_another_melt() -> None:
    assert worth_retreating(0.05, 1.0)
    assert not worth_retreating(0.01, 1.0)
    assert not worth_retreating(0.0, 0.0)
    # what the balance does not show pays for no melt, however much of the silver it is
    assert worth_retreating(0.5, 1.0, 0.1)
    assert not worth_retreating(0.001, 0.001, 0.1)
