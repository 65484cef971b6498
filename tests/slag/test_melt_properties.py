"""Density, surface tension, liquidus and heat of melts: the check cases, no jump, and nothing invented."""

import numpy as np
import pytest
from hypothesis import given, settings

from fluxlab.issue import Severity
from fluxlab.materials.oxides import INDEX, SIZE, Vec, from_masses, grams, vector
from fluxlab.slag.domain import SPANS
from fluxlab.slag.heat import SOFTENS, liquid_heat_capacity, melt_enthalpy
from fluxlab.slag.hot_density import density_at, likely_volume_of, volume_at
from fluxlab.slag.liquidus import liquidus, planes_of
from fluxlab.slag.melts import melts
from fluxlab.slag.properties import property_issues, slag_properties
from fluxlab.slag.spread import Spread
from fluxlab.slag.surface_tension import surface_tension_at
from tests.slag.jumps import largest_jump
from tests.slag.melt_cases import BAD, CORE, FAYALITE, PATHS, SODA_LIME, cases, compositions

CASES = cases()


def test_density_gives_the_check_cases():
    found = density_at(CASES.n, CASES.temperature).value
    assert np.abs(found / CASES.columns["density_g_cm3"] - 1.0).max() < 2e-4


def test_surface_tension_gives_the_check_cases():
    found = surface_tension_at(CASES.n, CASES.temperature).value
    assert np.abs(found - CASES.columns["surface_tension_mN_m"]).max() < 0.1


def test_the_planes_of_the_liquidus_give_the_check_cases():
    assert np.abs(planes_of(melts(CASES.n)) - CASES.columns["liquidus_C"]).max() < 0.1


def test_one_composition_and_a_table_of_them_give_the_same():
    table = slag_properties(CASES.n, CASES.temperature, 2.0)
    for i in range(0, 200, 37):
        alone = slag_properties(CASES.n[i], CASES.temperature[i], 2.0)
        for name in ("density", "volume", "surface_tension", "heat"):
            assert getattr(alone, name).ends == pytest.approx(getattr(table, name).ends[:, i], rel=1e-9)
        for name in ("thin", "leaves_pot", "liquidus", "melt_free", "pour"):
            one, many = getattr(alone.workable, name).ends, getattr(table.workable, name).ends[:, i]
            assert one == pytest.approx(many, rel=1e-9, nan_ok=True)


def test_volume_is_mass_over_density():
    volume, density = volume_at(CORE, 1050.0), density_at(CORE, 1050.0)
    mass = grams(CORE).sum()
    assert volume.value * density.value == pytest.approx(mass)
    assert volume.low90 * density.high90 == pytest.approx(mass)
    assert volume.low90 < volume.low50 < volume.value < volume.high50 < volume.high90


def test_the_volume_without_its_range_is_the_middle_of_that_with_it():
    table = np.vstack((CASES.n[:40], BAD["silica alone"], BAD["nothing"]))
    alone = likely_volume_of(melts(table), np.asarray(1200.0))
    assert np.array_equal(alone, volume_at(table, 1200.0).value, equal_nan=True)
    assert np.isnan(alone[-2:]).all()
    assert float(likely_volume_of(melts(CORE), np.asarray(1050.0))) == float(volume_at(CORE, 1050.0).value)


def test_ranges_are_the_measured_errors_and_wider_off_range():
    usual, odd = density_at(SODA_LIME, 1100.0), density_at(FAYALITE, 1100.0)
    assert usual.high90 / usual.value - 1.0 == pytest.approx(0.07)
    assert odd.high90 / odd.value - 1.0 == pytest.approx(0.14)
    tension = surface_tension_at(SODA_LIME, 1100.0)
    assert tension.high90 - tension.value == pytest.approx(45.0)
    last = liquidus(SODA_LIME)
    assert last.value - last.low90 == pytest.approx(190.0)


def test_spinel_comes_in_with_ferric_iron_and_only_raises_the_liquidus():
    base = from_masses({"SiO2": 45, "B2O3": 12, "Na2O": 14, "CaO": 8, "Al2O3": 10, "MgO": 4})
    for percent, held in ((1.9, True), (8.0, False)):
        n = base / grams(base).sum() * (100.0 - percent) + from_masses({"Fe2O3": percent})
        planes, whole = float(planes_of(melts(n))[0]), float(liquidus(n).value)
        assert whole >= planes
        assert (whole == planes) is held


def figures(n: Vec, temperature: float) -> Vec:
    found = slag_properties(n, temperature)
    told = (found.density, found.surface_tension, found.heat, found.workable.liquidus, found.workable.pour)
    values = np.array([each.value for each in told])
    # a melt too stiff for any told temperature counts as poured at the hottest
    values[4] = SPANS["viscosity"].most if np.isnan(values[4]) else values[4]
    return values / [1.0, 100.0, 100.0, 1000.0, 1000.0]


@pytest.mark.parametrize(("_name", "start", "end"), PATHS, ids=[path[0] for path in PATHS])
def test_nothing_jumps_with_the_composition(_name: str, start: Vec, end: Vec):
    def mixed(t: float) -> Vec:
        return (1.0 - t) * start / grams(start).sum() + t * end / grams(end).sum()

    assert largest_jump(lambda t: figures(mixed(t), 1050.0), steps=200, looked_at=2) < 1e-6


@pytest.mark.parametrize("n", [CORE, SODA_LIME, FAYALITE], ids=["core", "soda lime", "fayalite"])
def test_nothing_jumps_with_the_temperature(n: Vec):
    assert largest_jump(lambda t: figures(n, 700.0 + 740.0 * t)[:3], steps=200, looked_at=2) < 1e-6


def test_the_figures_of_the_ranges_do_not_jump_either():
    def ends(t: float) -> Vec:
        n = (1.0 - t) * CORE + t * from_masses({"PbO": 92, "SiO2": 8})
        found = slag_properties(n, 1000.0)
        return np.array(
            [found.density.high90, found.surface_tension.high90 / 100.0, found.workable.melt_free.high90 / 1e3]
        )

    assert largest_jump(ends, steps=200) < 1e-6


@settings(max_examples=40, deadline=None)
@given(compositions())
def test_density_volume_and_heat_go_with_the_amount(n: Vec):
    one, three = slag_properties(n, 1050.0), slag_properties(3.0 * n, 1050.0)
    assert three.density.ends == pytest.approx(one.density.ends, nan_ok=True)
    assert three.volume.ends == pytest.approx(3.0 * one.volume.ends, nan_ok=True)
    assert three.heat.ends == pytest.approx(3.0 * one.heat.ends, nan_ok=True)
    assert three.workable.pour.ends == pytest.approx(one.workable.pour.ends, nan_ok=True)


def test_heat_grows_by_the_liquid_capacity_above_the_softening():
    rise = (melt_enthalpy(CORE, 1100.0).value - melt_enthalpy(CORE, 1000.0).value) * 1000.0
    assert rise == pytest.approx(100.0 * float(liquid_heat_capacity(CORE).value))
    below = melt_enthalpy(CORE, SOFTENS).value - melt_enthalpy(CORE, 25.0).value
    assert 0.0 < below * 1000.0 < (SOFTENS - 25.0) * float(liquid_heat_capacity(CORE).value)
    assert melt_enthalpy(CORE, 25.0).value == pytest.approx(0.22 * grams(CORE).sum(), rel=1e-9)


def test_fluorspar_is_lime_with_two_fluorines_for_every_property():
    spar = from_masses({"SiO2": 45, "Na2O": 20, "CaF2": 10, "Al2O3": 5, "B2O3": 20})
    apart = spar + vector({"CaO": spar[INDEX["CaF2"]], "F": 2.0 * spar[INDEX["CaF2"]]})
    apart[INDEX["CaF2"]] = 0.0
    one, other = slag_properties(spar, 1050.0), slag_properties(apart, 1050.0)
    assert one.density.value == pytest.approx(float(other.density.value), rel=1e-6)
    assert one.surface_tension.value == pytest.approx(float(other.surface_tension.value))
    assert one.workable.liquidus.value == pytest.approx(float(other.workable.liquidus.value))


@pytest.mark.parametrize("name", BAD)
def test_nothing_is_invented_for_a_composition_that_cannot_be_told(name: str):
    found = slag_properties(BAD[name], 1050.0)
    spreads = [found.density, found.volume, found.surface_tension, found.heat, found.workable.pour]
    spreads += [found.workable.liquidus, found.workable.thin, found.workable.melt_free]
    assert all(np.isnan(each.ends).all() for each in spreads)
    issues = property_issues(BAD[name], 1050.0, found)
    assert [issue.severity for issue in issues] == [Severity.ERROR]


@pytest.mark.parametrize("temperature", [300.0, 3000.0, np.nan])
def test_nothing_is_invented_for_a_temperature_that_cannot_be_told(temperature: float):
    found = slag_properties(CORE, temperature)
    assert np.isnan([found.viscosity.log10, found.density.value, found.surface_tension.value]).all()
    assert np.isnan(found.heat.value) == (not temperature < SPANS["heat"].most)
    assert not np.isnan(found.workable.pour.value)
    assert Severity.ERROR in [issue.severity for issue in property_issues(CORE, temperature, found)]


def test_an_oxide_known_to_no_equation_counts_in_none_but_is_warned_of():
    n = CORE + from_masses({"SnO2": 5.0})
    said = " ".join(issue.sentence for issue in property_issues(n, 1050.0, slag_properties(n, 1050.0)))
    assert "SnO2" in said


def test_the_higher_of_two_spreads_is_taken_end_by_end():
    one = Spread(np.array([10.0, 8.0, 12.0, 0.0, 30.0]))
    other = Spread(np.array([9.0, 8.5, 9.5, 5.0, 11.0]))
    assert one.higher(other).ends.tolist() == [10.0, 8.5, 12.0, 5.0, 30.0]


def test_a_table_may_hold_no_row():
    found = slag_properties(np.zeros((0, SIZE)), np.zeros(0))
    assert found.density.value.shape == (0,)
