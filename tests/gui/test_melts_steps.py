"""Steps of the form are taken back and again, cells are pasted, a form that was left is taken up again."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui.melts.fields import read_share_of_button
from fluxlab.gui.melts.form_fields import cells_of
from fluxlab.gui.melts.place import DROPPED
from fluxlab.gui.melts.steps import Steps
from fluxlab.gui.widgets.fields import choose_decimal_mark
from fluxlab.gui.widgets.notice import Notice
from fluxlab.gui.widgets.whisper import Whisper
from fluxlab.learn.melt import Fineness
from fluxlab.ore.ore_types import Grade
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts
from tests.gui.test_melts_entry import enter, shown

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture
def place(bench, qtbot):
    made = shown(bench, qtbot)
    made.begin()
    return made


def press(key, modifiers=CTRL):
    QTest.keyClick(QApplication.focusWidget(), key, modifiers)


def paste(field, text):
    QGuiApplication.clipboard().setText(text)
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_V, CTRL)


def test_steps_go_back_and_forward_and_a_new_one_ends_what_was_later():
    steps = Steps(0)
    assert steps.back() is None
    for value in (1, 1, 2):
        steps.take(value)
    assert (steps.back(), steps.back(), steps.back()) == (1, 0, None)
    assert (steps.forward(), steps.now) == (1, 1)
    steps.take(5)
    assert steps.forward() is None
    assert (steps.back(), steps.any) == (1, True)


def test_what_was_entered_is_taken_back_in_the_form_and_not_in_the_recipe(place, bench):
    bench.do("set_charge", 150.0)
    work, before = bench.work, place.entry.value()
    enter("4.9")
    enter("93")
    tick = place.entry.seen.ticks["slag-black"]
    tick.setFocus()
    QTest.keyClick(tick, Qt.Key.Key_Space)
    full = place.entry.value()
    press(Qt.Key.Key_Z)
    assert not tick.isChecked()
    assert place.entry.seen.groups["slag colour"]._title.note == "tick what was seen"
    press(Qt.Key.Key_Z)
    assert place.entry.value() == replace(before, button=4.9)
    assert place.entry.silver.text() == ""
    assert QApplication.focusWidget() is place.entry.silver
    press(Qt.Key.Key_Z)
    press(Qt.Key.Key_Z)
    assert place.entry.value() == before
    assert place.desk.half_typed() == before
    for _ in range(4):
        press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert place.entry.value() == full
    press(Qt.Key.Key_Z)
    press(Qt.Key.Key_Y)
    assert place.entry.value() == full
    assert bench.work == work


def test_letters_just_typed_are_taken_back_first(place):
    enter("4.9")
    QTest.keyClicks(QApplication.focusWidget(), "93")
    press(Qt.Key.Key_Z)
    assert place.entry.silver.text() == ""
    assert place.entry.value().button == 4.9


def test_weights_dates_notes_the_word_and_the_grade_are_taken_back_too(place, bench, qtbot):
    place.entry.leave_button.click()
    (melt,) = record_melts(bench, (4.9,))
    grade = bench.work.recipe.ore.silver
    bench.do("set_grade", "silver", Grade(2.0 * grade.value, grade.unit))
    bench.flush()
    place.refresh()
    place.table.choose(melt.uid)
    place.detail.correct_button.click()
    entry = place.entry
    seen = [entry.value()]
    entry.by.buttons["own guess"].click()
    seen.append(entry.value())
    entry.poured.setFocus()
    QTest.keyClick(entry.poured, Qt.Key.Key_Up)
    seen.append(entry.value())
    entry.sections["weights"].set_folded(False)
    entry.weighings[1].setFocus()
    enter("88")
    seen.append(entry.value())
    entry.notes.setFocus()
    enter("spilt a little")
    seen.append(entry.value())
    entry.regrade.click()
    assert len({str(each) for each in (*seen, entry.value())}) == 6
    assert not entry.regrade.isVisible()
    entry.fields["button"].setFocus()
    for each in reversed(seen):
        press(Qt.Key.Key_Z)
        assert entry.value() == each
    assert entry.regrade.isVisible()
    assert entry.value().fineness == Fineness(93.0, by="assayer")


def test_another_melt_has_no_steps_of_the_last(place):
    enter("4.9")
    place.entry.record()
    place.begin()
    before = place.entry.value()
    press(Qt.Key.Key_Z)
    assert place.entry.value() == before


def test_a_refused_text_stays_through_steps_of_other_fields(place):
    enter("4.9")
    enter("5,l2")
    place.entry.notes.setFocus()
    press(Qt.Key.Key_Z)
    assert place.entry.value().button is None
    assert place.entry.silver.text() == "5,l2"
    assert place.entry.silver.refused


def test_a_form_that_was_left_is_taken_up_again(place):
    place.window().notice = notice = Notice(place.window())
    place.entry.leave_button.click()
    assert notice.sentence == ""
    place.begin()
    enter("4.9")
    typed = place.entry.value()
    place.entry.leave_button.click()
    assert place.desk.half_typed() is None
    assert notice.sentence == DROPPED
    notice._act.click()
    assert place.entry.isVisible()
    assert place.entry.value() == typed
    assert place.entry.heading.accessibleName() == "What came out of melt 1?"
    assert place.desk.half_typed() == typed
    place.entry.record()
    assert place.bench.library.melts()[0].melt == typed


def test_parts_in_a_thousand_are_told_with_the_mark_in_force():
    choose_decimal_mark(",")
    try:
        assert read_share_of_button("925") == "Write per cent: 925 parts in a thousand are 92,5 %."
    finally:
        choose_decimal_mark("")


@pytest.mark.parametrize(("text", "cells"), [("4.9\t93", 2), ("4.9\r\n\r\n93\r\n", 3), ("4.9\n", 1), (" 4.9 ", 1)])
def test_cells_of_a_spreadsheet(text, cells):
    assert len(cells_of(text)) == cells
    assert cells_of(text)[0] == "4.9"


@pytest.mark.parametrize("mark", [".", ","])
def test_a_row_of_a_spreadsheet_goes_into_the_fields_that_enter_leads_to_as_one_step(place, mark):
    choose_decimal_mark(mark)
    try:
        before = place.entry.value()
        paste(place.entry.fields["button"], "4.943\t93\t\t0.3\t3.4".replace(".", mark))
        melt = place.entry.value()
        assert (melt.button, melt.button_step, melt.matte) == (4.943, None, 3.4)
        assert melt.fineness == Fineness(93.0, None, "own guess", 0.3)
        press(Qt.Key.Key_Z)
        assert place.entry.value() == before
    finally:
        choose_decimal_mark("")


def test_a_column_goes_into_the_weights_as_read_and_an_empty_cell_leaves_one_out(place):
    place.entry.sections["weights"].set_folded(False)
    paste(place.entry.weighings[0], "199.87\n\n70.2\n")
    assert [weighing.read for weighing in place.entry.value().weighed[:3]] == [199.87, None, 70.2]


@pytest.mark.parametrize(
    ("text", "said"), [("4.9\tmuch", "Silver in the button: "), ("1\n" * 40, "40 cells"), ("4\t900", "900")]
)
def test_cells_that_do_not_fit_are_refused_whole(place, bench, text, said):
    before = place.entry.value()
    paste(place.entry.fields["button"], text)
    assert place.entry.value() == before
    assert place.entry.fields["button"].text() == ""
    sentence = place.window().findChild(Whisper).sentence
    assert sentence.startswith("Nothing was pasted")
    assert said in sentence


def test_one_cell_is_pasted_like_any_text(place):
    paste(place.entry.fields["button"], "4.9\n")
    QTest.keyClick(place.entry.fields["button"], Qt.Key.Key_Return)
    assert place.entry.value().button == 4.9
