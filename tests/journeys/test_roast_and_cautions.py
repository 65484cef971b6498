"""Roast, lot, workshop card and the blocks that follow, in the real window, up to the ticket that goes out."""

import json

import pytest

from tests.journeys.steps import decide, settle


@pytest.fixture
def program(start):
    return start()


def blocks(program):
    return {c.rule for c in program.bench.report.cautions if c.level == "block"}


def test_a_roast_that_was_weighed_is_read_and_carried_into_the_pot(program):
    bench, window = program.bench, program.window
    window.go("Ore")
    roast = window.places["Ore"].material.roast
    perfect = bench.report.ore.sulphur
    roast.plan.choose_kind("its weights")
    settle(program)
    decide(program, roast.plan.before, "100")
    decide(program, roast.plan.after, "96")
    assert "weighed 4.0, agrees" in roast.lines.accessibleName()
    assert bench.report.ore.sulphur > perfect
    assert "R29" in {c.rule for c in bench.report.cautions}
    decide(program, roast.plan.after, "140")
    assert "grew by 40.0 %" in roast.issues.words
    window.undo()
    settle(program)
    assert bench.work.recipe.roast.after == 96.0
    assert roast.issues.words == ""


def test_a_stated_danger_stops_the_ticket_until_each_control_is_confirmed_and_the_ticket_keeps_it(program, tmp_path):
    bench, window = program.bench, program.window
    window.go("Shelf")
    shelf = window.places["Shelf"]
    shelf.show_way("workshop")
    assert blocks(program) == {"R50"}
    shelf.workshop.choose("ppe", "at hand")
    shelf.workshop.choose("indoors", "indoors")
    settle(program)
    assert blocks(program) == {"R19", "R45"}

    window.go("Weigh-out")
    settle(program)
    weigh = window.places["Weigh-out"]
    assert not weigh.pdf_button.isEnabled()
    assert set(weigh.cautions.ticks) == {"R19", "R45"}
    weigh.cautions.ticks["R19"].click()
    settle(program)
    assert not weigh.pdf_button.isEnabled()
    weigh.cautions.ticks["R45"].click()
    settle(program)
    assert weigh.pdf_button.isEnabled()

    # an edit makes it another recipe: everything is asked again
    bench.do("set_charge", 180.0)
    settle(program)
    assert not weigh.pdf_button.isEnabled()
    for rule in ("R19", "R45"):
        weigh.cautions.ticks[rule].click()
    settle(program)
    weigh.ask_path = lambda _parent, _name: tmp_path / "ticket.pdf"
    weigh.save_pdf()
    settle(program)
    assert (tmp_path / "ticket.pdf").exists()
    (issued,) = bench.library.tickets(bench.work.recipe.uid)
    assert set(issued.confirmed) == {"R19", "R45"}
    assert json.loads(issued.document)
    # the next copy asks again
    assert not weigh.pdf_button.isEnabled()


def test_quenching_on_the_card_shuts_the_ticket_and_nobody_may_lift_it(program):
    window = program.window
    window.go("Shelf")
    shelf = window.places["Shelf"]
    shelf.show_way("workshop")
    shelf.workshop.choose("quench", "yes")
    settle(program)
    window.go("Weigh-out")
    settle(program)
    weigh = window.places["Weigh-out"]
    assert "R41" not in weigh.cautions.ticks
    assert weigh.closed.isVisible()
    assert not weigh.preview.isVisible()
    window.undo()
    settle(program)
    assert weigh.preview.isVisible()
