"""Viscosity: the check cases, its range, its derivative, its inverse, and no jump anywhere."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab import resources
from fluxlab.issue import Severity
from fluxlab.materials.oxides import INDEX, SIZE, Vec, from_masses
from fluxlab.slag.interval import LEVELS, chance_below, table_half_widths
from fluxlab.slag.validity import composition_issues, temperature_issues, viscosity_issues
from fluxlab.slag.viscosity import (
    OPINIONS,
    log_viscosity,
    log_viscosity_slopes,
    own_log_viscosity,
    temperature_at,
    viscosity,
)
from tests.slag.jumps import largest_jump
from tests.slag.melt_cases import BAD, CORE, FAYALITE, PATHS, SODA_LIME, cases, compositions

CASES = cases()


def test_the_fitted_equation_gives_the_check_cases():
    found = own_log_viscosity(CASES.n, CASES.temperature)
    assert found.shape == (200,)
    assert np.abs(found - CASES.columns["log10_viscosity_Pa_s"]).max() < 1e-3


@pytest.mark.parametrize("melt", [SODA_LIME, CORE, FAYALITE], ids=["no say", "some say", "much say"])
def test_the_viscosity_alone_of_many_is_that_of_the_whole_answer(melt: Vec):
    table = np.vstack((melt, 1.01 * melt + 0.01 * CORE, melt))
    whole = viscosity(table, 1150.0)
    assert log_viscosity(table, 1150.0) == pytest.approx(whole.log10, abs=1e-12)
    assert log_viscosity(table, 1150.0)[0] == pytest.approx(float(log_viscosity(melt, 1150.0)), abs=1e-12)


def test_one_composition_and_a_table_of_them_give_the_same():
    table = viscosity(CASES.n, CASES.temperature)
    for i in range(0, 200, 23):
        alone = viscosity(CASES.n[i], CASES.temperature[i])
        assert alone.log10 == pytest.approx(table.log10[i], abs=1e-12)
        assert alone.half_widths == pytest.approx(table.half_widths[:, i], abs=1e-12)
        assert alone.weights == pytest.approx(table.weights[:, i], abs=1e-12)


def test_a_curve_is_one_composition_at_many_temperatures():
    temperatures = np.linspace(700.0, 1400.0, 15)
    curve = viscosity(CORE, temperatures)
    assert curve.log10.shape == (15,)
    assert curve.half_widths.shape == (len(LEVELS), 15)
    assert curve.opinions.shape == (len(OPINIONS), 15)
    assert (np.diff(curve.log10) < 0.0).all()
    assert curve.log10[7] == pytest.approx(float(log_viscosity(CORE, temperatures[7])), abs=1e-12)


def test_many_compositions_at_many_temperatures_make_a_table():
    table = log_viscosity(CASES.n[:7], np.array([[900.0], [1000.0], [1100.0]]))
    assert table.shape == (3, 7)
    assert table[1, 4] == pytest.approx(float(log_viscosity(CASES.n[4], 1000.0)), abs=1e-12)


def test_iron_borosilicates_follow_riboud_and_others_the_fit():
    core = viscosity(CORE, 1050.0)
    assert core.weights == pytest.approx([0.0, 1.0, 0.0])
    assert core.log10 == pytest.approx(core.opinions[1])
    assert core.opinions[0] == pytest.approx(0.15, abs=0.01)
    soda = viscosity(SODA_LIME, 1050.0)
    assert soda.weights == pytest.approx([1.0, 0.0, 0.0])
    assert soda.log10 == pytest.approx(soda.opinions[0])
    fayalite = viscosity(FAYALITE, 1200.0)
    assert fayalite.weights == pytest.approx([0.0, 0.0, 1.0])
    assert fayalite.opinions[0] - fayalite.log10 > 1.5


def test_scaling_a_composition_changes_nothing():
    big, small = viscosity(1e4 * CORE, 1000.0), viscosity(1e-4 * CORE, 1000.0)
    assert big.log10 == pytest.approx(small.log10, abs=1e-12)
    assert big.half_widths == pytest.approx(small.half_widths, abs=1e-12)


def test_fluorspar_is_lime_with_two_fluorines():
    spar = from_masses({"SiO2": 45, "Na2O": 20, "CaF2": 10, "Al2O3": 5, "B2O3": 10, "FeO": 8})
    apart = spar.copy()
    apart[INDEX["CaO"]] += spar[INDEX["CaF2"]]
    apart[INDEX["F"]] += 2.0 * spar[INDEX["CaF2"]]
    apart[INDEX["CaF2"]] = 0.0
    one, other = viscosity(spar, 1000.0), viscosity(apart, 1000.0)
    assert one.opinions[:2] == pytest.approx(other.opinions[:2], abs=1e-9)
    assert one.weights == pytest.approx(other.weights, abs=1e-9)


@pytest.mark.parametrize(("_name", "start", "end"), PATHS, ids=[path[0] for path in PATHS])
def test_nothing_jumps_with_the_composition(_name: str, start: Vec, end: Vec):
    def mixed(t: float) -> Vec:
        return (1.0 - t) * start / start.sum() + t * end / end.sum()

    def told(t: float) -> Vec:
        found = viscosity(mixed(t), 1050.0)
        return np.array([found.log10, found.half_widths[1], found.half_widths[3], *found.weights])

    assert largest_jump(told) < 1e-6


def test_a_jump_would_be_found():
    assert largest_jump(lambda t: [t, np.floor(3.0 * t + 0.2)]) == pytest.approx(1.0)


@pytest.mark.parametrize("n", [CORE, SODA_LIME, FAYALITE, CORE + FAYALITE], ids=["core", "soda", "fayalite", "mixed"])
def test_nothing_jumps_with_the_temperature(n: Vec):
    def told(t: float) -> Vec:
        found = viscosity(n, 650.0 + 800.0 * t)
        return np.array([found.log10, found.half_widths[1], found.half_widths[3]])

    assert largest_jump(told) < 1e-6


@settings(max_examples=100, deadline=None)
@given(compositions())
def test_weights_are_shares_of_one(n: Vec):
    weights = viscosity(n, 1050.0).weights
    assert (weights >= 0.0).all()
    assert weights.sum() == pytest.approx(1.0)


@settings(max_examples=60, deadline=None)
@given(compositions(), st.floats(800.0, 1300.0))
def test_the_derivative_is_that_of_differences(n: Vec, temperature: float):
    slopes = log_viscosity_slopes(n, temperature)
    step = 1e-6 * n.sum()
    ways = step * np.eye(SIZE)
    differences = (log_viscosity(n + ways, temperature) - log_viscosity(n - ways, temperature)) / (2.0 * step)
    forward = (log_viscosity(n + ways, temperature) - log_viscosity(n, temperature)) / step
    smooth = np.abs(forward - differences) < 1e-3 * (1.0 + np.abs(differences).max())
    assert np.abs(slopes - differences)[smooth].max(initial=0.0) < 1e-5 * (1.0 + np.abs(slopes).max())
    assert smooth.sum() >= SIZE - 6


@settings(max_examples=60, deadline=None)
@given(compositions(), st.floats(800.0, 1300.0))
def test_more_of_the_whole_slag_changes_nothing(n: Vec, temperature: float):
    assert abs(log_viscosity_slopes(n, temperature) @ n) < 1e-8


@settings(max_examples=60, deadline=None)
@given(compositions(), st.floats(660.0, 1440.0))
def test_the_temperature_for_a_viscosity_is_where_it_came_from(n: Vec, temperature: float):
    wanted = log_viscosity(n, temperature)
    back = temperature_at(n, wanted)
    assert log_viscosity(n, back) == pytest.approx(float(wanted), abs=1e-9)


def test_the_inverse_of_a_table_is_a_table():
    found = temperature_at(CASES.n, 1.0)
    told = ~np.isnan(found)
    assert told.sum() > 150
    assert log_viscosity(CASES.n[told], found[told]) == pytest.approx(1.0, abs=1e-9)
    assert (temperature_at(CORE, [2.0, 1.0, 0.0]) == sorted(temperature_at(CORE, [2.0, 1.0, 0.0]))).all()


def test_a_viscosity_beyond_the_told_temperatures_has_none():
    assert np.isnan(temperature_at(CORE, 12.0))
    assert np.isnan(temperature_at(CORE, -6.0))


ROWS = resources.table("slag/viscosity_interval.csv")


@given(st.floats(0.0, 20.0))
def test_no_width_is_below_the_row_of_its_leverage(leverage: float):
    row = next((r for r in ROWS if float(r["lev_lo"]) <= leverage < float(r["lev_hi"])), ROWS[-1])
    widths = table_half_widths(np.array([leverage]))[:, 0]
    assert (widths >= [float(row[f"p{level}"]) for level in LEVELS]).all()


def test_widths_grow_with_leverage_and_level_and_never_jump():
    widths = table_half_widths(np.linspace(0.0, 0.1, 5001))
    assert (np.diff(widths, axis=1) >= 0.0).all()
    assert (np.diff(widths, axis=0) > 0.0).all()
    assert largest_jump(lambda t: table_half_widths(np.array([0.05 * t]))[:, 0]) < 1e-6


def test_no_predicted_width_is_below_the_table():
    found = viscosity(CASES.n, CASES.temperature)
    assert (found.half_widths >= table_half_widths(found.leverage) - 1e-12).all()


def test_where_opinions_are_blended_the_range_is_that_of_iron_slags():
    widths = viscosity(CORE, 1050.0).half_widths
    assert widths[LEVELS.index(68)] >= 0.5
    assert widths[LEVELS.index(90)] >= 0.82
    half = viscosity(from_masses({"SiO2": 45, "B2O3": 20, "Na2O": 20, "CaO": 12, "FeO": 3}), 1050.0)
    assert half.weights[1] == pytest.approx(0.5)
    assert half.half_widths[LEVELS.index(68)] >= 0.5


def test_the_chance_follows_the_range():
    found = viscosity(CORE, 1050.0)
    for level, width in zip(LEVELS, found.half_widths, strict=True):
        above = chance_below(found.log10, found.half_widths, float(found.log10 + width))
        assert above == pytest.approx(0.5 + level / 200.0)
        assert chance_below(found.log10, found.half_widths, float(found.log10 - width)) == pytest.approx(1.0 - above)
    assert chance_below(found.log10, found.half_widths, float(found.log10)) == pytest.approx(0.5)
    chances = [float(chance_below(found.log10, found.half_widths, x)) for x in np.linspace(-6.0, 6.0, 200)]
    assert (np.diff(chances) >= 0.0).all()
    assert largest_jump(lambda t: chance_below(found.log10, found.half_widths, 8.0 * t - 4.0)) < 1e-6


@pytest.mark.parametrize("name", BAD)
def test_a_composition_that_cannot_be_told_gives_words_and_no_number(name: str):
    found = viscosity(BAD[name], 1050.0)
    assert np.isnan(found.log10)
    assert np.isnan(found.half_widths).all()
    assert np.isnan(temperature_at(BAD[name], 0.0))
    assert np.isnan(log_viscosity_slopes(BAD[name], 1050.0)).all()
    (issue,) = composition_issues(BAD[name])
    assert issue.severity is Severity.ERROR
    assert issue.sentence
    assert issue.remedy


@pytest.mark.parametrize("temperature", [300.0, 3000.0, np.nan, np.inf])
def test_a_temperature_that_cannot_be_told_gives_words_and_no_number(temperature: float):
    assert np.isnan(viscosity(CORE, temperature).log10)
    assert np.isnan(log_viscosity_slopes(CORE, temperature)).all()
    (issue,) = temperature_issues(temperature)
    assert issue.severity is Severity.ERROR
    assert issue.remedy


def test_one_bad_row_leaves_the_others_alone():
    table = np.array([CORE, np.zeros(SIZE), BAD["no number"], SODA_LIME])
    found = log_viscosity(table, 1050.0)
    assert np.isnan(found).tolist() == [False, True, True, False]
    assert found[3] == pytest.approx(float(log_viscosity(SODA_LIME, 1050.0)), abs=1e-12)


def words(n: Vec, temperature: float) -> str:
    return " | ".join(issue.sentence for issue in viscosity_issues(n, temperature))


def test_doubts_are_said_in_words():
    assert words(SODA_LIME, 1000.0) == ""
    assert "Low confidence" in words(CORE, 1050.0)
    assert "below 0.1 Pa·s" in words(from_masses({"Na2O": 38, "B2O3": 40, "SiO2": 22}), 1250.0)
    assert "1350 °C lies outside" in words(SODA_LIME, 1350.0)
    assert "FeO 70.5 % lies above the 18" in words(FAYALITE, 1250.0)
    assert "extrapolation" in words(FAYALITE, 1250.0)
    assert "Na2O 48.0 % lies above the 40" in words(from_masses({"Na2O": 48, "SiO2": 52}), 1100.0)
