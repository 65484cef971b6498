"""The button has a balance of its own where one is given, and a skin of its own where one is entered."""

import json
from math import sqrt

import pytest

from fluxlab.learn.yields import recovery_of, usual_skin, yield_of
from fluxlab.store.melt_document import melt_text, read_melt
from tests.learn.melts import melt


def test_a_small_button_of_a_fine_balance_is_not_too_light_for_that_of_the_charge() -> None:
    coarse = melt(button=0.0437, balance_step=0.1)
    assert yield_of(coarse) is None
    assert recovery_of(coarse).why == "The button is too light for a balance that shows 0.1 g."
    fine = melt(button=0.0437, balance_step=0.1, button_step=0.0001)
    assert yield_of(fine) is not None
    found = recovery_of(fine).value
    assert found is not None
    assert found.value == pytest.approx(100.0 * 0.0437 * 0.9 / 1.54)


def test_the_error_of_the_button_is_that_of_its_own_balance() -> None:
    """Reckoned by hand: a button of 1.5 g, its skin left out, on 0.001 g; a charge of 90 g on 0.1 g."""
    found = yield_of(melt(balance_step=0.1, button_step=0.001, skin=0.0))
    assert found is not None
    assert found.own == pytest.approx(sqrt((0.001 / 1.5) ** 2 + (0.1 / 90.0) ** 2) / sqrt(6.0))


def test_a_button_too_light_for_its_own_balance_names_that_one() -> None:
    assert recovery_of(melt(button=0.5, balance_step=0.01, button_step=1.0)).why == (
        "The button is too light for a balance that shows 1 g."
    )


def test_the_charge_keeps_its_balance() -> None:
    light = melt(weighed=(), button_step=0.001)
    assert yield_of(light) is None
    assert melt(button_step=0.001).button_shows == 0.001
    assert melt().button_shows == melt().balance_step


def test_a_skin_that_was_entered_takes_the_place_of_the_usual_one() -> None:
    usual, thick, clean = yield_of(melt()), yield_of(melt(skin=0.2)), yield_of(melt(skin=0.0))
    assert usual is not None
    assert thick is not None
    assert clean is not None
    assert clean.own < usual.own < thick.own
    assert thick.own == pytest.approx(0.2 / 1.5, rel=1e-3)
    assert yield_of(melt(skin=usual_skin(1.5))) == usual


def test_both_are_kept_and_an_entry_without_them_is_read_as_before() -> None:
    kept = melt(button_step=0.0001, skin=0.02)
    text = melt_text(kept)
    assert '"button_step_g": 0.0001' in text
    assert read_melt(text).value == kept
    old = json.loads(text)
    del old["melt"]["button_step_g"], old["melt"]["skin_g"]
    read = read_melt(json.dumps(old))
    assert read.value is not None
    assert (read.value.button_step, read.value.skin) == (None, None)
