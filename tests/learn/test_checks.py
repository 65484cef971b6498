"""Figures that cannot be true, each said in a sentence, and those that just can."""

from dataclasses import replace

import pytest

from fluxlab.issue import Severity
from fluxlab.learn.checks import checks
from fluxlab.learn.melt import Fineness, Weighing
from fluxlab.learn.reasons import reasons
from fluxlab.learn.seen import all_seen, shown_by_weights
from fluxlab.materials.estimate import Estimate
from tests.learn.melts import SAID, melt


def said(changes: dict[str, object]) -> list[str]:
    return [issue.sentence for issue in checks(melt(**changes))]


def test_a_sound_melt_has_nothing_against_it() -> None:
    assert checks(melt()) == ()


def test_a_button_cannot_hold_more_silver_than_the_charge() -> None:
    (issue,) = checks(melt(button=15.0))
    assert issue.severity == Severity.ERROR
    assert "would hold 13.5 g silver, but by the assay the charge holds 1.54 g" in issue.sentence
    assert "Weigh button and charge again" in issue.remedy


def test_a_little_more_silver_than_the_charge_may_be_the_errors() -> None:
    """Two standard deviations of this melt are 8.5 %: what holds 8 % more is within, what holds 9 % more is not."""
    assert not said({"button": 1.54 / 0.9 * 1.08})
    assert said({"button": 1.54 / 0.9 * 1.09})


def test_a_heavy_button_of_unknown_fineness_is_other_metal_or_another_charge() -> None:
    (issue,) = checks(melt(button=25.0, fineness=None))
    assert issue.severity == Severity.NOTE
    assert "at most 6.16 % of it can be silver" in issue.sentence
    assert not said({"button": 1.6, "fineness": None})


def test_no_more_comes_out_than_went_in() -> None:
    assert not said({"slag": 140.0, "matte": 8.0})
    assert any("151.5 g came out of the pot, but only 150.0 g went in" in s for s in said({"slag": 150.0}))


def test_fineness_over_the_whole_button() -> None:
    assert any("over 100 %" in sentence for sentence in said({"fineness": Fineness(95.0, 6.0)}))


def test_slag_outside_what_was_said() -> None:
    before = replace(SAID, slag=Estimate(110.0, 100.0, 120.0))
    assert not said({"slag": 101.0, "beforehand": before})
    assert any("less than the 100 to 120 g" in s for s in said({"slag": 99.0, "beforehand": before}))
    assert any("more than the 100 to 120 g" in s for s in said({"slag": 121.0, "beforehand": before}))


@pytest.mark.parametrize(("after", "odd"), [(139.0, False), (141.0, True)])
def test_a_roast_that_grew(after: float, odd: bool) -> None:
    assert bool(said({"roast_before": 100.0, "roast_after": after})) == odd


def test_a_slip_of_the_pen_in_a_weighing() -> None:
    slip = (Weighing("calcine", "Calcine", 90.0), Weighing("soda", "Soda ash", 60.0, 600.0))
    assert said({"weighed": slip}) == ["Soda ash: 600 g was read where 60 g was asked for."]


def test_a_struck_melt_is_not_checked() -> None:
    assert checks(melt(button=15.0, struck=True)) == ()


def test_weights_show_what_the_eye_would_note() -> None:
    before = replace(SAID, button=Estimate(1.5, 1.2, 1.8))
    assert shown_by_weights(melt(button=1.1, beforehand=before)) == ("button-small",)
    assert shown_by_weights(melt(button=1.9, beforehand=before)) == ("button-large",)
    assert shown_by_weights(melt(button=1.5, beforehand=before, matte=2.0, speiss=0.4, prills=0.1)) == (
        "layer-grey",
        "layer-white",
        "slag-prills",
    )
    assert shown_by_weights(melt(matte=0.0)) == ()
    assert all_seen(melt(seen=("slag-prills",), prills=0.2)) == ("slag-prills",)


def test_a_melt_that_stands_apart_has_its_reason_in_words() -> None:
    words = {"slag-stony": "Stony, pale", "slag-black": "Black, opaque"}
    others = [melt(f"m{k}", pour_temperature=1150.0, in_fire=41.0, seen=("slag-black",)) for k in range(4)]
    odd = melt("odd", pour_temperature=1120.0, in_fire=58.0, matte=3.0, seen=("slag-black", "slag-stony"))
    found = reasons(odd, others, words)
    assert found.looks == ("stony, pale",)
    assert found.figures == ("30 °C colder", "17 min longer in the fire", "3.0 g more matte")
    assert found.first == ("stony, pale", "30 °C colder")
    assert reasons(others[0], others[1:], words).all == ()


def test_another_recipe_is_a_reason() -> None:
    others = [melt(f"m{k}", route="iron") for k in range(3)]
    assert reasons(melt("odd", recipe="r2", route="nitre"), others).all == (
        "another recipe",
        "nitre in place of iron",
    )
