"""Roast, lot, workshop card and the blocks that follow, in the real window, up to the ticket that goes out."""

import json
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from fluxlab.ore.ore_types import Share
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


def state_gear(program):
    program.window.go("Shelf")
    shelf = program.window.places["Shelf"]
    shelf.show_way("workshop")
    shelf.workshop.choose("ppe", "at hand")
    settle(program)
    return shelf


def weigh_out(program):
    program.window.go("Weigh-out")
    settle(program)
    return program.window.places["Weigh-out"]


def titles(weigh):
    return [caution.title for caution, _ in weigh.cautions._shown]


def test_a_shallow_mould_shuts_the_ticket_until_it_is_confirmed_or_another_is_taken(program):
    shelf = state_gear(program)
    shelf.show_way("moulds")
    model = shelf.moulds.model
    row = [mould.uid for mould in model.rows].index(program.bench.work.recipe.mould)
    headings = [model.headerData(k, Qt.Orientation.Horizontal) for k in range(model.columnCount())]
    depth = next(k for k, words in enumerate(headings) if words.startswith("Depth"))
    assert model.setData(model.index(row, depth), "70")
    settle(program)
    weigh = weigh_out(program)
    assert set(weigh.cautions.ticks) == {"R04"}
    assert not weigh.pdf_button.isEnabled()
    weigh.cautions.ticks["R04"].click()
    settle(program)
    assert weigh.pdf_button.isEnabled()
    program.window.undo()
    settle(program)
    assert "Mould room" not in titles(weigh)
    assert weigh.pdf_button.isEnabled()


def test_a_mould_that_is_opened_early_is_said_beside_the_ticket_and_stops_nothing(program):
    shelf = state_gear(program)
    for minutes, fires in (("9", True), ("10", False)):
        program.window.go("Shelf")
        field = shelf.workshop.numbers["mould_opened_after"]
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, minutes)
        QTest.keyClick(field, Qt.Key.Key_Return)
        settle(program)
        weigh = weigh_out(program)
        assert ("Spalling slag" in titles(weigh)) is fires
        assert weigh.pdf_button.isEnabled()


def test_mercury_in_the_ore_shuts_the_ticket_and_there_is_no_tick_for_it(program):
    state_gear(program)
    program.bench.do("add_share", "minerals", Share("Cinnabar", 0.01))
    settle(program)
    weigh = weigh_out(program)
    assert blocks(program) == {"R15"}
    assert titles(weigh)[0] == "Mercury"
    assert weigh.cautions.ticks == {}
    assert weigh.closed.isVisible()
    assert not weigh.preview.isVisible()
    assert not weigh.pdf_button.isEnabled()
    program.window.undo()
    settle(program)
    assert weigh.pdf_button.isEnabled()


def test_an_impossible_moisture_is_said_beside_the_ticket(program):
    state_gear(program)
    # the field takes none of 100 %, but a recipe from elsewhere may hold it
    program.bench.do("set_ore", replace(program.bench.work.recipe.ore, moisture=100.0))
    settle(program)
    weigh = weigh_out(program)
    assert "Wrong entry" in titles(weigh)
    program.window.undo()
    settle(program)
    assert "Wrong entry" not in titles(weigh)
