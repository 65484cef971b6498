"""Errors of quotients and means, against simulation and against themselves."""

from math import exp, hypot, log, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.learn.measured import Measured, mean_of, quotient, weighted_mean

errors = st.floats(0.001, 0.12)


@given(st.floats(0.1, 100.0), st.lists(errors, min_size=1, max_size=5), st.lists(errors, max_size=2))
def test_errors_of_factors_add_as_a_root_of_squares(value: float, own: list[float], shared: list[float]) -> None:
    found = quotient(value, own, shared)
    assert found.error == pytest.approx(sqrt(sum(e * e for e in (*own, *shared))))
    assert found.low < value < found.high
    assert found.low * found.high == pytest.approx(value * value)


def test_the_likely_range_holds_nine_in_ten_of_simulated_quotients() -> None:
    """Button times fineness over charge times grade, each with a log-normal error of its own."""
    chance = np.random.default_rng(20260301)
    own, shared = (0.04, 0.003, 0.0005, 0.01), (0.10,)
    drawn = np.exp(sum(chance.normal(0.0, e, 400_000) for e in (*own, *shared)))
    found = quotient(90.0, own, shared)
    inside = np.mean((90.0 * drawn > found.low) & (90.0 * drawn < found.high))
    assert inside == pytest.approx(0.90, abs=0.002)


def test_normal_errors_of_the_usual_size_give_nearly_the_same_range() -> None:
    """The closed form against a simulation that draws weights, fineness and grade as normal, not as log-normal."""
    chance = np.random.default_rng(7)
    n = 400_000
    got = chance.normal(1.5, 0.05, n) * chance.normal(0.9, 0.0027, n)
    held = chance.normal(90.0, 0.004, n) * chance.normal(0.0171, 0.0171 * 0.04, n) * chance.normal(1.0, 0.01, n)
    low, middle, high = np.quantile(100.0 * got / held, (0.05, 0.5, 0.95))
    found = quotient(100.0 * 1.35 / 1.539, (0.05 / 1.5, 0.003, 0.004 / 90.0, 0.01), (0.04,))
    assert found.value == pytest.approx(middle, rel=0.002)
    assert found.low == pytest.approx(low, rel=0.004)
    assert found.high == pytest.approx(high, rel=0.006)


def test_equal_errors_make_the_plain_mean() -> None:
    mean, error, ratio = weighted_mean([94.0, 96.0, 98.0], [2.0, 2.0, 2.0])
    assert mean == pytest.approx(96.0)
    assert error == pytest.approx(2.0 / sqrt(3.0))
    assert ratio == pytest.approx(1.0)


def test_the_weighted_mean_is_the_one_of_least_squares() -> None:
    chance = np.random.default_rng(3)
    values, spread = chance.normal(95.0, 2.0, 9), chance.uniform(0.5, 4.0, 9)
    mean, error, _ = weighted_mean(list(values), list(spread))
    design = (1.0 / spread)[:, None]
    solved, *_ = np.linalg.lstsq(design, values / spread, rcond=None)
    assert mean == pytest.approx(float(solved[0]))
    assert error == pytest.approx(float(np.sqrt(np.linalg.inv(design.T @ design)[0, 0])))


def test_what_all_share_is_not_lessened_by_repetition() -> None:
    row = [Measured(95.0, 0.03, 0.05)] * 25
    found = mean_of(row)
    assert found is not None
    assert found.own == pytest.approx(0.03 / 5.0)
    assert found.shared == 0.05
    assert found.error == pytest.approx(hypot(0.006, 0.05))


def test_scatter_beyond_the_errors_widens_the_mean() -> None:
    row = [Measured(value, 0.01) for value in (80.0, 90.0, 100.0)]
    found = mean_of(row)
    assert found is not None
    logs = [log(each.value) for each in row]
    expected = np.std(logs, ddof=1) / sqrt(3.0)
    assert found.value == pytest.approx(exp(np.mean(logs)))
    assert found.own == pytest.approx(expected)


def test_one_melt_is_its_own_mean_and_none_has_none() -> None:
    assert mean_of([]) is None
    found = mean_of([Measured(95.0, 0.02, 0.04)])
    assert found is not None
    assert (found.value, found.own, found.shared) == (pytest.approx(95.0), pytest.approx(0.02), 0.04)
