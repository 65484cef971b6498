"""Oxygen and lead as one currency; flour, nitre and litharge for a button."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.button import flour_for_button, lead_button, litharge_for, nitre_for_excess, power_by_trial
from fluxlab.fusion.currency import (
    LEAD_PER_OXYGEN,
    METAL_OXYGEN,
    lead_of_oxygen,
    net_lead,
    oxygen_to_oxidise,
    theoretical_power,
)
from fluxlab.issue import Severity


def test_an_oxygen_atom_weighs_against_a_lead_atom() -> None:
    assert pytest.approx(207.2 / 15.999, abs=1e-3) == LEAD_PER_OXYGEN
    assert lead_of_oxygen(2.0) == pytest.approx(2.0 * LEAD_PER_OXYGEN)


def test_reducers_and_oxidisers_of_a_charge_cancel() -> None:
    assert net_lead([(4.0, 11.2), (2.0, -4.0), (10.0, 0.0)]) == pytest.approx(36.8)


def test_an_oxidiser_has_a_negative_power() -> None:
    assert theoretical_power("KNO3", -2.5) == pytest.approx(-5.12, abs=0.005)


def test_flour_makes_the_button_and_pays_for_what_is_kept_up() -> None:
    assert flour_for_button(28.0, 5.0, 11.0) == pytest.approx(3.0)
    assert flour_for_button(28.0, -50.0, 11.0) < 0.0


def test_nitre_takes_off_what_is_too_much() -> None:
    assert nitre_for_excess(68.0, 28.0, 4.0) == pytest.approx(10.0)
    assert nitre_for_excess(20.0, 28.0, 4.0) < 0.0


def test_a_trial_fusion_gives_the_power_of_the_ore() -> None:
    assert power_by_trial(21.0, 3.0) == 7.0


@given(button=st.floats(0.1, 100.0), left=st.floats(0.0, 100.0))
def test_the_litharge_for_a_button_can_give_that_button(button: float, left: float) -> None:
    lead, issues = lead_button(button * 0.999999, litharge_for(button, left))
    assert lead == pytest.approx(button, rel=1e-5)
    assert issues == ()


def test_no_more_lead_comes_down_than_the_litharge_holds() -> None:
    lead, issues = lead_button(90.0, 80.0)
    assert lead == pytest.approx(74.3, abs=0.05)
    assert issues[0].severity is Severity.ERROR
    assert "90 g" in issues[0].sentence
    assert "74 g" in issues[0].sentence


def test_an_oxidising_charge_gives_no_button() -> None:
    assert lead_button(-5.0, 80.0) == (0.0, ())


def test_oxygen_for_metals_adds_up() -> None:
    assert oxygen_to_oxidise([("Zn", 65.38), ("Fe", 55.845)]) == pytest.approx(2 * 15.999, rel=1e-3)
    assert METAL_OXYGEN["Cu"] == pytest.approx(15.999 / (2 * 63.546), rel=1e-3)
    with pytest.raises(KeyError):
        oxygen_to_oxidise([("Ag", 1.0)])
