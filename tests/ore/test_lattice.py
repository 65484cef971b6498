"""The points that stand for uncertain numbers: even, the same every time, and of the right distribution."""

import numpy as np
import pytest
from scipy import stats
from scipy.stats import qmc

from fluxlab.ore.lattice import GENERATORS, lattice, normal_lattice, triangle, under_normal


@pytest.mark.parametrize("points", GENERATORS)
@pytest.mark.parametrize("directions", [2, 6, 30])
def test_the_lattice_is_more_even_than_chance(points: int, directions: int) -> None:
    found = lattice(points, directions)
    assert found.shape == (points, directions)
    assert ((found > 0.0) & (found < 1.0)).all()
    for measure in ("WD", "MD", "CD"):
        chance = [
            qmc.discrepancy(np.random.default_rng(seed).random((points, directions)), method=measure)
            for seed in range(3)
        ]
        assert qmc.discrepancy(found, method=measure) < 0.85 * min(chance)


@pytest.mark.parametrize("points", GENERATORS)
def test_every_direction_is_filled_evenly(points: int) -> None:
    found = np.sort(lattice(points, 40), axis=0)
    assert np.abs(found - (np.arange(points)[:, None] + 0.5) / points).max() < 1e-12


def test_no_two_directions_go_together() -> None:
    for points, limit in ((251, 0.24), (2039, 0.03)):
        together = np.corrcoef(lattice(points, 50).T) - np.eye(50)
        assert np.abs(together).max() < limit


def test_normal_deviates_are_those_of_the_normal_law() -> None:
    u = lattice(2039, 3)
    assert normal_lattice(2039, 3) == pytest.approx(stats.norm.ppf(u), abs=2e-4)
    assert under_normal(np.array([-1.0, 0.0, 2.0])) == pytest.approx(stats.norm.cdf([-1.0, 0.0, 2.0]), abs=1e-5)


def test_triangles_are_those_of_scipy() -> None:
    u = lattice(2039, 1)[:, 0]
    for low, likely, high in ((0.0, 0.2, 1.0), (3.0, 3.0, 4.0), (1.0, 2.0, 2.0)):
        law = stats.triang(c=(likely - low) / (high - low), loc=low, scale=high - low)
        assert triangle(u, np.array(low), np.array(likely), np.array(high)) == pytest.approx(law.ppf(u), abs=1e-9)
    assert (triangle(u, np.array(5.0), np.array(5.0), np.array(5.0)) == 5.0).all()
