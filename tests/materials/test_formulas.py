"""Formulas are read strictly, and a bad one is answered with a sentence."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Issue, Severity
from fluxlab.materials import formulas

ELEMENTS = ["H", "B", "C", "N", "O", "F", "Na", "Mg", "Al", "Si", "P", "S", "Cl", "K", "Ca", "Fe", "Zn", "Ag", "Pb"]


def atoms(text: str) -> dict[str, float]:
    found = formulas.read(text)
    assert isinstance(found, formulas.Formula), found
    return dict(found.atoms)


@pytest.mark.parametrize(
    "text", ["Na2B4O7·10H2O", "Na2B4O7*10H2O", "Na2B4O7 · 10 H2O", "Na₂B₄O₇·10H₂O", "Na2B4O7(H2O)10"]
)
def test_borax_is_read_in_every_usual_spelling(text: str) -> None:
    assert atoms(text) == {"Na": 2.0, "B": 4.0, "O": 17.0, "H": 20.0}


def test_brackets_nest() -> None:
    assert atoms("K[Al(OH)2]3") == {"K": 1.0, "Al": 3.0, "O": 6.0, "H": 6.0}


def test_fractional_counts_are_kept() -> None:
    assert atoms("Zn0.85Fe0.15S") == {"Zn": 0.85, "Fe": 0.15, "S": 1.0}
    assert atoms("CaSO4·0.5H2O") == {"Ca": 1.0, "S": 1.0, "O": 4.5, "H": 1.0}


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "empty"),
        ("CaSO4.2H2O", "full stop"),
        ("CuSO4.5(H2O)", "full stop"),
        ("Fe2O3)", "never opened"),
        ("(Fe", "left open"),
        ("()", "empty"),
        ("Fe0", "0"),
        ("Fe99999", "99999"),
        ("Na+", "+"),
        ("D2O", "D"),
        ("sio2", "s"),
        ("NaCl·", "empty"),
        ("Xx2O", "Xx"),
        ("borax", "b"),
    ],
)
def test_a_bad_formula_is_an_issue_that_names_the_trouble(text: str, word: str) -> None:
    found = formulas.read(text, "lines.jar")
    assert isinstance(found, Issue)
    assert found.severity is Severity.ERROR
    assert found.where == "lines.jar"
    assert word in found.sentence
    assert "Na2B4O7·10H2O" in found.remedy


def test_a_bad_formula_of_our_own_tables_is_our_fault() -> None:
    with pytest.raises(ValueError, match="cannot be read"):
        formulas.formula("Qq")


def test_mass_fractions_sum_to_one() -> None:
    assert math.isclose(sum(formulas.formula("KFe3(SO4)2(OH)6").mass_fractions.values()), 1.0, abs_tol=1e-12)


COUNT = st.one_of(st.integers(1, 20).map(str), st.decimals("0.01", "9.99", places=2).map(str), st.just(""))


@given(st.lists(st.tuples(st.sampled_from(ELEMENTS), COUNT), min_size=1, max_size=8))
def test_the_reader_agrees_with_the_chemistry_library(pieces: list[tuple[str, str]]) -> None:
    import periodictable

    text = "".join(symbol + count for symbol, count in pieces if count != "0.00")
    theirs = {str(element): float(count) for element, count in periodictable.formula(text).atoms.items()}
    assert atoms(text) == pytest.approx(theirs)


@given(st.text(alphabet="NaClSi2O3.()[]·*0159H ", max_size=20))
def test_no_text_makes_the_reader_raise(text: str) -> None:
    found = formulas.read(text)
    assert isinstance(found, formulas.Formula | Issue)
    if isinstance(found, formulas.Formula):
        assert found.mass > 0.0
