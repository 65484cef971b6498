"""Silicate degree under its conventions, as a value and as coefficients for the solver."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from fluxlab.materials.oxides import INDEX, OXIDES, SIZE, from_masses, vector
from fluxlab.slag.degree import CONVENTIONS, SODA_PER_BORATE, DegreeConvention, degree, degree_coefficients

compositions = arrays(np.float64, SIZE, elements=st.floats(0.0, 10.0, allow_subnormal=False))


@pytest.mark.parametrize(
    ("name", "silica", "expected"), [("sub", 0.25, 0.5), ("mono", 0.5, 1.0), ("bi", 1.0, 2.0), ("tri", 1.5, 3.0)]
)
def test_the_named_degrees_of_ferrous_silicate(name: str, silica: float, expected: float) -> None:
    for convention in CONVENTIONS:
        assert degree(vector({"FeO": 1.0, "SiO2": silica}), convention) == pytest.approx(expected), name


@pytest.mark.parametrize(("convention", "expected"), [
    ("S", 1.0),           # silica 2 O over the lime 2 O; borax left out with its soda
    ("all soda", 2 / 3),  # the same silica over lime and soda
    ("SB", 8 / 3),        # silica 2 O and boric oxide 6 O over lime and soda
    ("SBA base", 8 / 6),  # alumina 3 O below
    ("SBA acid", 11 / 3), # alumina 3 O above
])  # fmt: skip
def test_each_convention_counts_borax_and_alumina_its_own_way(convention: DegreeConvention, expected: float) -> None:
    n = vector({"SiO2": 1.0, "CaO": 2.0, "Al2O3": 1.0}) + vector({"Na2O": 1.0, "B2O3": 2.0})
    assert degree(n, convention, borax_soda=1.0) == pytest.approx(expected)


def test_borax_brings_half_a_mole_of_soda_to_each_of_boric_oxide() -> None:
    assert SODA_PER_BORATE * 2.0 == 1.0


def test_ferric_iron_needs_three_oxygens_and_ferrous_one() -> None:
    ferric = vector({"SiO2": 3.0, "Fe2O3": 1.0})
    ferrous = vector({"SiO2": 3.0, "FeO": 2.0})
    assert degree(ferric, "S") == pytest.approx(2.0)
    assert degree(ferrous, "S") == pytest.approx(3.0)


def test_phosphate_is_an_acid_beside_borate_but_silica_alone_is_silica_alone() -> None:
    n = vector({"SiO2": 1.0, "P2O5": 1.0, "CaO": 3.0})
    assert degree(n, "SB") == pytest.approx(7 / 3)
    assert degree(n, "S") == pytest.approx(2 / 3)


def test_fluorspar_counts_in_no_degree() -> None:
    slag = vector({"SiO2": 1.0, "CaO": 1.0})
    with_fluorspar = slag + vector({"CaF2": 5.0, "F": 1.0})
    for convention in CONVENTIONS:
        assert degree(with_fluorspar, convention) == degree(slag, convention)


@pytest.mark.parametrize("convention", CONVENTIONS)
def test_without_a_base_there_is_no_degree(convention: DegreeConvention) -> None:
    assert degree(vector({"SiO2": 1.0}), convention) is None
    assert degree(np.zeros(SIZE), convention) is None


def test_borax_on_silica_has_no_base_when_borax_is_left_out() -> None:
    soda = 0.3 / 201.2
    n = vector({"SiO2": 1.0, "Na2O": soda, "B2O3": 2.0 * soda})
    assert degree(n, "S", borax_soda=soda) is None
    assert degree(n, "all soda") is not None


def test_a_base_without_an_acid_has_degree_nil() -> None:
    assert degree(vector({"CaO": 1.0}), "SB") == 0.0


@given(n=compositions, soda=st.floats(0.0, 1.0))
def test_coefficients_and_value_agree(n: np.ndarray, soda: float) -> None:
    borax_soda = soda * float(n[INDEX["Na2O"]])
    for convention in CONVENTIONS:
        acid, base = degree_coefficients(convention)
        below = float(base @ n) - (borax_soda if convention == "S" else 0.0)
        value = degree(n, convention, borax_soda)
        if value is not None:
            assert value * below == pytest.approx(float(acid @ n), rel=1e-9, abs=1e-9)
        else:
            assert below == pytest.approx(0.0, abs=1e-9)


@given(n=compositions, factor=st.floats(0.1, 1000.0))
def test_the_degree_does_not_depend_on_the_size_of_the_charge(n: np.ndarray, factor: float) -> None:
    one, other = degree(n, "SB"), degree(factor * n, "SB")
    if one is None:
        assert other is None
    else:
        assert other == pytest.approx(one, rel=1e-9)


def test_coefficients_cannot_be_changed_by_mistake() -> None:
    for convention in CONVENTIONS:
        for vector_ in degree_coefficients(convention):
            with pytest.raises(ValueError, match="read-only"):
                vector_[0] = 1.0


def test_every_oxide_stands_on_one_side_at_most() -> None:
    for convention in CONVENTIONS:
        acid, base = degree_coefficients(convention)
        both = [symbol for symbol, a, b in zip(OXIDES, acid, base, strict=True) if a > 0 and b > 0]
        assert both == []


def test_masses_give_the_same_degree_as_moles() -> None:
    assert degree(from_masses({"FeO": 70.48, "SiO2": 29.52}), "S") == pytest.approx(1.0, abs=0.005)
