"""Gy's estimate against counting grains, and its limits."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from fluxlab.issue import Issue
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.lot_types import Sampling
from fluxlab.ore.sampling import sample_for, sampling_error

S = Sampling(
    sample=500.0,
    lot=20_000.0,
    top_size=2.0,
    content=0.001,
    density=7.22,
    gangue_density=2.65,
    liberation=2.0,
    shape=0.5,
    grading=0.25,
)


def error_of(s: Sampling) -> tuple[Estimate, tuple[Issue, ...]]:
    """The estimate with the shipped factor of two, warned of above 20 %."""
    return sampling_error(s, 2.0, 20.0)


def test_a_sample_that_is_the_lot_has_no_error() -> None:
    assert error_of(replace(S, sample=20_000.0))[0].value == 0.0


def test_counting_free_grains_of_one_size_gives_the_same_error() -> None:
    """Spheres of one size: f = pi/6 and g = 1; the error is one over the root of the number of grains (Poisson)."""
    s = replace(S, lot=1e9, content=0.0005, shape=pi / 6.0, grading=1.0)
    grain = 7.22 * pi / 6.0 * 0.2**3
    expected = 500.0 * 0.0005 / grain
    drawn = np.random.default_rng(3).poisson(expected, 200_000)
    found = error_of(s)[0]
    assert found.value == pytest.approx(100.0 * drawn.std() / drawn.mean(), rel=0.01)
    assert found.value == pytest.approx(100.0 / sqrt(expected), rel=0.002)


def test_a_finer_grain_and_a_larger_sample_are_surer() -> None:
    one = error_of(S)[0].value
    assert error_of(replace(S, top_size=1.0, liberation=1.0))[0].value == pytest.approx(one / 2.0**1.5)
    assert error_of(replace(S, lot=1e12))[0].value == pytest.approx(
        2.0 * error_of(replace(S, sample=2000.0, lot=1e12))[0].value, rel=1e-6
    )
    assert error_of(replace(S, liberation=0.5))[0].value == pytest.approx(one / sqrt(2.0))


def test_the_sample_for_a_wanted_error_has_that_error() -> None:
    for wanted in (2.0, 5.0, 20.0):
        assert error_of(replace(S, sample=sample_for(S, wanted)))[0].value == pytest.approx(wanted)
    assert sample_for(S, 0.0) == S.lot


def test_a_wild_error_is_warned_of_and_the_factors_are_flagged() -> None:
    found, issues = error_of(replace(S, sample=20.0, top_size=6.0, liberation=6.0))
    assert found.value > 20.0
    assert "by chance alone" in issues[0].sentence
    coarse = replace(S, sample=20.0, top_size=6.0, liberation=6.0)
    enough = float(issues[0].remedy.split("about ")[1].split(" g")[0])
    assert enough == pytest.approx(sample_for(coarse, 20.0), rel=0.05)
    assert error_of(replace(coarse, sample=1.1 * enough))[1] == ()
    assert "from memory" in found.source
    assert "judgement" in found.source
    assert error_of(S)[1] == ()


@pytest.mark.parametrize(
    "bad",
    [{"sample": 0.0}, {"lot": -1.0}, {"top_size": float("nan")}, {"content": 0.0}, {"content": 1.0}, {"sample": 1e9}],
    ids=str,
)
def test_numbers_that_make_no_sense_are_said(bad: dict[str, float]) -> None:
    s = replace(S, **bad)
    found, issues = error_of(s)
    assert found.source == "unknown"
    assert issues
    assert issues[0].remedy
    assert sample_for(s, 5.0) == pytest.approx(s.lot, nan_ok=True)
