"""Exposure limits and the air that they ask for, as planning figures."""

from dataclasses import replace
from typing import Any

import pytest

from fluxlab.design.cautions import cautions
from fluxlab.design.cautions.exposure import air, dilution, exposures, limit_words
from fluxlab.design.cautions.findings import rough
from fluxlab.materials.formulas import atomic_mass, formula
from tests.design.caution_cases import QUIET

MOLAR_VOLUME = 24.45  # L/mol at 25 °C and 1 atm, as the NIOSH Pocket Guide converts


@pytest.mark.parametrize(
    ("key", "species", "ppm"),
    [
        ("SO2", "SO2", 2),
        ("NO2", "NO2", 1),
        ("NO", "NO", 25),
        ("HF", "HF", 3),
        ("CO", "CO", 35),
        ("CO2", "CO2", 5000),
        ("propane", "C3H8", 1000),
        ("H2S", "H2S", 10),
    ],
)
def test_limits_in_ppm_are_converted_by_the_molar_mass(key: str, species: str, ppm: float) -> None:
    assert exposures()[key].limit == pytest.approx(ppm * formula(species).mass / MOLAR_VOLUME, rel=0.005)
    assert f"{ppm} ppm" in exposures()[key].basis


def test_every_agent_has_a_limit_a_basis_and_a_source_with_its_state() -> None:
    for agent in exposures().values():
        assert agent.limit > 0.0
        assert agent.basis
        assert any(state in agent.source for state in ("found", "from memory", "computed")), agent.key
        if "from memory" in agent.source and "found" not in agent.source:
            assert "from memory" in agent.basis, agent.key


def test_the_sulphur_of_a_small_roast_asks_for_a_hall_full_of_air() -> None:
    # 100 g concentrate with 30 % sulphur
    so2 = 30.0 * formula("SO2").mass / atomic_mass("S")
    assert so2 == pytest.approx(60.0, rel=0.002)
    assert dilution("SO2", so2) == pytest.approx(11_400.0, rel=0.01)
    assert "11\u202f000 m³" in air("SO2", so2)
    assert "250 m³ a minute over 45 min" in air("SO2", so2, 45.0)


def test_a_gram_of_white_arsenic_cannot_be_thinned() -> None:
    arsenic = 4.0 * atomic_mass("As") / formula("As4O6").mass
    assert dilution("As", arsenic) == pytest.approx(380_000.0, rel=0.01)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.0, "0"), (9e-5, "less than 0.0001"), (1.04e-4, "0.00010"), (0.123, "0.12"), (4.96, "5.0"), (9.96, "10"),
        (37.6, "38"), (114.0, "110"), (187.0, "190"), (11_450.0, "11\u202f000"), (3.2e6, "3\u202f200\u202f000"),
    ],
)  # fmt: skip
def test_figures_that_plan_have_two_digits(value: float, words: str) -> None:
    assert rough(value) == words


@pytest.mark.parametrize(
    ("value", "words"), [(18.83, "18.8"), (999.7, "1\u202f000"), (1234.0, "1\u202f230"), (0.5, "0.500")]
)
def test_weights_have_three(value: float, words: str) -> None:
    assert rough(value, 3) == words


def test_a_limit_names_whose_it_is() -> None:
    assert limit_words("Pb") == "planning limit 0.05 mg/m³ (NIOSH and OSHA, 8 h)"


@pytest.mark.parametrize(
    ("facts", "rule", "limit"),
    [
        (
            {"nitre": 6.0, "nitre_share": 6.0},
            "R10",
            "its fume holds nitrogen oxides, the brown one: planning limit 1 ppm",
        ),
        ({"sulphide_sulphur": 3.0, "soda": 50.0}, "R24", "hydrogen sulphide: planning limit 10 ppm"),
        ({"lead": 10.0}, "R18", "planning limit 0.05 mg/m³"),
        ({"arsenic": 1.0}, "R16", "0.002 mg/m³"),
        ({"roast_so2": 20.0}, "R19", "2 ppm"),
    ],
)
def test_what_goes_into_the_air_names_its_limit(facts: dict[str, Any], rule: str, limit: str) -> None:
    (found,) = [c for c in cautions(replace(QUIET, **facts)) if c.rule == rule]
    assert limit in found.because
