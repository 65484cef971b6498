"""Whatever is typed, the figures that follow are numbers and the words are sentences."""

from datetime import timedelta
from math import isfinite

from hypothesis import given
from hypothesis import strategies as st

from fluxlab.learn.checks import checks
from fluxlab.learn.measured import Measured
from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing
from fluxlab.learn.reasons import reasons
from fluxlab.learn.seen import all_seen
from fluxlab.learn.yields import METALS, recovery_of, row_of, yield_of
from fluxlab.materials.estimate import Estimate
from tests.learn.melts import WHEN

grams = st.none() | st.sampled_from((0.0, 1e-9, 0.05, 1.5, 1e6)) | st.floats(0.0, 1e7)
share = st.none() | st.floats(0.0, 100.0)
estimates = st.none() | st.builds(
    lambda low, wide: Estimate(low, low, low + wide), st.floats(0, 1e3), st.floats(0, 1e3)
)
ends = st.none() | st.floats(-100.0, 100.0)
figure = st.none() | st.floats(-1e3, 1e4)
melts = st.builds(
    Melt,
    uid=st.uuids().map(str),
    ore=st.just("o"),
    recipe=st.sampled_from("ab"),
    revision=st.none(),
    ticket=st.just(1),
    poured=st.just(WHEN),
    weighed=st.lists(st.builds(Weighing, st.just("x"), st.just("X"), st.floats(0.0, 1e5), grams), max_size=3).map(
        tuple
    ),
    balance_step=st.sampled_from((0.0, 0.0001, 0.01, 0.1, 1.0)),
    button_step=st.none() | st.sampled_from((0.0, 0.0001, 1.0)),
    skin=grams,
    roast_before=grams,
    roast_after=grams,
    button=grams,
    matte=grams,
    slag=grams,
    speiss=grams,
    prills=grams,
    in_fire=figure,
    hold=figure,
    pour_temperature=figure,
    seen=st.lists(st.sampled_from(("slag-black", "slag-stony", "nothing known")), max_size=2).map(tuple),
    fineness=st.none() | st.builds(Fineness, share, share, st.sampled_from(("assayer", "own guess")), share),
    beforehand=st.builds(
        Beforehand,
        silver=grams,
        gold=grams,
        grade_error=st.floats(0.0, 1e4),
        charge_error=st.floats(0.0, 1e4),
        button=estimates,
        slag=estimates,
        silver_recovery=estimates,
        roast_least=ends,
        roast_most=ends,
    ),
    struck=st.booleans(),
)


def sound(found: Measured | None) -> bool:
    return found is None or all(map(isfinite, (found.value, found.own, found.shared, found.low, found.high)))


@given(melts)
def test_one_melt(melt: Melt) -> None:
    assert sound(yield_of(melt))
    for metal in METALS:
        found = recovery_of(melt, metal)
        assert sound(found.value)
        assert (found.value is None) == bool(found.why)
        assert found.at_most is None or isfinite(found.at_most)
    for issue in checks(melt, WHEN - timedelta(days=1)):
        assert issue.sentence.endswith(".")
        assert "nan" not in issue.sentence
        assert "inf" not in issue.sentence.replace("infer", "")
    assert len(set(all_seen(melt))) == len(all_seen(melt))


@given(st.lists(melts, max_size=7))
def test_a_row_of_melts(row: list[Melt]) -> None:
    found = row_of(row)
    assert sound(found.yields)
    assert sound(found.recovery)
    assert found.counted + len(found.impossible) <= len(row)
    for melt in row:
        assert all(reasons(melt, [other for other in row if other is not melt]).all)
