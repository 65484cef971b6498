"""Yield and recovery of melts, singly and in a row."""

from dataclasses import replace
from math import exp, log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.learn.melt import Fineness, Melt, Weighing
from fluxlab.learn.yields import impossible, recovery_of, row_of, weighing_error, yield_of
from tests.learn.melts import SAID, melt


def test_yield_is_button_over_charge_and_recovery_is_silver_over_silver() -> None:
    """1.5 g of button of 90 g is a yield of 1.67 %; 1.35 g silver of 1.54 g is a recovery of 87.7 %."""
    found, got = yield_of(melt()), recovery_of(melt())
    assert found is not None
    assert got.value is not None
    assert found.value == pytest.approx(100.0 * 1.5 / 90.0)
    assert got.value.value == pytest.approx(100.0 * 1.35 / 1.54)
    assert (got.got, got.held, got.at_most) == (pytest.approx(1.35), pytest.approx(1.54), None)


def test_lead_in_the_button_raises_the_yield_and_not_the_recovery() -> None:
    plain, leaded = melt(), melt(button=15.0, fineness=Fineness(9.0, by="assayer"))
    one, other = yield_of(plain), yield_of(leaded)
    assert one is not None
    assert other is not None
    assert other.value == pytest.approx(10.0 * one.value)
    assert recovery_of(leaded).value is not None
    assert recovery_of(leaded).value.value == pytest.approx(recovery_of(plain).value.value)  # type: ignore[union-attr]


def test_the_error_is_that_of_weights_fineness_charge_and_assay() -> None:
    """Reckoned by hand: 0.01 g balance, skin as on 10 g by the surface, 0.3 % fire assay, 1 % charge, 4 % grade."""
    found = recovery_of(melt()).value
    assert found is not None
    skin = 0.05 * (1.5 / 10.0) ** (2.0 / 3.0)
    assert skin == pytest.approx(0.0141, abs=1e-4)
    button = sqrt((0.01 / sqrt(6.0) / 1.5) ** 2 + (skin / 1.5) ** 2)
    charge = 0.01 / sqrt(6.0) / 90.0
    assert found.own == pytest.approx(sqrt(button**2 + 0.003**2 + charge**2 + 0.01**2))
    assert found.shared == pytest.approx(0.04)


def test_a_rounded_weighing_has_the_variance_of_a_rectangle() -> None:
    """Full and empty pan are each read to the nearest 0.1 g."""
    import numpy as np

    chance = np.random.default_rng(2)
    true, empty = chance.uniform(5.0, 6.0, 200_000), chance.uniform(1.0, 2.0, 200_000)
    seen = np.round((true + empty) / 0.1) * 0.1 - np.round(empty / 0.1) * 0.1
    assert float(np.std(seen - true)) == pytest.approx(5.5 * weighing_error(5.5, 0.1), rel=0.01)


def test_the_charge_as_read_counts_and_not_as_asked() -> None:
    light = melt(weighed=(Weighing("calcine", "Calcine", 90.0, 45.0), Weighing("soda", "Soda ash", 60.0)))
    assert light.charge == 45.0
    assert light.total == 105.0
    assert recovery_of(light).held == pytest.approx(0.77)


@pytest.mark.parametrize(
    ("changes", "why", "at_most"),
    [
        ({"fineness": None}, "have it assayed", 100.0 * 1.5 / 1.54),
        ({"fineness": Fineness(None, 1.0)}, "have it assayed", 100.0 * 1.5 / 1.54),
        ({"button": None}, "was not weighed", None),
        ({"button": 0.0}, "No button came out", 0.0),
        ({"beforehand": replace(SAID, silver=None)}, "No silver grade", None),
        ({"beforehand": replace(SAID, silver=0.0)}, "holds no silver", None),
        ({"button": 0.004}, "too light for a balance that shows 0.01 g", 100.0 * 0.004 / 1.54),
        ({"weighed": ()}, "No silver grade", None),
        ({"weighed": (Weighing("calcine", "Calcine", 1e-310, 90.0),)}, "No silver grade", None),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_guessed(
    changes: dict[str, object], why: str, at_most: float | None
) -> None:
    found = recovery_of(melt(**changes))
    assert found.value is None
    assert why in found.why
    assert found.at_most == (None if at_most is None else pytest.approx(at_most))


def test_a_guess_is_less_sure_than_an_assay() -> None:
    by = {
        word: recovery_of(melt(fineness=Fineness(90.0, by=word))).value
        for word in ("assayer", "x-ray gun", "own guess")
    }
    errors = [found.own for found in by.values() if found is not None]
    assert errors == sorted(errors)
    assert errors[0] < errors[2]
    told = recovery_of(melt(fineness=Fineness(90.0, by="own guess", error=0.3))).value
    assert told is not None
    assert told.own == pytest.approx(errors[0])


def test_gold_has_a_recovery_of_its_own() -> None:
    found = recovery_of(melt(fineness=Fineness(90.0, 1.2, by="assayer")), "gold")
    assert found.value is not None
    assert found.value.value == pytest.approx(100.0 * 1.5 * 0.012 / 0.02)


@given(st.floats(0.2, 40.0), st.floats(1.0, 100.0), st.floats(0.5, 2.0))
def test_recovery_does_not_change_when_charge_and_button_grow_alike(button: float, fine: float, times: float) -> None:
    one = melt(button=button, fineness=Fineness(fine))
    other = melt(
        button=button * times,
        fineness=Fineness(fine),
        weighed=(Weighing("calcine", "Calcine", 90.0, 90.0 * times),),
    )
    assert recovery_of(other).value.value == pytest.approx(recovery_of(one).value.value)  # type: ignore[union-attr]


def test_the_row_leaves_out_what_stands_apart_and_says_so() -> None:
    good = [melt(f"m{k}", button=1.5 + 0.01 * k) for k in range(5)]
    poor = melt("poor", button=0.9)
    found = row_of([*good, poor])
    assert found.apart == ("poor",)
    assert found.counted == 5
    assert found.recovery is not None
    assert found.recovery.value == pytest.approx(100.0 * 0.9 * 1.52 / 1.54, rel=1e-3)
    assert found.recovery.low < found.recovery.value < found.recovery.high
    assert found.recovery.high / found.recovery.value > exp(1.645 * 0.04)


def test_what_stands_apart_is_left_out_of_both_means() -> None:
    """Five buttons of 1.50 to 1.54 g of 90 g and one of 0.9 g: the mean yield is theirs, 1.52 / 90 = 1.689 %."""
    good = [melt(f"m{k}", button=1.5 + 0.01 * k) for k in range(5)]
    found = row_of([*good, melt("poor", button=0.9)])
    assert found.yields is not None
    assert found.yields.value == pytest.approx(100.0 * 1.52 / 90.0, rel=1e-3)
    assert found.yields == row_of(good).yields
    assert (found.weighed, found.counted) == (5, 5)


def test_the_mean_yield_has_the_range_of_weighings_and_no_error_of_the_assay() -> None:
    """Two alike: one deviation is that of one over √2, and the 4 % of the grade are no part of it."""
    one, row = yield_of(melt()), row_of([melt(), melt("m2")])
    assert one is not None
    assert row.yields is not None
    assert row.yields.error == pytest.approx(one.error / sqrt(2.0))
    assert row.yields.high == pytest.approx(row.yields.value * exp(1.6449 * one.error / sqrt(2.0)), rel=1e-5)
    wide = row_of([melt(), melt("m2", button=1.8)]).yields
    assert wide is not None
    assert wide.error > 5.0 * row.yields.error


def test_a_melt_without_a_fineness_beside_assayed_ones_is_in_neither_mean() -> None:
    rows = [melt("a"), melt("b", button=1.51), melt("c", button=3.0, fineness=None)]
    found = row_of(rows)
    assert (found.counted, found.weighed, found.without) == (2, 2, ("c",))
    assert found.yields == row_of(rows[:2]).yields


def test_a_row_without_fineness_has_a_yield_and_no_recovery() -> None:
    found = row_of([melt(fineness=None), melt("m2", fineness=None)])
    assert found.yields is not None
    assert found.recovery is None
    assert (found.counted, found.apart, found.without, found.weighed) == (0, (), (), 2)


# What cannot be is left out


def giving(uid: str, percent: float, **changes: object) -> Melt:
    """A melt that gives back so much of its 1.54 g of silver, in a button nine tenths silver."""
    return melt(uid, **{"button": percent / 100.0 * 1.54 / 0.9, **changes})


def test_two_melts_of_which_one_cannot_be_have_the_mean_of_the_other() -> None:
    """86.6 and 124.3 %: the second holds 1.914 g silver of 1.54 g, and two deviations of it reach 1.671 g only."""
    good, wrong = giving("good", 86.6), giving("wrong", 124.3)
    assert wrong.button == pytest.approx(2.1269, abs=1e-4)
    assert 0.9 * (wrong.button or 0.0) == pytest.approx(1.914, abs=1e-3)
    found = row_of([good, wrong])
    assert (found.counted, found.apart, found.impossible) == (1, (), ("wrong",))
    assert found.recovery is not None
    assert found.recovery.value == pytest.approx(86.6)
    assert found.yields is not None
    assert found.yields.value == pytest.approx(86.6 * 1.54 / 0.9 / 90.0)
    assert impossible(wrong) == "more silver than the charge held"


def test_three_melts_without_the_impossible_one_have_the_weighted_mean_of_two() -> None:
    """86.6 and 99.96 %, in logarithms; the heavier button counts a little more, for its skin is less of it."""
    rows = [giving("a", 86.6), giving("b", 124.3), giving("c", 99.96)]
    weights = [1.0 / (recovery_of(each).value.own ** 2) for each in (rows[0], rows[2])]  # type: ignore[union-attr]
    expected = exp((weights[0] * log(86.6) + weights[1] * log(99.96)) / sum(weights))
    found = row_of(rows)
    assert found.counted == 2
    assert found.recovery is not None
    assert found.recovery.value == pytest.approx(expected)
    assert found.recovery.value == pytest.approx(sqrt(86.6 * 99.96), rel=0.01)


def test_a_gold_that_cannot_be_takes_the_silver_of_the_same_button_along() -> None:
    """1.5 g of button with 2.5 % gold would hold 37.5 mg of the 20 mg in the charge."""
    wrong = melt("wrong", fineness=Fineness(90.0, 2.5, by="assayer"))
    rows = [melt("good", fineness=Fineness(90.0, 1.2, by="assayer")), wrong]
    assert impossible(wrong) == "more gold than the charge held"
    silver, gold = row_of(rows), row_of(rows, "gold")
    assert (silver.counted, gold.counted) == (1, 1)
    assert silver.impossible == gold.impossible == ("wrong",)
    assert gold.recovery is not None
    assert gold.recovery.value == pytest.approx(100.0 * 1.5 * 0.012 / 0.02)


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"fineness": Fineness(95.0, 6.0)}, "silver and gold over 100 % of the button"),
        ({"button": 150.8, "fineness": None}, "a button heavier than all that went in"),
    ],
)
def test_other_figures_that_cannot_be_leave_a_melt_out_too(changes: dict[str, object], why: str) -> None:
    wrong = melt("wrong", **{"beforehand": replace(SAID, silver=None, gold=None), **changes})
    assert impossible(wrong) == why
    found = row_of([melt("good"), wrong])
    assert found.impossible == ("wrong",)
    assert found.yields is not None
    assert found.yields.value == pytest.approx(100.0 * 1.5 / 90.0)


def test_a_little_over_all_that_was_held_stays_in_the_mean() -> None:
    """Left out, it would draw the mean down: of melts at 96 and 102 % within their errors, the middle is 99 %."""
    over = giving("over", 102.0)
    assert impossible(over) == ""
    found = row_of([giving("under", 96.0), over])
    assert (found.counted, found.impossible) == (2, ())
    assert found.recovery is not None
    assert found.recovery.value == pytest.approx(98.97, abs=0.1)


def test_what_cannot_be_is_not_what_the_others_are_held_against() -> None:
    """Four good melts beside five that cannot be: the five would be the middle, and the good ones would look odd."""
    good = [giving(f"g{k}", 95.0 + 0.2 * k) for k in range(4)]
    wrong = [giving(f"w{k}", 160.0 + k) for k in range(5)]
    found = row_of([*good, *wrong])
    assert found.apart == ()
    assert found.counted == 4
    assert set(found.impossible) == {each.uid for each in wrong}


def test_where_every_melt_cannot_be_there_is_no_mean() -> None:
    found = row_of([giving("a", 130.0), giving("b", 140.0)])
    assert (found.yields, found.recovery, found.counted) == (None, None, 0)
