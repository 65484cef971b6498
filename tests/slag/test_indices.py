"""Basicities, optical basicity, borate share, mass shares and NBO/T."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from fluxlab.materials.oxides import INDEX, MASS, OXIDES, SIZE, Vec, vector, weight_percent
from fluxlab.slag.degree import CONVENTIONS, degree
from fluxlab.slag.indices import (
    basicity,
    basicity_coefficients,
    borate_share,
    borate_share_coefficients,
    indices,
    mass_share,
    mass_share_coefficients,
    optical_basicity,
    optical_basicity_coefficients,
)
from fluxlab.slag.network import nbo_per_t

compositions = arrays(np.float64, SIZE, elements=st.floats(0.0, 10.0, allow_subnormal=False))
NOTHING = np.zeros(SIZE)


def test_basicity_by_mass_and_by_mole() -> None:
    n = vector({"CaO": 2.0, "FeO": 1.0, "SiO2": 1.0, "B2O3": 0.5, "P2O5": 0.25})
    assert basicity(n, "mole") == pytest.approx(3.0 / 1.75)
    masses = {symbol: MASS[INDEX[symbol]] for symbol in OXIDES}
    above = 2.0 * masses["CaO"] + masses["FeO"]
    below = masses["SiO2"] + 0.5 * masses["B2O3"] + 0.25 * masses["P2O5"]
    assert basicity(n, "mass") == pytest.approx(above / below)


def test_alumina_titania_and_fluorspar_stand_on_neither_side_of_basicity() -> None:
    slag = vector({"CaO": 1.0, "SiO2": 1.0})
    more = slag + vector({"Al2O3": 1.0, "TiO2": 1.0, "CaF2": 1.0, "F": 1.0})
    assert basicity(more, "mass") == basicity(slag, "mass")
    assert basicity(more, "mole") == 1.0


def test_optical_basicity_of_a_mixture_is_weighted_by_oxygen() -> None:
    n = vector({"Na2O": 1.0, "SiO2": 2.0, "B2O3": 1.0})
    assert optical_basicity(n) == pytest.approx((1.11 + 4 * 0.48 + 3 * 0.40) / 8.0)


@pytest.mark.parametrize(("symbol", "value"), [("SiO2", 0.48), ("CaO", 1.0), ("PbO", 1.18), ("Fe2O3", 0.80)])
def test_optical_basicity_of_a_single_oxide_is_its_own(symbol: str, value: float) -> None:
    assert optical_basicity(vector({symbol: 3.0})) == pytest.approx(value)


def test_fluorspar_is_out_of_optical_basicity_unless_it_is_asked_for() -> None:
    slag = vector({"CaO": 1.0, "SiO2": 1.0})
    with_fluorspar = slag + vector({"CaF2": 1.0})
    assert optical_basicity(with_fluorspar) == optical_basicity(slag)
    assert optical_basicity(with_fluorspar, with_fluorspar=True) == pytest.approx((1.0 + 0.96 + 1.2) / 4.0)


def test_borate_share_is_by_mole_of_boric_oxide_and_silica() -> None:
    assert borate_share(vector({"B2O3": 1.0, "SiO2": 3.0, "Na2O": 9.0})) == pytest.approx(0.25)


def test_what_is_undefined_is_none_and_never_a_figure() -> None:
    found = indices(NOTHING)
    assert found.degree == dict.fromkeys(CONVENTIONS)
    assert found.basicity_mass is found.basicity_mole is found.optical_basicity is None
    assert found.borate_share is found.nbo_per_t is found.nbo_per_t_with_boron is None
    assert basicity(vector({"CaO": 1.0}), "mass") is None
    assert borate_share(vector({"CaO": 1.0})) is None
    assert optical_basicity(vector({"CaF2": 1.0})) is None
    assert mass_share(NOTHING, "ZnO") is None


def test_a_trace_that_is_only_rounding_makes_no_index() -> None:
    assert basicity(vector({"CaO": 1.0, "SiO2": 1e-300}), "mole") is None
    assert degree(vector({"SiO2": 1.0, "CaO": 1e-15}), "S") is None
    assert degree(vector({"SiO2": 1.0, "CaO": 1e-9}), "S") == pytest.approx(2e9)


def test_indices_gather_the_single_functions() -> None:
    n = vector({"Na2O": 2.0, "SiO2": 2.0, "B2O3": 1.0, "FeO": 1.0, "Al2O3": 0.2})
    found = indices(n, borax_soda=0.5)
    assert found.degree["S"] == degree(n, "S", 0.5)
    assert found.degree["SBA base"] == degree(n, "SBA base")
    assert found.basicity_mole == basicity(n, "mole")
    assert found.nbo_per_t_with_boron == nbo_per_t(n, with_boron=True)


@given(n=compositions)
def test_coefficients_and_values_agree(n: Vec) -> None:
    pairs = [
        (basicity(n, "mass"), basicity_coefficients("mass")),
        (basicity(n, "mole"), basicity_coefficients("mole")),
        (optical_basicity(n), optical_basicity_coefficients()),
        (optical_basicity(n, with_fluorspar=True), optical_basicity_coefficients(with_fluorspar=True)),
        (borate_share(n), borate_share_coefficients()),
        (mass_share(n, "ZnO"), mass_share_coefficients("ZnO")),
    ]
    for value, (above, below) in pairs:
        if value is None:
            assert float(below @ n) == pytest.approx(0.0, abs=1e-9 * max(1.0, float(below.max() * n.sum())))
        else:
            assert value * float(below @ n) == pytest.approx(float(above @ n), rel=1e-9, abs=1e-9)


@given(n=compositions)
def test_mass_shares_are_the_weight_percents(n: Vec) -> None:
    if n.sum() > 1e-3:
        shares = [mass_share(n, symbol) for symbol in OXIDES]
        assert shares == pytest.approx(list(weight_percent(n) / 100.0), abs=1e-12)


@pytest.mark.parametrize(("structure", "oxides", "expected"), [
    ("islands, olivine", {"MgO": 2.0, "SiO2": 1.0}, 4.0),
    ("pairs, akermanite", {"CaO": 2.0, "MgO": 1.0, "SiO2": 2.0}, 3.0),
    ("chains, diopside", {"CaO": 1.0, "MgO": 1.0, "SiO2": 2.0}, 2.0),
    ("sheets, sodium disilicate", {"Na2O": 1.0, "SiO2": 2.0}, 1.0),
    ("framework, quartz", {"SiO2": 1.0}, 0.0),
    ("framework, albite", {"Na2O": 0.5, "Al2O3": 0.5, "SiO2": 3.0}, 0.0),
    ("framework, anorthite", {"CaO": 1.0, "Al2O3": 1.0, "SiO2": 2.0}, 0.0),
    ("sodium ferric framework", {"Na2O": 0.5, "Fe2O3": 0.5, "SiO2": 3.0}, 0.0),
])  # fmt: skip
def test_nbo_per_t_follows_the_silicate_structures(structure: str, oxides: dict[str, float], expected: float) -> None:
    assert nbo_per_t(vector(oxides)) == pytest.approx(expected, abs=1e-12), structure


def test_alumina_without_charge_breaks_the_network_instead_of_forming_it() -> None:
    assert nbo_per_t(vector({"Al2O3": 1.0, "SiO2": 1.0})) == pytest.approx(6.0)


def test_boron_left_out_leaves_the_silicate_as_it_is() -> None:
    silicate = vector({"Na2O": 1.0, "SiO2": 2.0})
    assert nbo_per_t(silicate + vector({"B2O3": 1.0})) == nbo_per_t(silicate)


def test_boron_counted_takes_the_soda_first_and_then_bridges_with_three() -> None:
    assert nbo_per_t(vector({"B2O3": 1.0}), with_boron=True) == pytest.approx(0.0)
    assert nbo_per_t(vector({"Na2O": 1.0, "B2O3": 2.0}), with_boron=True) == pytest.approx(0.0)
    assert nbo_per_t(vector({"Na2O": 2.0, "B2O3": 1.0, "SiO2": 1.0}), with_boron=True) == pytest.approx(2.0 / 3.0)


@given(n=compositions)
def test_nbo_per_t_is_never_below_nil(n: Vec) -> None:
    for with_boron in (False, True):
        value = nbo_per_t(n, with_boron)
        assert value is None or value >= -1e-9
