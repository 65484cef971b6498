"""Grade and minerals are brought into agreement, and it is said how."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.ore.analysis import described_mix, mix
from fluxlab.ore.grade import fraction
from fluxlab.ore.mix_types import Mix
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.ore.reconcile import held

HOST = (Share("Pyrite", 40.0), Share("Galena", 30.0), Share("Quartz", 30.0))


def ore(*more: Share, silver: Grade | None = None, gold: Grade | None = None, **fields: str) -> OreType:
    return OreType("o", "Ore", minerals=HOST + more, silver=silver, gold=gold, **fields)  # type: ignore[arg-type]


def percent(m: Mix) -> dict[str, float]:
    return {e.mineral.name: 100 * e.likely for e in m.entries}


def sentences(m: Mix) -> str:
    return " ".join(issue.sentence for issue in m.issues)


def test_silver_beyond_the_listed_minerals_goes_into_acanthite() -> None:
    m = mix(ore(silver=Grade(500.0, "oz/short ton")))
    assert percent(m)["Acanthite/argentite"] == pytest.approx(100 * 0.0171429 / 0.870620, rel=1e-4)
    assert percent(m)["Pyrite"] / percent(m)["Quartz"] == pytest.approx(40.0 / 30.0)
    assert "500" in sentences(m)
    assert "Acanthite" in sentences(m)


def test_the_carrier_is_the_one_that_the_operator_names() -> None:
    m = mix(ore(silver=Grade(1.0, "%"), silver_carrier="Freibergite (ideal)"))
    assert "Freibergite (ideal)" in percent(m)
    assert held(m, "Ag") == pytest.approx(0.01)


def test_if_the_minerals_hold_more_the_assay_wins_and_it_is_said() -> None:
    m = mix(ore(Share("Acanthite/argentite", 5.0), silver=Grade(1.0, "%")))
    assert held(m, "Ag") == pytest.approx(0.01)
    assert "the assay counts" in sentences(m)
    assert percent(m)["Acanthite/argentite"] < 5.0


def test_ranges_of_scaled_silver_minerals_are_scaled_too() -> None:
    m = mix(ore(Share("Acanthite/argentite", 4.0, 2.0, 8.0), silver=Grade(1.0, "%")))
    entry = next(e for e in m.entries if e.mineral.name == "Acanthite/argentite")
    assert entry.low / entry.likely == pytest.approx(0.5)
    assert entry.high / entry.likely == pytest.approx(2.0)


def test_a_grade_that_agrees_changes_nothing_and_says_nothing() -> None:
    listed = described_mix(ore(Share("Acanthite/argentite", 5.0)))
    m = mix(ore(Share("Acanthite/argentite", 5.0), silver=Grade(100 * held(listed, "Ag"), "%")))
    assert percent(m) == pytest.approx(percent(Mix(listed.entries)))
    assert "assay" not in sentences(m)


def test_without_a_grade_the_minerals_stand() -> None:
    assert percent(mix(ore(Share("Pyrargyrite", 2.0))))["Pyrargyrite"] == pytest.approx(100 * 2.0 / 102.0)


def test_gold_minerals_too_rich_in_silver_give_way_to_native_gold() -> None:
    m = mix(ore(Share("Electrum (1:1 at)", 5.0), silver=Grade(5.0, "oz/short ton"), gold=Grade(3.0, "%")))
    assert "native gold" in sentences(m)
    assert "Electrum (1:1 at)" not in percent(m)
    assert held(m, "Au") == pytest.approx(0.03)


def test_gold_minerals_too_rich_in_silver_keep_their_gold_where_none_was_assayed() -> None:
    electrum = Share("Electrum (1:1 at)", 5.0)
    gold = held(described_mix(ore(electrum)), "Au")
    m = mix(ore(electrum, silver=Grade(1.0, "g/t")))
    host = sum(e.likely for e in m.entries if e.mineral.name in ("Pyrite", "Galena", "Quartz"))
    assert held(m, "Au") / host == pytest.approx(gold / (100.0 / 105.0))


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (ore(silver=Grade(99.0, "%")), "higher than their carriers"),
        (ore(silver=Grade(-5.0, "g/t")), "is not possible"),
        (ore(silver=Grade(float("nan"), "g/t")), "is not possible"),
        (ore(silver=Grade(120.0, "%")), "is not possible"),
        (ore(silver=Grade(1.0, "%"), silver_carrier="Quartz"), "cannot carry the silver"),
        (ore(gold=Grade(1.0, "g/t"), gold_carrier="Fairy dust"), "cannot carry the gold"),
    ],
)
def test_an_impossible_grade_or_carrier_says_what_to_do(asked: OreType, words: str) -> None:
    found = [issue for issue in mix(asked).issues if words in issue.sentence]
    assert found[0].severity is Severity.ERROR
    assert found[0].remedy


def test_carriers_that_cannot_bring_both_grades_give_way_and_it_is_said() -> None:
    m = mix(ore(silver=Grade(1.0, "%"), gold=Grade(0.0, "g/t"), silver_carrier="Petzite"))
    assert "cannot bring these two grades" in sentences(m)
    assert (held(m, "Ag"), held(m, "Au")) == (pytest.approx(0.01), 0.0)


def test_a_carrier_that_cannot_carry_is_replaced() -> None:
    m = mix(ore(silver=Grade(1.0, "%"), silver_carrier="Quartz"))
    assert held(m, "Ag") == pytest.approx(0.01)


MORE = ["Acanthite/argentite", "Pyrargyrite", "Electrum (1:1 at)", "Native gold", "Petzite", "Native silver"]


@given(
    st.dictionaries(st.sampled_from(MORE), st.floats(0.01, 3.0)),
    st.one_of(st.none(), st.floats(0.0, 20.0)),
    st.one_of(st.none(), st.floats(0.0, 5.0)),
    st.sampled_from(["Acanthite/argentite", "Electrum (1:1 at)", "Petzite", "Native silver"]),
    st.sampled_from(["Native gold", "Electrum (1:1 at)", "Sylvanite"]),
)
def test_the_mix_always_holds_what_the_assays_say(
    shares: dict[str, float], silver: float | None, gold: float | None, silver_carrier: str, gold_carrier: str
) -> None:
    m = mix(
        ore(
            *(Share(name, share) for name, share in shares.items()),
            silver=None if silver is None else Grade(silver, "%"),
            gold=None if gold is None else Grade(gold, "%"),
            silver_carrier=silver_carrier,
            gold_carrier=gold_carrier,
        )
    )
    assert sum(e.likely for e in m.entries) == pytest.approx(1.0, abs=1e-12)
    assert all(e.likely >= -1e-12 for e in m.entries)
    assert not any(issue.severity is Severity.ERROR for issue in m.issues)
    if silver is not None:
        assert held(m, "Ag") == pytest.approx(fraction(Grade(silver, "%")), abs=1e-10)
    if gold is not None:
        assert held(m, "Au") == pytest.approx(fraction(Grade(gold, "%")), abs=1e-10)


@pytest.mark.parametrize("grade", [1e-7, 500.0, 80_000.0])
@pytest.mark.parametrize("listed", [0.00001, 5.0, 99.0])
def test_grades_are_told_without_a_power_of_ten(grade: float, listed: float) -> None:
    shares = (Share("Acanthite/argentite", listed), Share("Quartz", 100.0 - listed))
    told = " ".join(i.sentence for i in mix(OreType("o", "o", minerals=shares, silver=Grade(grade))).issues)
    assert "g/t silver, the assay" in told
    assert re.search(r"\de[+-]?\d", told) is None
