"""A melt on record is never changed, so what a field refused never leads to one: every field, both decimal marks."""

from datetime import datetime
from itertools import product

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui.melts.fields import SPECS, read_moment
from fluxlab.gui.widgets.fields import choose_decimal_mark
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, print_ticket
from tests.gui.test_melts_entry import shown

GOOD = {spec.name: {"fluidity": "3", "button_density": "9"}.get(spec.name, "10") for spec in SPECS}
BAD = {
    ".": ("5,l2", "5,12", "1,234", "five", "1.5.2", "1 234", "5 lb oz", "1e3"),
    ",": ("5,l2", "5.1.2", "1.234.5", "viel", "1 234", "5 Pfund", "1e3"),
}
FIELDS = (*GOOD, "silver", "gold", "error", "weighing 0", "weighing 1")


@pytest.fixture
def library():
    with Library.in_memory() as opened:
        yield opened


@pytest.fixture
def bench(qapp, library):
    return bench_with_ticket(library)


@pytest.fixture
def place(bench, qtbot):
    made = shown(bench, qtbot)
    made.begin()
    for section in made.entry.sections.values():
        section.set_folded(False)
    return made


@pytest.fixture(params=[".", ","], ids=["point", "comma"])
def mark(request):
    choose_decimal_mark(request.param)
    yield request.param
    choose_decimal_mark("")


def field_of(entry, name):
    if name.startswith("weighing"):
        return entry.weighings[int(name[-1])]
    return entry.fields.get(name) or getattr(entry, name)


def typed(field, text, key=None):
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    if key is not None:
        QTest.keyClick(field, key)


def ctrl_enter():
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)


def refuses_to_record(place, bench, field, record):
    record()
    assert bench.library.melts() == ()
    assert place.entry.isVisible()
    assert QApplication.focusWidget() is field
    assert field.refused
    assert field.accessibleDescription() == field.refused
    assert field.accessibleName() in place.entry.not_taken.words


def test_no_figure_that_is_refused_leads_to_a_record(place, bench, mark):
    for field, bad in product([field_of(place.entry, name) for name in FIELDS], BAD[mark]):
        typed(field, bad)
        refuses_to_record(place, bench, field, ctrl_enter)
        assert field.text() == bad
        QTest.keyClick(field, Qt.Key.Key_Escape)
        assert not field.refused
    assert not place.entry.not_taken.isVisible()


def test_the_figure_that_stood_there_before_is_not_recorded_in_its_place(place, bench):
    for name in FIELDS:
        field = field_of(place.entry, name)
        typed(field, GOOD.get(name, "10"), Qt.Key.Key_Return)
        assert field.value is not None
        typed(field, "5,l2", Qt.Key.Key_Return)
        refuses_to_record(place, bench, field, ctrl_enter)
        refuses_to_record(place, bench, field, ctrl_enter)
        assert field.text() == "5,l2"
        typed(field, GOOD.get(name, "10"))
    ctrl_enter()
    assert len(bench.library.melts()) == 1
    assert not place.entry.isVisible()


def test_a_date_that_is_refused_leads_to_no_record(place, bench, mark):
    field = place.entry.poured
    before = field.value
    for bad in ("yesterday", "2026-13-01 10:00", "31.2.2026 10:00", "", "25:10"):
        typed(field, bad)
        if not bad:
            QTest.keyClick(field, Qt.Key.Key_Delete)
        refuses_to_record(place, bench, field, ctrl_enter)
        assert "2026-03-01 16:20" in field.refused
        QTest.keyClick(field, Qt.Key.Key_Escape)
        assert field.value == before
    ctrl_enter()
    assert bench.library.melts()[0].melt.poured == before


def test_the_button_that_records_refuses_what_the_way_to_it_had_refused(place, bench):
    """The focus leaves the field before the button is pressed, and the field refuses then already."""
    field = place.entry.fields["button"]
    typed(field, "1.234", Qt.Key.Key_Return)
    typed(field, "5,l2")
    refuses_to_record(
        place,
        bench,
        field,
        lambda: (
            place.entry.record_button.setFocus(Qt.FocusReason.TabFocusReason),
            QTest.mouseClick(place.entry.record_button, Qt.MouseButton.LeftButton),
        ),
    )
    assert place.entry.value().button == 1.234


def test_of_several_refusals_the_first_on_the_form_gets_the_focus_and_all_are_named(place, bench):
    slag, poured, read = (field_of(place.entry, name) for name in ("slag", "poured", "weighing 1"))
    for field in (read, slag, poured):
        typed(field, "?", Qt.Key.Key_Tab)
    refuses_to_record(place, bench, poured, ctrl_enter)
    names = [field.accessibleName() for field in (poured, slag, read)]
    assert f"Not taken: {', '.join(names)}." in place.entry.not_taken.words
    assert "Escape" in place.entry.not_taken.words
    assert place.entry.not_taken.isVisible()


def test_a_refused_field_that_is_folded_and_scrolled_away_is_brought_back(place, bench):
    field = place.entry.fields["mould_temperature"]
    typed(field, "warm", Qt.Key.Key_Tab)
    place.entry.sections["more"].set_folded(True)
    place.entry.poured.setFocus()
    ctrl_enter()
    for _ in range(4):
        QApplication.processEvents()
    assert bench.library.melts() == ()
    assert QApplication.focusWidget() is field
    assert not place.entry.sections["more"].is_folded
    assert field.visibleRegion().boundingRect() == field.rect()


def test_a_refused_figure_does_not_vanish_with_a_change_of_the_ticket(bench, qtbot):
    print_ticket(bench)
    place = shown(bench, qtbot)
    place.begin()
    field = place.entry.fields["button"]
    typed(field, "5,l2", Qt.Key.Key_Tab)
    place.entry.ticket.click()
    assert QApplication.focusWidget() is field
    assert field.text() == "5,l2"
    assert field.refused


def test_another_melt_begins_without_what_was_refused(place):
    typed(place.entry.fields["button"], "5,l2", Qt.Key.Key_Tab)
    place.entry.leave_button.click()
    place.begin()
    assert place.entry.fields["button"].text() == ""
    assert not place.entry.fields["button"].refused
    assert not place.entry.not_taken.isVisible()


def test_leaving_the_place_keeps_what_was_refused_in_sight(place):
    field = place.entry.fields["button"]
    typed(field, "5,l2")
    place.commit_pending()
    assert field.refused
    assert field.text() == "5,l2"


def test_a_day_alone_keeps_the_time_and_a_time_alone_the_day(place):
    before = datetime(2026, 3, 1, 16, 20)
    assert read_moment("3.3.2026", before) == datetime(2026, 3, 3, 16, 20)
    assert read_moment("2026-03-03", before) == datetime(2026, 3, 3, 16, 20)
    assert read_moment("9:05", before) == datetime(2026, 3, 1, 9, 5)
    place.entry.poured.set_value(before)
    typed(place.entry.poured, "2 March 2026", Qt.Key.Key_Return)
    assert place.entry.value().poured == datetime(2026, 3, 2, 16, 20)
