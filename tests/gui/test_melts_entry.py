"""Entering a melt by keyboard: fields one after the other, what is refused, what survives, corrections."""

from datetime import datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.gui.melts.fields import read_fluidity, read_moment, read_share_of_button
from fluxlab.gui.melts.place import MeltsPlace
from fluxlab.gui.widgets.fields import choose_decimal_mark
from fluxlab.learn.melt import Fineness
from fluxlab.learn.yields import recovery_of
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, print_ticket, record_melts


@pytest.fixture
def library():
    with Library.in_memory() as opened:
        yield opened


@pytest.fixture
def bench(qapp, library):
    return bench_with_ticket(library)


@pytest.fixture
def place(bench, qtbot):
    return shown(bench, qtbot)


def shown(bench, qtbot):
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(1226, 724)
    made = MeltsPlace(bench, window)
    made.around = window
    made.setGeometry(0, 0, 1226, 724)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    for _ in range(4):
        QApplication.processEvents()
    return made


def enter(text, key=Qt.Key.Key_Return):
    field = QApplication.focusWidget()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, key)
    return field


def test_a_melt_is_entered_field_after_field_without_the_mouse(place, bench):
    place.begin()
    assert QApplication.focusWidget() is place.entry.fields["button"]
    enter("4.9")
    assert QApplication.focusWidget() is place.entry.silver
    enter("93.5 %")
    assert QApplication.focusWidget() is place.entry.gold
    enter("")
    assert QApplication.focusWidget() is place.entry.by.buttons["assayer"]
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    place.entry.fields["matte"].setFocus()
    enter("2")
    enter("")
    assert QApplication.focusWidget() is place.entry.fields["slag"]
    enter("0.351 kg")
    enter("41")
    enter("10")
    QTest.keyClicks(QApplication.focusWidget(), "1150")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    (kept,) = bench.library.melts()
    melt = kept.melt
    assert (melt.button, melt.matte, melt.slag) == (4.9, 2.0, 351.0)
    assert (melt.in_fire, melt.hold, melt.pour_temperature) == (41.0, 10.0, 1150.0)
    assert melt.fineness == Fineness(93.5, None, "assayer")
    assert melt.speiss is None
    assert not place.entry.isVisible()
    assert place.table.line.kept.number == 1


def test_the_error_of_a_fineness_is_the_usual_one_until_the_operator_gives_his_own(place, bench):
    place.begin()
    enter("4.9")
    enter("93")
    assert place.entry.error.placeholderText() == "10.0"
    place.entry.by.buttons["x-ray gun"].click()
    assert place.entry.error.placeholderText() == "1.5"
    usual = recovery_of(place.entry.value()).value.own
    assert place.entry.value().fineness == Fineness(93.0, None, "x-ray gun")
    place.entry.error.setFocus()
    enter("4")
    assert place.entry.value().fineness == Fineness(93.0, None, "x-ray gun", 4.0)
    assert recovery_of(place.entry.value()).value.own > 1.5 * usual
    place.entry.record()
    (line,) = (line for line in place.detail.sheet.lines if line.name == "Silver in the button")
    assert line.said == "by an x-ray gun, error 4 %"
    place.detail.correct_button.click()
    assert place.entry.error.value == 4.0


def test_a_decimal_comma_is_read_where_it_is_the_mark(place, bench):
    choose_decimal_mark(",")
    try:
        place.begin()
        enter("4,9")
        assert place.entry.value().button == 4.9
        assert place.entry.fields["button"].text() == "4,9"
    finally:
        choose_decimal_mark("")


def test_what_cannot_be_read_stays_out_and_is_said(place):
    place.begin()
    field = enter("five")
    assert QApplication.focusWidget() is field
    assert field.value is None
    assert field.accessibleDescription()
    assert place.entry.value().button is None


def test_a_fineness_in_thousandths_is_not_taken_for_per_cent():
    assert read_share_of_button("92.5") == 92.5
    assert read_share_of_button("925") == "Write per cent: 925 parts in a thousand are 92.5 %."
    assert isinstance(read_share_of_button("1001"), str)
    assert isinstance(read_share_of_button("-1"), str)


def test_fluidity_is_one_to_five():
    assert read_fluidity("3") == 3.0
    for wrong in ("0", "6", "2.5", "thin"):
        assert isinstance(read_fluidity(wrong), str)


@pytest.mark.parametrize("text", ["2026-03-01 16:20", "1.3.2026 16:20", "1/3/2026 16:20", "1 March 2026, 16:20"])
def test_a_date_is_read_in_several_forms(text):
    assert read_moment(text) == datetime(2026, 3, 1, 16, 20)


@pytest.mark.parametrize("text", ["", "today", "2026-13-01 10:00", "31.2.2026 10:00", "2026-03-01"])
def test_a_date_that_is_none_is_said(text):
    assert isinstance(read_moment(text), str)


def test_what_contradicts_itself_is_said_while_typing(place):
    place.begin()
    enter("9")
    enter("95")
    assert "no button holds more than the charge" in place.entry.issues.words
    QApplication.processEvents()
    assert not place.entry.issues.visibleRegion().isEmpty()


def test_looks_are_ticked_by_key_and_counted(place, bench):
    place.begin()
    tick = place.entry.seen.ticks["slag-black"]
    tick.setFocus()
    QTest.keyClick(tick, Qt.Key.Key_Space)
    assert place.entry.value().seen == ("slag-black",)
    assert place.entry.seen.groups["slag colour"]._title.note == "1 ticked"
    assert not place.entry.seen.groups["cupel"].isVisible()
    place.entry.record()
    assert bench.library.melts()[0].melt.seen == ("slag-black",)


def test_weights_as_read_take_the_place_of_those_asked_for(place, bench):
    place.begin()
    asked = place.entry.value().weighed[0].asked
    place.entry.sections["weights"].set_folded(False)
    place.entry.weighings[0].setFocus()
    enter(f"{asked - 3:g}")
    place.entry.record()
    melt = bench.library.melts()[0].melt
    assert melt.weighed[0].read == asked - 3
    assert melt.charge == asked - 3
    assert all(weighing.read is None for weighing in melt.weighed[1:])


def test_a_correction_is_a_new_entry_and_keeps_the_number(place, bench):
    record_melts(bench, (4.9, 49.0))
    place.refresh()
    place.table.choose("m2")
    place.detail.correct_button.click()
    assert place.entry.heading.accessibleName() == "Correct melt 2"
    assert place.entry.record_button.text() == "Record the correction"
    field = place.entry.fields["button"]
    assert field.value == 49.0
    field.selectAll()
    enter("4.9")
    place.entry.record()
    assert [(k.number, k.melt.button, k.corrected) for k in bench.library.melts()] == [(1, 4.9, 0), (2, 4.9, 1)]
    assert [k.melt.button for k in bench.library.melt_entries("m2")] == [49.0, 4.9]
    assert place.table.line.kept.number == 2
    assert "Corrected: " in place.detail.amount.words


def test_a_melt_that_never_was_is_struck_only_when_asked_twice(place, bench):
    record_melts(bench, (4.9, 5.0))
    place.refresh()
    place.table.choose("m2")
    place.detail.strike_button.click()
    assert len(bench.library.melts()) == 2
    place.detail.no.click()
    place.detail.strike_button.click()
    place.detail.yes.click()
    assert [k.melt.uid for k in bench.library.melts()] == ["m1"]
    assert [line.melt.uid for line in place.table.model.rows] == ["m1"]
    assert place.table.line.melt.uid == "m1"


def test_two_windows_correcting_the_same_melt_do_not_lose_one_silently(place, bench):
    (melt,) = record_melts(bench, (4.9,))
    place.refresh()
    place.table.choose("m1")
    place.detail.correct_button.click()
    from dataclasses import replace

    bench.library.record_melt(replace(melt, uid="elsewhere", replaces="m1", button=4.8))
    said = []
    bench.refused.connect(said.append)
    place.entry.record()
    assert "has been corrected in the meantime" in said[0]
    assert place.entry.isVisible()
    assert [k.melt.uid for k in bench.library.melts()] == ["elsewhere"]


def test_an_entry_half_typed_is_there_after_a_crash(bench, qtbot):
    place = shown(bench, qtbot)
    place.begin()
    enter("4.9")
    place.entry.seen.ticks["slag-black"].setChecked(True)
    again = shown(bench, qtbot)
    assert again.entry.isVisible()
    assert again.entry.value().button == 4.9
    assert again.entry.value().seen == ("slag-black",)
    again.entry.leave_button.click()
    assert not again.entry.isVisible()
    assert not shown(bench, qtbot).entry.isVisible()


def test_what_is_still_typed_is_recorded_too(place, bench):
    place.begin()
    QTest.keyClicks(QApplication.focusWidget(), "4.9")
    QTest.mouseClick(place.entry.record_button, Qt.MouseButton.LeftButton)
    assert bench.library.melts()[0].melt.button == 4.9


def test_another_ticket_takes_what_was_typed_along(bench, qtbot):
    bench.do("set_charge", 150.0)
    bench.save()
    second = print_ticket(bench)
    place = shown(bench, qtbot)
    place.begin()
    assert place.entry.value().ticket == second
    assert place.entry.value().weighed[0].asked == 150.0
    enter("4.9")
    first = bench.library.tickets()[1].number
    place.entry.ticket_wanted.emit(first)
    melt = place.entry.value()
    assert (melt.ticket, melt.weighed[0].asked, melt.button) == (first, 200.0, 4.9)
    assert melt.beforehand.silver > 4.0


def test_the_figures_said_before_are_kept_with_the_melt(place, bench):
    place.begin()
    place.entry.record()
    said = bench.library.melts()[0].melt.beforehand
    assert said.silver == pytest.approx(bench.report.ore.silver, rel=1e-3)
    assert said.limit == pytest.approx(bench.report.precious_metal_limit, rel=1e-3)


def test_a_library_for_reading_only_refuses_in_a_sentence(place, bench, monkeypatch):
    from fluxlab.store.problem import StoreProblem

    def refuse(_):
        raise StoreProblem("Cannot record the melt: the disk is full. Make room on it and try again.")

    monkeypatch.setattr(bench.library, "record_melt", refuse)
    said = []
    bench.refused.connect(said.append)
    place.begin()
    enter("4.9")
    place.entry.record()
    assert said == ["Cannot record the melt: the disk is full. Make room on it and try again."]
    assert place.entry.isVisible()
    assert place.entry.value().button == 4.9


def test_a_new_assay_of_the_ore_can_be_taken_for_a_melt_on_record(place, bench):
    from fluxlab.ore.ore_types import Grade

    record_melts(bench, (4.9,))
    before = bench.library.melts()[0].melt.beforehand
    place.refresh()
    place.table.choose("m1")
    place.detail.correct_button.click()
    assert not place.entry.regrade.isVisible()
    place.entry.leave_button.click()
    grade = bench.work.recipe.ore.silver
    bench.do("set_grade", "silver", Grade(2.0 * grade.value, grade.unit))
    bench.flush()
    place.detail.correct_button.click()
    assert place.entry.held.words == f"{before.silver:.2f} g by the assay"
    assert place.entry.regrade.isVisible()
    place.entry.regrade.click()
    assert not place.entry.regrade.isVisible()
    place.entry.record()
    (kept,) = bench.library.melts()
    assert kept.melt.beforehand.silver == pytest.approx(2.0 * before.silver, rel=1e-3)
    assert kept.melt.beforehand.button == before.button
    assert kept.melt.beforehand.silver_recovery == before.silver_recovery
    assert bench.library.melt_entries("m1")[0].melt.beforehand == before


def test_an_open_entry_is_gone_on_with(place):
    place.begin()
    enter("4.9")
    place.begin()
    assert place.entry.value().button == 4.9
