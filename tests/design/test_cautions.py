"""Each rule fires on a plan that meets it, and stays silent on the plan that just does not."""

import re
from collections.abc import Iterator
from dataclasses import asdict, replace
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design.cautions import CONDITIONS, cautions, outstanding
from fluxlab.design.cautions.findings import past, past_to
from fluxlab.design.facts import Facts
from fluxlab.design.verdicts import safe_verdict
from fluxlab.design.workshop import Workshop
from fluxlab.fusion.tables import shipped_tables
from fluxlab.issue import Severity
from fluxlab.learn.checks import checks
from fluxlab.learn.melt import Fineness
from tests.design.caution_cases import CARD, CASES, CLOSE, QUIET, STEPS, card
from tests.learn.melts import SAID, melt

OF_THE_RECORD = "R39"


def fired(facts: Facts) -> dict[str, str]:
    return {c.rule: c.level for c in cautions(facts)}


def test_a_quiet_plan_fires_nothing() -> None:
    assert cautions(QUIET) == ()
    assert cautions(replace(QUIET, workshop=CARD)) == ()


def test_there_are_fifty_rules() -> None:
    table = resources.toml("cautions.toml")
    assert list(table) == [f"R{number:02}" for number in range(1, 51)]
    assert [rule for rule in table if rule not in CONDITIONS] == [OF_THE_RECORD]
    assert [rule for rule, row in table.items() if "asked_of" in row] == [OF_THE_RECORD]


@pytest.mark.parametrize("metal", ["silver", "gold"])
def test_a_button_that_holds_more_than_its_charge_is_told_by_its_rule_in_the_melt_record(metal: str) -> None:
    """Two standard deviations of the melt are 8.5 %."""
    held = melt().held("silver")
    assert held is not None
    rule = resources.toml("cautions.toml")[OF_THE_RECORD]
    said = replace(SAID, silver=None, gold=held) if metal == "gold" else SAID
    fine = Fineness(gold=90.0, by="assayer") if metal == "gold" else Fineness(90.0, by="assayer")
    for over, fires in ((1.084, False), (1.086, True)):
        issues = checks(melt(button=held / 0.9 * over, beforehand=said, fineness=fine))
        assert [i.remedy for i in issues if i.severity is Severity.ERROR] == [rule["sentence"]] * fires
        assert all(i.sentence.startswith(f"{rule['title']}: ") and metal in i.sentence for i in issues)


@pytest.mark.parametrize(("rule", "level", "over", "under"), CASES)
def test_a_rule_fires_just_over_its_limit_and_not_at_it(
    rule: str, level: str, over: dict[str, Any], under: dict[str, Any]
) -> None:
    assert fired(replace(QUIET, **over)).get(rule) == level
    assert rule not in fired(replace(QUIET, **under))


@pytest.mark.parametrize(("rule", "over", "under"), STEPS)
def test_a_warning_turns_into_a_block_just_over_its_limit_and_not_at_it(
    rule: str, over: dict[str, Any], under: dict[str, Any]
) -> None:
    assert fired(replace(QUIET, **over))[rule] == "block"
    assert fired(replace(QUIET, **under))[rule] == "warn"


def test_both_sides_of_every_limit_lie_close_to_it() -> None:
    pairs = [(rule, over, under) for rule, _, over, under in CASES] + STEPS
    for rule, over, under in pairs:
        for one, other in _numbers(over, under):
            trace = max(one, other) <= 1e-6
            assert trace or abs(one - other) <= CLOSE * max(one, other), (rule, one, other)


def _numbers(over: dict[str, Any], under: dict[str, Any]) -> Iterator[tuple[float, float]]:
    """The figures in which the facts of the two sides differ, those of the card with them."""
    for a, b in ((over, under), (_stated(over), _stated(under))):
        for key, one in a.items():
            other = b.get(key, getattr(QUIET, key, None))
            if type(one) is float and type(other) is float and one != other:
                yield one, other


@pytest.mark.parametrize(("rule", "over", "under"), [(rule, over, under) for rule, _, over, under in CASES] + STEPS)
def test_no_reason_shows_the_limit_itself_as_the_figure_that_is_past_it(
    rule: str, over: dict[str, Any], under: dict[str, Any]
) -> None:
    (because,) = [c.because for c in cautions(replace(QUIET, **over)) if c.rule == rule]
    shown = [float(figure) for figure in re.findall(r"\d+(?:\.\d+)?", because.partition("planning")[0])]
    for figure_past, limit in _numbers(over, under):
        # the free height stands beside the foam, the soda that would do beside the chloride, its limit beside a budget
        allowed = 1 if rule in ("R08", "R21", "R28") else 0
        told = [figure for figure in shown if figure in (limit, round(100.0 * limit, 6))]
        assert figure_past == limit or len(told) <= allowed, because


def test_a_figure_that_no_digit_tells_from_its_limit_is_said_in_words() -> None:
    (found,) = cautions(replace(QUIET, mould_preheat=120.0 - 1e-9))
    assert found.because == "the mould is planned at just under 120 °C"
    assert past(10.0 + 1e-9, 10.0) == "just over 10"
    assert past_to(30.04, 30.0) == "30.04"
    assert past(11_400.0, 5.0) == "11\u202f000"


def test_limits_that_the_operator_may_replace_are_those_of_the_pot() -> None:
    own = shipped_tables()
    assert QUIET.soda_slag == own.sulphur["soda_slag"]["share"]
    assert QUIET.speiss_from == 100.0 * own.sulphur["speiss_forms"]["least"]
    assert QUIET.longest_hold == own.losses["hold"]["most"]


def _stated(facts: dict[str, Any]) -> dict[str, Any]:
    return asdict(facts["workshop"]) if "workshop" in facts else {}


def test_every_rule_has_words_and_a_case_and_nothing_is_left_over() -> None:
    table = set(resources.toml("cautions.toml"))
    assert table == set(CONDITIONS) | {OF_THE_RECORD}
    assert set(CONDITIONS) == {case[0] for case in CASES}


def test_who_may_lift_a_block_is_as_the_trade_table_has_it() -> None:
    lift = {rule: row["lift"] for rule, row in resources.toml("cautions.toml").items()}
    never = {"R07", "R09", "R11", "R12", "R14", "R15", "R23", "R26", "R39", "R40", "R41", "R44", "R48"}
    operator = {"R01", "R02", "R04", "R05", "R16", "R19", "R20", "R45", "R50"}
    assert {r for r, who in lift.items() if who == "never"} == never
    assert {r for r, who in lift.items() if who == "operator"} == operator


def test_confirming_lifts_only_what_the_operator_may_lift() -> None:
    facts = replace(QUIET, dry=False, mercury=1.0)
    found = cautions(facts)
    assert [c.rule for c in outstanding(found)] == ["R15", "R01"]
    assert [c.rule for c in outstanding(found, frozenset({"R01", "R15"}))] == ["R15"]


def test_the_gravest_stand_first() -> None:
    found = cautions(replace(QUIET, lead=5.0, mould_preheat=20.0))
    assert [c.level for c in found] == ["block", "warn"]


def test_what_nobody_may_lift_stands_before_what_the_operator_may() -> None:
    fuel = replace(QUIET, nitre_share=3.0, reducers=("Charcoal",))
    found = cautions(replace(fuel, dry=False, mould_fraction=1.0, mercury=1.0, lead=5.0))
    assert [c.rule for c in found] == ["R11", "R15", "R01", "R04", "R18"]
    verdict = safe_verdict(cautions(replace(QUIET, mould_fraction=1.0, mercury=1.0)), None)
    assert verdict.reason.startswith("Mercury: 1.00 g")


def test_a_rule_that_can_block_says_who_may_lift_it_and_no_other_does() -> None:
    lift = {rule: row["lift"] for rule, row in resources.toml("cautions.toml").items()}
    blocking = {rule for rule, level, _, _ in CASES if level == "block"} | {rule for rule, _, _ in STEPS}
    assert blocking == {rule for rule, who in lift.items() if who != "cause"} - {OF_THE_RECORD}


def test_every_rule_has_words_of_its_own_and_a_source_with_its_state() -> None:
    table = resources.toml("cautions.toml")
    assert len({row["title"] for row in table.values()}) == len({row["sentence"] for row in table.values()}) == 50
    for rule, row in table.items():
        assert row.keys() - {"asked_of"} == {"title", "lift", "sentence", "source"}, rule
        states = ("found", "computed", "from memory", "judgement", "common practice, no source")
        assert any(state in row["source"] for state in states), rule


def test_what_the_card_does_not_state_is_asked_for_and_gear_alone_stops_the_ticket() -> None:
    found = {c.rule: c for c in cautions(replace(QUIET, workshop=Workshop()))}
    assert {rule: c.level for rule, c in found.items()} == {"R45": "caution", "R49": "caution", "R50": "block"}
    assert found["R50"].lift == "operator"
    assert outstanding(tuple(found.values()), frozenset({"R50"})) == ()
    assert "not stated" in found["R45"].because
    assert "not stated" in found["R50"].because


def test_what_is_not_known_leaves_its_rule_silent() -> None:
    blank = replace(QUIET, mould_fraction=None, mould_freeboard=None, heap_fraction=None, swollen_fraction=None)
    assert cautions(blank) == ()


def test_a_mould_that_the_pour_overfills_is_said_to_be_too_shallow() -> None:
    (found,) = cautions(replace(QUIET, mould_fraction=1.2, mould_freeboard=-7.0))
    assert "7 mm too shallow" in found.because


@pytest.mark.parametrize(
    ("capture", "said"),
    [(None, "is not stated"), (True, "is on the card"), (False, "no hood with a scrubber")],
)
def test_what_the_card_says_of_a_hood_stands_beside_arsenic_and_roast_gas(capture: bool | None, said: str) -> None:
    facts = replace(QUIET, arsenic=1.0, roast_so2=20.0, **card(capture=capture, indoors=True))
    found = {c.rule: c for c in cautions(facts)}
    for rule in ("R16", "R19"):
        assert (found[rule].level, found[rule].lift) == ("block", "operator")
        assert said in found[rule].because


def test_prills_that_never_settle_are_warned_of_without_a_figure() -> None:
    (found,) = cautions(replace(QUIET, hold_needed=float("inf")))
    assert found.rule == "R32"
    assert "never come down" in found.because
    assert "inf" not in found.because


def test_a_hold_of_many_minutes_is_told_in_hours() -> None:
    for minutes, said in ((119.0, "about 119 min"), (1391.0, "about 23 h")):
        (found,) = cautions(replace(QUIET, hold_needed=minutes))
        assert said in found.because


def test_working_alone_does_not_hide_that_gear_is_not_stated() -> None:
    (found,) = cautions(replace(QUIET, **card(alone=True, told_somebody=True, ppe=None)))
    assert found.level == "block"
    assert "gear not stated" in found.because
    assert "alone, somebody was told" in found.because


def test_confirming_everything_by_name_lifts_no_block_that_nobody_may_lift() -> None:
    facts = replace(QUIET, dry=False, scrap=True, radioactive=("Pitchblende",), **card(quench=True, ppe=False))
    left = outstanding(cautions(facts), frozenset(CONDITIONS))
    assert [c.rule for c in left] == ["R41", "R44", "R48"]
