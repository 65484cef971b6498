"""Which figures stand apart, against an independent reckoning and against chance."""

import numpy as np
import pytest
from scipy.stats import median_abs_deviation

from fluxlab.learn.measured import Measured
from fluxlab.learn.outliers import modified_z, standing_apart


def row(*values: float, own: float = 0.01) -> list[Measured]:
    return [Measured(value, own) for value in values]


def test_the_modified_z_is_that_of_an_independent_library() -> None:
    values = np.random.default_rng(5).normal(95.0, 1.5, 12)
    scale = median_abs_deviation(values)
    assert modified_z(list(values)) == pytest.approx(0.6745 * (values - np.median(values)) / scale)


def test_a_poor_melt_among_good_ones_stands_apart() -> None:
    assert standing_apart(row(95.2, 93.1, 94.0, 96.2, 70.3, 95.9)) == (4,)


def test_two_poor_melts_do_not_hide_each_other() -> None:
    assert standing_apart(row(95.2, 94.1, 95.0, 96.2, 60.3, 61.0, 95.4)) == (4, 5)


def test_good_agreement_accuses_nobody() -> None:
    """Without its errors the last would stand apart by far."""
    assert standing_apart(row(95.00, 95.01, 95.02, 95.01, 95.5)) == ()
    assert standing_apart(row(95.00, 95.01, 95.02, 95.01, 95.5, own=1e-6)) == (4,)


def test_three_melts_cannot_tell() -> None:
    assert standing_apart(row(95.0, 95.1, 20.0)) == ()
    assert standing_apart([]) == ()


def test_equal_figures_have_no_spread() -> None:
    assert modified_z([3.0, 3.0, 3.0, 3.0]) == [0.0] * 4


@pytest.mark.parametrize(("melts", "most"), [(4, 0.01), (6, 0.01), (10, 0.01), (20, 0.02)])
def test_chance_alone_seldom_accuses(melts: int, most: float, record_property) -> None:
    """Share of rows in which melts that differ by their errors alone have one that stands apart."""
    chance = np.random.default_rng(11)
    rows = 4000
    accused = sum(
        bool(standing_apart([Measured(float(v), 0.02) for v in 95.0 * np.exp(chance.normal(0.0, 0.02, melts))]))
        for _ in range(rows)
    )
    record_property("accused", accused / rows)
    assert accused / rows < most
