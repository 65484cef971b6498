"""The main job, end to end, in the real window: ore and shelf in, recipe and weigh-out ticket out."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from fluxlab.gui.flux.columns import Col
from fluxlab.gui.widgets.fields import Field
from fluxlab.store.library import Library
from tests.journeys.steps import decide, settle


def type_weight(program, row, text):
    """Type a weight into the flux table as an operator does: choose the cell, type, Enter."""
    table = program.window.places["Flux"].table
    table.view.setFocus()
    table.view.setCurrentIndex(table.model.index(row, Col.GRAMS))
    QTest.keyClicks(table.view, text[0])
    field = table.view.viewport().findChild(Field)
    QTest.keyClicks(field, text[1:])
    QTest.keyClick(field, Qt.Key.Key_Return)
    settle(program)


def new_ore(program, name, kind, silver):
    from fluxlab.gui.ore.new_ore import NewOrePanel

    window = program.window
    window.go("Ore")
    window.places["Ore"].new_ore_type()
    panel = window.findChild(NewOrePanel)
    QTest.keyClicks(panel.name, name)
    panel.choose(kind)
    QTest.keyClicks(panel.silver.findChild(Field), silver)
    panel.take.click()
    settle(program)


def test_from_a_new_ore_type_to_the_ticket_and_back_after_closing(start, tmp_path):
    from fluxlab.ore.mostly import choices

    program = start()
    bench, window = program.bench, program.window

    # a new ore type: three questions
    new_ore(program, "north adit", choices()[0].key, "250")
    recipe = bench.work.recipe
    assert recipe.ore.name == "north adit"
    assert recipe.ore.minerals
    assert recipe.ore.silver.value == 250.0
    assert bench.title[0].endswith("north adit")
    assert bench.status == "not saved yet, draft kept"

    # describe it: one mineral more
    before = len(recipe.ore.minerals)
    bench.do("add_share", "minerals", recipe.ore.minerals[0].__class__("Barite", 6.0, 3.0, 9.0, "heavy, white"))
    settle(program)
    assert len(bench.work.recipe.ore.minerals) in (before, before + 1)
    assert any(row.name.startswith("Barite") for row in bench.report.ore.minerals)

    # a balanced recipe is there at once
    window.go("Flux")
    place = window.places["Flux"]
    assert bench.report.flux_mass > 0
    assert bench.report.solve.status in ("ok", "relaxed")
    free = [line.grams for line in bench.report.lines]

    # the charge, then a weight fixed by hand: the others follow, the fixed one stays
    decide(program, place.table.charge, "150")
    assert bench.work.recipe.charge == 150.0
    row = next(k for k, line in enumerate(bench.report.lines) if line.grams > 1)
    flux = bench.report.lines[row].flux
    weight = round(bench.report.lines[row].grams * 1.25, 1)
    others = [line.grams for line in bench.report.lines if line.flux != flux]
    type_weight(program, row, f"{weight} g")
    assert bench.report.lines[row].fixed
    assert bench.report.lines[row].grams == pytest.approx(weight)
    assert [line.grams for line in bench.report.lines if line.flux != flux] != others

    # undo names the step and takes it back; redo brings it again
    assert f"{weight:g} g" in window.top.undo_button.text()
    window.undo()
    settle(program)
    assert not bench.report.lines[row].fixed
    window.redo()
    settle(program)
    assert bench.report.lines[row].grams == pytest.approx(weight)

    # does it fit? the pot is drawn and the answer has a figure
    fit = bench.report.verdicts[1]
    assert fit.answer in ("yes", "close", "no")
    assert "% full" in fit.figure
    assert place.vessels.pot_canvas.pot is not None

    # save it under its ore type, close
    assert window.top.save_button.isVisible()
    window.top.save_button.click()
    settle(program)
    assert bench.revision == 1
    assert not window.top.save_button.isVisible()
    kept = bench.work.recipe
    window.close()

    with Library.open(tmp_path / "home" / "library.sqlite") as library:
        ore = next(o for o in library.ores() if o.name == "north adit")
        assert [r.uid for r in library.recipes(ore.uid)] == [kept.uid]
        assert not library.drafts()

    # come back: the same recipe, nothing lost
    again = start()
    assert again.bench.work.recipe == kept
    assert again.bench.status == "revision 1 · all kept"
    assert again.bench.report.lines[row].grams == pytest.approx(weight)
    assert len(free) == len(again.bench.report.lines)

    # the ticket as it will print
    again.window.go("Weigh-out")
    settle(again)
    weigh = again.window.places["Weigh-out"]
    assert weigh.ticket is not None
    assert weigh.ticket.title == again.bench.title[0]
    assert weigh.ticket.revision == 1
    names = [row.name for row in weigh.ticket.rows]
    assert len(names) == 1 + sum(line.grams > 0 for line in again.bench.report.lines)
    assert weigh.ticket.total == pytest.approx(sum(row.grams for row in weigh.ticket.rows), abs=1e-6)


def test_every_edit_of_a_session_can_be_undone_back_to_the_start(start):
    program = start()
    bench, window = program.bench, program.window
    start_work = bench.work
    place = window.places["Flux"]
    type_weight(program, 0, "41.5")
    decide(program, place.table.charge, "120")
    decide(program, place.slag.plan.pour, "1180")
    place.targets.edit("borate")
    editor = place.targets.editor
    editor._hi.setText("0.6")
    editor._hi.setModified(True)
    editor.shut()
    bench.do("add_flux", "fluorspar")
    bench.do("set_goal", "closest to house recipe")
    bench.do("set_route", "nitre")
    settle(program)
    assert bench.work != start_work
    steps = 0
    while bench.document.undo_label is not None:
        window.undo()
        settle(program)
        steps += 1
    assert steps == 7
    assert bench.work == start_work
    while bench.document.redo_label is not None:
        window.redo()
        settle(program)
    assert bench.work.recipe.route == "nitre"


def test_a_draft_of_a_killed_window_is_there_at_the_next_start(start, qtbot):
    program = start()
    bench = program.bench
    type_weight(program, 1, "33.3")
    qtbot.waitUntil(lambda: bool(bench.library.drafts()), timeout=1500)
    # a killed window says goodbye to nobody: its library is closed by the system, nothing more is written
    program.window.closing.disconnect(program.leave)
    bench.library.close()
    bench.library = None
    bench._draft_timer.stop()
    again = start()
    assert again.bench.work.recipe.lines[1].grams == 33.3
    assert again.bench.status == "not saved yet, draft kept"


def test_a_conflict_of_targets_still_gives_a_recipe_and_says_what_gave_way(start):
    program = start()
    bench = program.bench
    borate = next(t for t in bench.work.recipe.targets if t.key == "borate")
    from dataclasses import replace

    bench.do("set_target", replace(borate, lo=0.9, hi=0.95))
    degree = next(t for t in bench.work.recipe.targets if t.key == "degree")
    bench.do("set_target", replace(degree, lo=0.2, hi=0.3, lo_kind="must", hi_kind="must"))
    settle(program)
    report = bench.report
    assert report.solve.status == "relaxed"
    assert report.solve.gave_way
    assert report.flux_mass > 0
    words = program.window.places["Flux"].slag.holds.words.accessibleName()
    assert report.solve.gave_way[0] in words
    assert report.verdicts[0].answer == "no"


def test_an_ore_that_sums_to_more_than_a_whole_is_shown_and_nothing_crashes(start):
    from fluxlab.ore.ore_types import Share

    program = start()
    bench, window = program.bench, program.window
    window.go("Ore")
    shares = tuple(Share(name, 65.0) for name in ("Quartz", "Pyrite"))
    bench.do("set_ore", bench.work.recipe.ore.__class__("odd", "odd", minerals=shares))
    settle(program)
    assert bench.report.flux_mass > 0
    assert any("130" in issue.sentence for issue in bench.report.issues)
    window.go("Flux")
    settle(program)
    assert not window.grab().isNull()
