"""The Melts place on a small window, as it is at 200 % of the screen's scale: nothing cut, nothing out of sight."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.design.start import new_recipe
from fluxlab.gui import theme
from fluxlab.gui.melts.columns import recipe_words
from fluxlab.gui.melts.place import MeltsPlace
from fluxlab.gui.tables.painter import PAD, before
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.whisper import Whisper
from fluxlab.ore.demo import demo_ores
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts

SMALL = (543, 340)
"""What 1366 x 768 at 200 % leaves to the place."""
WHOLE = (1226, 724)


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture
def large_text():
    theme.set_text_size(130)
    yield
    theme.set_text_size(100)


def shown(bench, qtbot, width, height):
    place = MeltsPlace(bench)
    qtbot.addWidget(place)
    place.resize(width, height)
    place.show()
    qtbot.waitExposed(place)
    place.activateWindow()
    settle()
    return place


def settle():
    for _ in range(6):
        QApplication.processEvents()


def in_sight(place, widget):
    box = widget.rect().translated(widget.mapTo(place, QPoint(0, 0)))
    return place.rect().contains(box) and widget.visibleRegion().boundingRect() == widget.rect()


def titles_that_are_cut(view):
    for place, column in enumerate(view.grid.columns):
        room = view.columnWidth(place) - (PAD if column.right else before(place))
        if not view.isColumnHidden(place) and type_.width(column.title, 12) > room:
            yield column.title


def shown_titles(view):
    return [column.title for place, column in enumerate(view.grid.columns) if not view.isColumnHidden(place)]


def test_on_a_small_window_the_table_leaves_out_what_the_sheet_tells_and_cuts_nothing(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot, *SMALL)
    view = place.table.view
    assert not view.horizontalScrollBar().isVisible()
    assert list(titles_that_are_cut(view)) == []
    assert "Slag" not in shown_titles(view)
    assert shown_titles(view)[-1] == "Silver back"
    assert view.horizontalHeader().length() <= view.viewport().width()
    assert "Black throughout" in view.copy_text()


def test_where_there_is_room_no_column_is_left_out_and_a_wider_window_brings_them_back(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot, *SMALL)
    place.resize(*WHOLE)
    settle()
    assert shown_titles(place.table.view) == [column.title for column in place.table.model.columns]


def test_with_large_text_on_a_whole_window_no_title_is_cut_and_the_revision_is_told(bench, qtbot, large_text):
    record_melts(bench)
    place = shown(bench, qtbot, 1184, 712)
    view = place.table.view
    assert list(titles_that_are_cut(view)) == []
    assert "Slag" in shown_titles(view)
    column = shown_titles(view).index("Recipe")
    words = recipe_words(place.table.line, lambda ore: "")
    assert len(type_.lines(words, 13, view.columnWidth(column) - before(column) - PAD)) <= 2


@pytest.mark.parametrize("size", [SMALL, (640, 500), WHOLE])
def test_the_words_beside_the_title_fit_or_are_left_out(bench, qtbot, size):
    record_melts(bench)
    place = shown(bench, qtbot, *size)
    table = place.table
    said = table._title.note
    left = table.scopes.mapTo(table, QPoint(0, 0)).x()
    assert type_.width(table._title.title, 14, True) + (10 + type_.width(said, 13) if said else 0) <= left
    assert said == ("ring = got" if size == SMALL else "blade = expected, ring = got")


def test_the_form_opens_in_sight_on_a_small_window(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot, *SMALL)
    place.table.record.click()
    settle()
    assert QApplication.focusWidget() is place.entry.fields["button"]
    assert in_sight(place, place.entry.fields["button"])
    assert in_sight(place, place.entry.heading)


def test_the_melt_recorded_is_in_sight_on_a_small_window(bench, qtbot):
    place = shown(bench, qtbot, *SMALL)
    place.begin()
    settle()
    QTest.keyClicks(QApplication.focusWidget(), "4.9")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settle()
    assert QApplication.focusWidget() is place.table.view
    index = place.table.view.currentIndex()
    cell = place.table.view.visualRect(index)
    assert place.rect().contains(cell.translated(place.table.view.viewport().mapTo(place, QPoint(0, 0))))


def test_a_form_that_is_left_takes_what_was_refused_and_its_words_along(bench, qtbot):
    place = shown(bench, qtbot, *WHOLE)
    place.begin()
    QTest.keyClicks(QApplication.focusWidget(), "5,l2")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    whisper = place.findChild(Whisper)
    assert whisper.isVisible()
    place.entry.leave_button.click()
    settle()
    assert not whisper.isVisible()


def test_what_is_being_typed_when_another_ore_is_opened_is_there_again_with_this_one(bench, qtbot):
    place = shown(bench, qtbot, *WHOLE)
    place.begin()
    QTest.keyClicks(QApplication.focusWidget(), "4.9")
    first, ore = bench.work.recipe.uid, replace(demo_ores()[0], uid="another", name="Another")
    bench.lay_out(replace(bench.work, recipe=new_recipe(ore, bench.work.shelf)))
    settle()
    assert not place.entry.isVisible()
    bench.open_recipe(first)
    settle()
    assert place.entry.isVisible()
    assert place.entry.value().button == 4.9
