"""Figures that cannot be true, each said in a sentence, and those that just can."""

from dataclasses import replace
from datetime import datetime

import pytest

from fluxlab.issue import Severity
from fluxlab.learn.checks import checks
from fluxlab.learn.melt import Beforehand, Fineness, Weighing
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


ENDS = replace(SAID, roast_least=-16.2, roast_most=5.6)


def roast(before: float, after: float, said_before: Beforehand = ENDS, **changes: object) -> list[str]:
    return said({"roast_before": before, "roast_after": after, "beforehand": said_before, **changes})


@pytest.mark.parametrize(
    ("after", "odd"), [(83.7, True), (83.9, False), (100.0, False), (105.5, False), (105.7, True), (140.0, True)]
)
def test_a_roast_ends_where_a_roast_of_this_ore_can(after: float, odd: bool) -> None:
    """83.8 g and 105.6 g of 100 g are the ends; two readings of a balance of 0.01 g move them by 0.01 g."""
    assert bool(roast(100.0, after)) == odd


def test_a_roast_that_grew_by_forty_per_cent_is_told_with_what_is_possible() -> None:
    assert roast(100.0, 140.0) == [
        "The roast grew from 100.0 to 140.0 g, by 40.0 %: no roast of this ore as described ends there "
        "(possible is −16.2 to +5.6 %)."
    ]
    assert "shrank from 250.0 to 100.0 g, by 60.0 %" in roast(250.0, 100.0)[0]


def test_a_coarse_balance_may_have_read_what_lies_beyond() -> None:
    """1 g steps on 20 g: 2 / sqrt(6) / 20 times the root of 1 + 1.1^2 is 6.1 %, so that 5.6 % may read as 10 %."""
    assert roast(20.0, 22.0, balance_step=0.01)
    assert not roast(20.0, 22.0, balance_step=1.0)


@pytest.mark.parametrize(("after", "odd"), [(139.0, False), (140.0, True), (141.0, True)])
def test_of_an_ore_that_is_not_known_forty_per_cent_more_is_too_much(after: float, odd: bool) -> None:
    assert bool(roast(100.0, after, SAID)) == odd
    assert not roast(100.0, 20.0, SAID)


@pytest.mark.parametrize(("before", "after"), [(0.0, 5.0), (None, 5.0), (5.0, None)])
def test_a_roast_that_was_weighed_once_says_nothing(before: float | None, after: float | None) -> None:
    assert not said({"roast_before": before, "roast_after": after, "beforehand": ENDS})


def test_the_hold_is_part_of_the_time_in_the_fire() -> None:
    (issue,) = checks(melt(hold=30.0, in_fire=10.0))
    assert issue.severity == Severity.WARNING
    assert "Held quiet for 30 min, but the pot was in the fire for 10 min only" in issue.sentence
    assert not said({"hold": 10.0, "in_fire": 10.0})
    assert not said({"hold": 30.0})


@pytest.mark.parametrize(
    ("heat", "words"), [(115.0, "Poured at 115 °C: no slag pours below 600 °C."), (1900.0, "no gas furnace gets above")]
)
def test_a_pour_at_a_heat_that_cannot_be(heat: float, words: str) -> None:
    (sentence,) = said({"pour_temperature": heat})
    assert words in sentence


@pytest.mark.parametrize("heat", [600.0, 1150.0, 1600.0])
def test_a_pour_at_a_heat_that_can_be(heat: float) -> None:
    assert not said({"pour_temperature": heat})


def test_a_melt_is_poured_before_it_is_entered() -> None:
    entered = datetime(2026, 3, 1, 18, 0)
    assert checks(melt(poured=datetime(2026, 3, 1, 18, 59)), entered) == ()
    (issue,) = checks(melt(poured=datetime(2099, 3, 1, 16, 20)), entered)
    assert issue.sentence == "Poured 2099-03-01 16:20, but entered 2026-03-01 18:00: that is before it."
    assert checks(melt(poured=datetime(2099, 3, 1, 16, 20))) == ()


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
