"""Silver lost in the roast: three classes with a smooth way between them."""

import numpy as np
import pytest

from fluxlab.ore.silver_in_roast import silver_loss


def test_the_three_classes_have_their_ranges() -> None:
    normal, fuming, salt = silver_loss({}, 740.0), silver_loss({"As": 0.12}, 740.0), silver_loss({"Cl": 0.05}, 740.0)
    assert (normal.low, normal.value, normal.high) == pytest.approx((0.5, 1.0, 1.5), rel=0.01)
    assert (fuming.low, fuming.value, fuming.high) == pytest.approx((2.0, 3.5, 5.0), rel=0.01)
    assert (salt.low, salt.value, salt.high) == pytest.approx((5.0, 10.0, 15.0), rel=0.01)
    assert all("memory and judgement" in e.source for e in (normal, fuming, salt))


def test_a_hot_finish_and_antimony_count_as_fuming() -> None:
    assert silver_loss({}, 860.0).value == pytest.approx(3.5, rel=0.01)
    assert silver_loss({"Sb": 0.04, "Te": 0.04}, 740.0).value == pytest.approx(3.5, rel=0.01)
    assert silver_loss({"As": 0.02}, 740.0).value == pytest.approx(1.0, rel=0.02)


def test_nothing_jumps_between_the_classes() -> None:
    for found in (
        [silver_loss({"As": x}, 740.0).value for x in np.linspace(0.0, 0.12, 1201)],
        [silver_loss({}, t).value for t in np.linspace(700.0, 900.0, 2001)],
        [silver_loss({"Cl": x}, 740.0).value for x in np.linspace(0.0, 0.02, 20001)],
    ):
        assert np.abs(np.diff(found)).max() < 0.06
