"""What is weighed against what was reckoned: two words for two weights, and none where they are one."""

from dataclasses import replace

from fluxlab.design.evaluate import evaluate, rounded_weights
from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work, new_recipe
from fluxlab.design.ticket import build
from fluxlab.design.ticket_reckoned import weighed_otherwise
from fluxlab.ore.ore_types import Share
from tests.ticket_samples import WHEN, fitted, sample_report
from tests.works import CLEAN, work_of


def test_where_the_balance_shows_what_was_reckoned_nothing_is_said() -> None:
    report = sample_report()
    ticket = build(report, revision=7, copy=2, when=WHEN, rounded=fitted(report))
    assert weighed_otherwise(report, ticket.rows, ticket.decimals, ticket.mark) == ""
    assert "reckoned" not in ticket.footer


def test_a_weight_that_a_must_moved_is_told_beside_the_reckoned_one() -> None:
    report = evaluate(work_of(CLEAN, "lead collection"))
    made = fitted(report, grams=dict(rounded_weights(report.work, report).grams))
    line = next(line for line in report.lines if line.grams > 1.0)
    moved = replace(made, grams={**made.grams, line.flux: round(round(line.grams, 1) + 0.3, 1)})
    ticket = build(report, revision=7, copy=2, when=WHEN, rounded=moved, mark=",")
    (row,) = [row for row in ticket.rows if row.what == line.flux]
    told = weighed_otherwise(report, ticket.rows, ticket.decimals, ticket.mark)
    reckoned = f"{line.grams:.1f}".replace(".", ",")
    assert f"{line.name} {ticket.weight_text(row.grams)} g, reckoned {reckoned}" in told
    assert f"{report.charge_total:.1f} g as reckoned".replace(".", ",") in ticket.footer


def test_rounding_weighs_the_recipe_that_was_shown_where_others_are_as_good() -> None:
    rich = (Share("Chalcopyrite", 30.0), Share("Pyrite", 30.0), Share("Galena", 20.0), Share("Quartz", 20.0))
    work = demo_work()
    ore = replace(work.recipe.ore, minerals=rich)
    recipe = replace(new_recipe(ore, work.shelf, charge=200.0), pot_feed="concentrate")
    report = evaluate(Work(recipe, work.shelf))
    weighed = rounded_weights(report.work, report)
    assert weighed.kept
    for line in report.lines:
        assert abs(weighed.grams[line.flux] - line.grams) <= 2.0 * work.shelf.balance_step
