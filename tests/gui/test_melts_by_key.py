"""A melt recorded, corrected and struck out by the keyboard alone, and melts of two ore types side by side."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.design.start import new_recipe
from fluxlab.learn.melt import Fineness
from fluxlab.ore.demo import demo_ores
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, print_ticket, record_melts
from tests.gui.test_melts_entry import shown

CTRL = Qt.KeyboardModifier.ControlModifier
NONE = Qt.KeyboardModifier.NoModifier


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture
def place(bench, qtbot):
    return shown(bench, qtbot)


def settle():
    for _ in range(4):
        QApplication.processEvents()


def press(key, modifiers=NONE):
    QTest.keyClick(QApplication.focusWidget(), key, modifiers)


def type_in(text):
    QTest.keyClicks(QApplication.focusWidget(), text)
    press(Qt.Key.Key_Return)


def tab_to(widget):
    for _ in range(80):
        if QApplication.focusWidget() is widget:
            return
        press(Qt.Key.Key_Tab)
    raise AssertionError(f"{widget.accessibleName()} cannot be reached")


def another_ore(bench):
    """Another ore type with its own recipe on the bench, kept, with a ticket."""
    ore = replace(demo_ores()[0], uid="another", name="Another")
    recipe = replace(new_recipe(ore, bench.work.shelf), lines=bench.work.recipe.lines, charge=120.0)
    bench.lay_out(replace(bench.work, recipe=recipe))
    assert bench.save()
    print_ticket(bench)
    settle()


def test_a_melt_is_recorded_corrected_and_struck_out_without_a_mouse(place, bench):
    place.none.record.setFocus()
    press(Qt.Key.Key_Space)
    entry = place.entry
    for text in ("4.943", "93.5", "0.2"):
        type_in(text)
    assert QApplication.focusWidget() is entry.by.buttons["assayer"]
    press(Qt.Key.Key_Space)
    press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is entry.error
    for text in ("0.4", "3.4", "", "351"):
        type_in(text)
    for text in ("41", "10", "1150"):
        type_in(text)
    first, second = list(entry.seen.ticks.values())[:2]
    assert QApplication.focusWidget() is first
    press(Qt.Key.Key_Down)
    assert QApplication.focusWidget() is second
    press(Qt.Key.Key_Space)
    assert second.isChecked()
    press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is entry.notes
    type_in("thin and quiet")
    assert QApplication.focusWidget() is entry.record_button
    press(Qt.Key.Key_Return)
    assert bench.library.melts() == ()
    tab_to(entry.sections["weights"]._title)
    press(Qt.Key.Key_Space)
    press(Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is entry.weighings[0]
    type_in("199.8")
    press(Qt.Key.Key_Return, CTRL)
    (kept,) = bench.library.melts()
    melt = kept.melt
    assert (melt.button, melt.matte, melt.speiss, melt.slag) == (4.943, 3.4, None, 351.0)
    assert (melt.in_fire, melt.hold, melt.pour_temperature) == (41.0, 10.0, 1150.0)
    assert melt.fineness == Fineness(93.5, 0.2, "assayer", 0.4)
    assert (melt.charge, len(melt.seen), melt.notes) == (199.8, 1, "thin and quiet")
    assert QApplication.focusWidget() is place.table.view
    tab_to(place.detail.correct_button)
    press(Qt.Key.Key_Space)
    assert QApplication.focusWidget() is entry.fields["button"]
    assert entry.fields["button"].selectedText() == "4.943"
    type_in("4.953")
    press(Qt.Key.Key_Return, CTRL)
    assert [(k.melt.button, k.corrected) for k in bench.library.melts()] == [(4.953, 1)]
    tab_to(place.detail.strike_button)
    press(Qt.Key.Key_Space)
    assert QApplication.focusWidget() is place.detail.yes
    press(Qt.Key.Key_Space)
    assert bench.library.melts() == ()


def test_enter_on_a_tick_goes_to_the_next_group_that_is_open(place):
    place.begin()
    seen = place.entry.seen
    seen.groups["slag texture"].set_folded(False)
    settle()
    next(iter(seen.ticks.values())).setFocus()
    press(Qt.Key.Key_Return)
    texture = next(tick for key, tick in seen.ticks.items() if tick.accessibleName().startswith("slag texture"))
    assert QApplication.focusWidget() is texture
    assert not seen.seen


def test_melts_of_two_ore_types_are_numbered_shown_and_corrected_apart(place, bench):
    record_melts(bench, (4.9, 5.0))
    first_ore = bench.work.recipe.ore.uid
    another_ore(bench)
    place.refresh()
    assert place.lines == ()
    place.begin()
    assert place.entry.record_button.text() == "Record melt 1"
    assert place.entry.weighings[0].placeholderText() == "120.0"
    type_in("3.1")
    press(Qt.Key.Key_Return, CTRL)
    assert [(k.number, k.melt.ore) for k in bench.library.melts("another")] == [(1, "another")]
    place.table.scopes.buttons["all"].click()
    assert [line.melt.ore for line in place.lines] == [first_ore, first_ore, "another"]
    place.table.choose("m2")
    assert len(place._own()) == 2
    place.detail.correct_button.click()
    assert place.entry.heading.accessibleName() == "Correct melt 2"
    assert not place.entry.ticket.isEnabled()
    place.entry.fields["button"].selectAll()
    type_in("5.1")
    press(Qt.Key.Key_Return, CTRL)
    assert [(k.number, k.melt.button) for k in bench.library.melts(first_ore)] == [(1, 4.9), (2, 5.1)]
    assert [k.melt.button for k in bench.library.melts("another")] == [3.1]
    place.begin()
    assert place.entry.value().ore == "another"
    assert place.entry.record_button.text() == "Record melt 2"


def test_what_is_half_typed_for_one_ore_type_is_not_lost_by_typing_for_another(place, bench):
    first = bench.work.recipe.uid
    place.begin()
    type_in("4.9")
    another_ore(bench)
    second = bench.work.recipe.uid
    place.begin()
    type_in("3.1")
    bench.open_recipe(first)
    settle()
    assert place.entry.isVisible()
    assert place.entry.value().button == 4.9
    place.entry.record()
    bench.open_recipe(second)
    settle()
    assert place.entry.isVisible()
    assert place.entry.value().button == 3.1
