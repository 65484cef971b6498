"""What a ticket knows of its melt is kept with the melt."""

from dataclasses import replace
from datetime import datetime

import pytest

from fluxlab.design.edits import set_pot_figure
from fluxlab.design.evaluate import evaluate
from fluxlab.design.ticket import build
from fluxlab.ore.ore_types import Grade
from fluxlab.ore.roast_possible import possible_change
from fluxlab.store.beforehand import as_weighed, beforehand_of, blank_melt
from fluxlab.store.rows import PrintedTicket
from tests.works import work_of

WHEN = datetime(2026, 3, 1, 14, 30)


def printed(work, revision=3):
    report = evaluate(work)
    ticket = build(report, revision=revision, copy=1, when=WHEN)
    return PrintedTicket(7, work.recipe.ore.uid, work.recipe.uid, revision, 1, WHEN, (), ""), ticket, report


def test_the_weights_are_those_of_the_ticket() -> None:
    work = work_of()
    _, ticket, _ = printed(work)
    report = evaluate(as_weighed(work, ticket))
    weighed = {row.what: row.grams for row in ticket.rows[1:]}
    assert {line.flux: line.grams for line in report.lines if line.fixed} == pytest.approx(weighed)
    assert report.ore.charge == ticket.rows[0].grams


def test_the_metal_held_is_that_of_the_grade() -> None:
    """300 oz of silver to the short ton of concentrate, 10285.7 g/t, in the concentrate behind 100 g of calcine."""
    work = work_of()
    report = evaluate(work)
    said = beforehand_of(report)
    assert report.ore.roast is not None
    assert said.silver == pytest.approx(report.ore.roast.raw_mass * 300.0 * 34.285714e-6, rel=1e-6)
    assert said.gold is None
    assert said.limit == pytest.approx(said.silver)
    assert (said.grade_error, said.pour_temperature, said.hold) == (4.0, 1150.0, 10.0)


def test_a_head_sample_is_less_sure_than_a_concentrate() -> None:
    work = work_of()
    raw = replace(work, recipe=replace(work.recipe, ore=replace(work.recipe.ore, stage="ore")))
    assert beforehand_of(evaluate(raw)).grade_error == 10.0


def test_an_unknown_grade_is_not_taken_for_none_held() -> None:
    work = work_of()
    for silver, held in ((None, None), (Grade(0.0), 0.0)):
        ore = replace(work.recipe.ore, silver=silver)
        assert beforehand_of(evaluate(replace(work, recipe=replace(work.recipe, ore=ore)))).silver == held


def test_slag_is_expected_from_its_oxides_and_what_it_takes_up() -> None:
    report = evaluate(work_of())
    slag = beforehand_of(report).slag
    assert slag is not None
    assert slag.value == report.slag.mass
    assert slag.low < slag.value < slag.high
    assert slag.high - slag.value > slag.value - slag.low


def test_the_slag_is_expected_with_the_operators_own_doubt_and_says_so() -> None:
    work = work_of()
    for key, value in (("slag_pick_up", 20.0), ("slag_unexplained", 10.0)):
        label, work = set_pot_figure(work, key, value)
        assert label.startswith("In the pot: ")
    usual, own = beforehand_of(evaluate(work_of())).slag, beforehand_of(evaluate(work)).slag
    assert usual is not None
    assert own is not None
    assert (usual.low, usual.high) == pytest.approx((0.97 * usual.value, 1.03 * usual.value + 5.0))
    assert (own.low, own.high) == pytest.approx((0.9 * own.value, 1.1 * own.value + 20.0))
    assert "from memory" in usual.source
    assert "the operator's own" in own.source
    assert "the operator's own" not in usual.source


def test_an_empty_entry_knows_its_ticket_and_nothing_else() -> None:
    work = work_of()
    row, ticket, report = printed(work)
    melt = blank_melt("m1", row, ticket, report)
    assert (melt.ticket, melt.recipe, melt.revision, melt.ore) == (7, work.recipe.uid, 3, work.recipe.ore.uid)
    assert (melt.ticket_name, melt.route, melt.feed) == ("3-1", "roast and melt", "calcine")
    assert [weighing.asked for weighing in melt.weighed] == [row.grams for row in ticket.rows]
    assert all(weighing.read is None for weighing in melt.weighed)
    assert (melt.button, melt.slag, melt.fineness, melt.seen, melt.in_fire) == (None, None, None, (), None)
    assert melt.charge == ticket.rows[0].grams


def test_a_recipe_that_was_not_kept_leaves_the_rest_unknown() -> None:
    row, ticket, _ = printed(work_of(), revision=None)
    melt = blank_melt("m1", row, ticket, None)
    assert melt.beforehand.silver is None
    assert melt.held("silver") is None
    assert melt.balance_step == 0.1


def test_what_the_pot_is_reckoned_to_give_is_kept_with_its_range() -> None:
    report = evaluate(work_of())
    said = beforehand_of(report)
    assert report.pot is not None
    button, back = report.pot.button.mass, report.pot.button.silver_recovery_percent
    assert said.button is not None
    assert (said.button.value, said.button.low, said.button.high) == (button.value, button.low, button.high)
    assert said.button.source == report.pot.button.source
    assert back is not None
    assert said.silver_recovery is not None
    assert said.silver_recovery.value == back.value
    assert said.matte is not None
    assert said.matte.value == report.pot.sulphur.matte.value


def test_the_ends_of_every_roast_of_the_ore_are_kept_where_a_roast_is_melted() -> None:
    work = work_of()
    said = beforehand_of(evaluate(work))
    assert (said.roast_least, said.roast_most) == possible_change(work.recipe.ore, work.recipe.roast)
    assert said.roast_least is not None
    assert said.roast_most is not None
    assert said.roast_least < said.roast_most
    raw = replace(work, recipe=replace(work.recipe, pot_feed="concentrate"))
    assert beforehand_of(evaluate(raw)).roast_most is None


def test_without_a_pot_nothing_is_predicted() -> None:
    said = beforehand_of(replace(evaluate(work_of()), pot=None))
    assert (said.button, said.matte, said.speiss, said.silver_recovery) == (None, None, None, None)
    assert said.limit is not None
