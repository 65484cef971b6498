"""The Melts place on a real bench with a library: the record, its chart, its means, the chosen melt."""

import csv
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.saving import write_png, write_svg
from fluxlab.gui.melts.none import WITH_TICKET, WITHOUT
from fluxlab.gui.melts.place import MeltsPlace
from fluxlab.gui.tables import tsv
from fluxlab.gui.tables.painter import GAP, PAD
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button
from fluxlab.learn.melt import Fineness
from fluxlab.learn.yields import row_of
from fluxlab.store.library import Library
from fluxlab.store.melt_table import melts_table
from tests.gui.melt_record import bench_with_ticket, record_melts


@pytest.fixture
def library():
    with Library.in_memory() as opened:
        yield opened


@pytest.fixture
def bench(qapp, library):
    return bench_with_ticket(library)


class Window(QWidget):
    def __init__(self):
        super().__init__()
        self.went = ""
        self.resize(1226, 724)

    def go(self, name):
        self.went = name


def shown(bench, qtbot):
    window = Window()
    qtbot.addWidget(window)
    place = MeltsPlace(bench, window)
    place.around = window
    place.setGeometry(0, 0, 1226, 724)
    window.show()
    settle()
    return place


def settle():
    for _ in range(4):
        QApplication.processEvents()


def drawn(place, qtbot):
    qtbot.waitUntil(lambda: place.trend.plot is not None, timeout=10000)
    settle()


# Nothing there yet


def test_without_a_ticket_there_is_one_sentence_and_one_button_that_leads_to_it(qapp, library, qtbot):
    place = shown(Bench(demo_work(), library=library), qtbot)
    assert place.none.sentence.words == WITHOUT
    assert WITHOUT.count(".") == WITH_TICKET.count(".") == 1
    buttons = [b for b in place.none.findChildren(Button) if b.isVisible()]
    assert [b.text() for b in buttons] == ["Show the weigh-out ticket"]
    assert not place.table.record.isVisible()
    buttons[0].click()
    assert place.window().went == "Weigh-out"


def test_with_a_ticket_the_one_button_opens_the_entry(bench, qtbot):
    place = shown(bench, qtbot)
    assert place.none.sentence.words == WITH_TICKET
    assert [b.text() for b in place.none.findChildren(Button) if b.isVisible()] == ["Record a melt"]
    place.none.record.click()
    assert place.entry.isVisible()
    assert not place.none.isVisible()
    assert place.entry.heading.accessibleName() == "What came out of melt 1?"


def test_an_empty_chart_has_axes_without_figures_and_says_why(bench, qtbot):
    place = shown(bench, qtbot)
    drawn(place, qtbot)
    assert [axis.ticks for axis in place.trend.axes()] == [(), ()]
    assert "silver back cannot be reckoned" in place.trend.accessibleName()


def test_without_a_library_nothing_is_there_and_nothing_breaks(qapp, qtbot):
    place = shown(Bench(demo_work()), qtbot)
    assert place.lines == ()
    assert place.none.isVisible()


# The record


def test_the_latest_melt_is_on_top_and_chosen(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot)
    QAbstractItemModelTester(place.table.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    assert [line.kept.number for line in place.table.model.rows] == [6, 5, 4, 3, 2, 1]
    assert place.table.line.kept.number == 6
    assert place.detail.heading.accessibleName() == "Melt 6"


def test_the_table_copies_as_text_with_its_figures(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot)
    place.table.view.selectAll()
    place.table.view.setFocus()
    QTest.keyClick(place.table.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    rows = tsv.read(QGuiApplication.clipboard().text())
    assert rows[0] == ["Melt", "Recipe", "Got, g", "Slag", "Min", "Silver back"]
    assert rows[1][0] == "6"
    assert rows[1][2] == "5.1"
    assert rows[1][3] == "Black throughout"
    assert float(rows[1][5]) == pytest.approx(place.lines[5].recovery.value.value, rel=1e-4)
    assert len(rows) == 7


def test_a_poor_melt_stands_apart_with_its_reason_in_words(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot)
    poor = place.lines[4]
    assert (poor.apart, poor.answer) == (True, "no")
    assert poor.why == "like pale stone, beads of metal in the slag, 30 °C colder, 17 min longer in the fire"
    assert poor.short == "like pale stone, 30 °C colder"
    place.table.choose("m5")
    assert poor.why in place.detail.why.words
    assert "melt 5 (like pale stone" in place.summary.apart.words
    drawn(place, qtbot)
    assert "melt 5: 58." in place.trend.accessibleName()
    assert [p.reason for p in place.trend.points if p.reason] == ["like pale stone, 30 °C colder"]


def test_the_means_are_those_of_the_melts_that_count(bench, qtbot):
    melts = record_melts(bench)
    place = shown(bench, qtbot)
    row = row_of(melts)
    assert row.counted == 5
    assert place.summary.figures.accessibleName() == (
        f"Means: Yield {row.yields.value:.2f} %, Silver back {row.recovery.value:.1f} %"
    )
    assert place.summary.errors.words.startswith(
        f"Yield likely {row.yields.low:.2f} – {row.yields.high:.2f} %, "
        f"silver back likely {row.recovery.low:.1f} – {row.recovery.high:.1f} % for the mean of 5 melts."
    )
    assert row.yields.value == pytest.approx(row_of([*melts[:4], melts[5]]).yields.value)
    assert "± 6.6 %" in place.summary.errors.words


def test_without_fineness_there_is_a_yield_and_no_recovery(bench, qtbot):
    (melt,) = record_melts(bench, (4.9,))
    bench.library.record_melt(replace(melt, uid="x", replaces="m1", fineness=None))
    place = shown(bench, qtbot)
    assert "Silver back not known" in place.summary.figures.accessibleName()
    assert "have it assayed" in place.detail.amount.words
    assert place.table.model.rows[0].answer == "unknown"
    assert place.detail.sheet.lines[0].said == "≤ 99.2 %, were it pure"
    spoken = place.table.model.index(0, 7).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Silver back, –, The silver in the button is not known: have it assayed."
    assert place.trend.points == ()
    place.quantity.buttons["yield"].click()
    assert [p.number for p in place.trend.points] == [1]
    assert place.trend.points[0].got == pytest.approx(100.0 * 4.9 / 200.0)


def test_a_button_that_holds_more_silver_than_the_charge_is_said(bench, qtbot):
    record_melts(bench, (9.0,))
    place = shown(bench, qtbot)
    assert "no button holds more than the charge" in place.detail.issues.words
    assert place.table.model.rows[0].answer == "no"


def test_where_nothing_was_predicted_the_assay_is_the_limit_and_said_as_such(bench, qtbot):
    record_melts(bench, (4.9,), predicted=False)
    place = shown(bench, qtbot)
    limit = place.lines[0].melt.beforehand.limit
    rail = place.table.model.columns[3].rail(place.lines[0])
    assert (rail.value, rail.likely, rail.stop, rail.seen) == (None, None, limit, 4.9)
    assert any("≤ 4.94 g by the assay" in line.said for line in place.detail.sheet.lines)


def test_melts_of_other_ores_are_shown_when_asked_for(bench, qtbot):
    record_melts(bench, (4.9, 5.0))
    bench.library.record_melt(replace(place_melt(bench), uid="other", ore="o9"))
    place = shown(bench, qtbot)
    assert len(place.table.model.rows) == 2
    place.table.scopes.buttons["all"].click()
    assert [line.melt.uid for line in place.table.model.rows] == ["other", "m2", "m1"]
    assert place.table.model.rows[0].kept.number == 1
    place.table.scopes.buttons["ore"].click()
    assert len(place.table.model.rows) == 2


def place_melt(bench):
    return bench.library.melts()[0].melt


def test_another_window_that_records_a_melt_is_seen(bench, qtbot):
    place = shown(bench, qtbot)
    record_melts(bench, (4.9,))
    bench.kept.emit()
    assert [line.melt.uid for line in place.table.model.rows] == ["m1"]
    assert place.detail.isVisible()


# The chart


def test_a_click_and_the_arrow_keys_choose_a_melt(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot)
    drawn(place, qtbot)
    field = place.trend.field()
    at = place.trend.at(type(place.trend.plot.origin())(field.x(1), field.y(90.0))).toPoint()
    QTest.mouseClick(place.trend, Qt.MouseButton.LeftButton, pos=at)
    assert place.table.line.kept.number == 2
    place.trend.setFocus()
    QTest.keyClick(place.trend, Qt.Key.Key_Right)
    assert place.table.line.kept.number == 3
    QTest.keyClick(place.trend, Qt.Key.Key_Left)
    QTest.keyClick(place.trend, Qt.Key.Key_Left)
    QTest.keyClick(place.trend, Qt.Key.Key_Left)
    assert place.table.line.kept.number == 1


def test_the_chart_holds_every_bar_and_saves_as_a_picture(bench, qtbot, tmp_path):
    record_melts(bench)
    place = shown(bench, qtbot)
    drawn(place, qtbot)
    x, y = place.trend.axes()
    for point in place.trend.points:
        assert y.lo < point.low < point.got < point.high < y.hi
        assert y.lo < point.expected[0] < point.expected[2] < y.hi
    assert [words for _, words in x.ticks] == ["1", "2", "3", "4", "5", "6"]
    assert write_svg(place.trend, tmp_path / "t.svg")
    assert write_png(place.trend, tmp_path / "t.png")
    assert b"<svg" in (tmp_path / "t.svg").read_bytes()
    rows = place.trend.as_rows()
    assert rows[0][0] == "Melt"
    assert rows[5][5] == "like pale stone, 30 °C colder"


def test_many_melts_keep_their_ticks_apart(bench, qtbot):
    record_melts(bench, tuple(4.8 + 0.01 * k for k in range(40)))
    place = shown(bench, qtbot)
    drawn(place, qtbot)
    assert 5 <= len(place.trend.axes()[0].ticks) <= 13


def test_the_plot_library_waits_for_the_first_paint(bench, qtbot):
    place = MeltsPlace(bench)
    qtbot.addWidget(place)
    assert place.trend.plot is None


# The whole record as files


def test_the_record_is_exported_whole(bench, qtbot, tmp_path, monkeypatch):
    from PySide6.QtWidgets import QFileDialog

    record_melts(bench)
    place = shown(bench, qtbot)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "r.csv"), ""))
    place.table.export_csv()
    with open(tmp_path / "r.csv", encoding="utf-8-sig", newline="") as file:
        lines = list(csv.reader(file))
    assert lines[0][:4] == ["number", "entry", "recorded", "state"]
    assert len(lines) == 7
    assert melts_table(bench.library.melts())[0] == lines[0]
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "r.json"), ""))
    place.table.export_json()
    from fluxlab.store.melt_document import read_melts

    read = read_melts((tmp_path / "r.json").read_text(encoding="utf-8"))
    assert read.value == tuple(kept.melt for kept in bench.library.melts())


# What to change next time


def record_one_that_was_not_done(bench):
    """A melt with looks for which the recipe knows a change."""
    first = record_melts(bench)[0]
    bench.library.record_melt(replace(first, uid="x", replaces=first.uid, seen=("slag-streaked", "slag-dull")))


def test_the_probable_causes_are_named_and_a_click_changes_the_recipe(bench, qtbot):
    record_one_that_was_not_done(bench)
    place = shown(bench, qtbot)
    place.table.choose("x")
    change = place.detail.change
    qtbot.waitUntil(lambda: not change.judging, timeout=20000)
    assert change.mends
    before = bench.work
    words = change.mends[0].text()
    change.mends[0].click()
    assert bench.work != before
    assert change.done.words.startswith("Done: ")
    assert bench.document.undo_label
    bench.undo()
    assert bench.work == before
    assert words


def test_the_causes_stand_there_at_once_and_the_changes_follow_one_by_one(bench, qtbot):
    record_one_that_was_not_done(bench)
    place = shown(bench, qtbot)
    place.table.choose("x")
    change = place.detail.change
    assert change.judging
    assert change.mends == []
    told = place.detail.change.causes
    assert len(told) == 3
    qtbot.waitUntil(lambda: bool(change.mends), timeout=20000)
    assert place.detail.change.causes == told


def test_another_melt_ends_what_was_being_tried(bench, qtbot):
    record_melts(bench)
    bench.library.record_melt(replace(place_melt(bench), uid="x", replaces="m1", seen=()))
    place = shown(bench, qtbot)
    place.table.choose("m5")
    assert place.detail.change.judging
    place.table.choose("m1")
    assert not place.detail.change.judging
    assert place.detail.change.mends == []


def test_nothing_ticked_points_nowhere_and_says_so(bench, qtbot):
    record_melts(bench, (4.9,), predicted=False)
    bench.library.record_melt(replace(place_melt(bench), uid="x", replaces="m1", seen=()))
    place = shown(bench, qtbot)
    assert place.detail.change.mends == []
    words = [w.accessibleName() for w in place.detail.change.findChildren(QWidget) if w.isVisible()]
    assert any("Nothing was ticked" in w for w in words)


def test_a_melt_of_another_recipe_offers_to_open_it(bench, qtbot):
    record_melts(bench)
    first = bench.work.recipe.uid
    bench.duplicate()
    place = shown(bench, qtbot)
    place.table.choose("m5")
    assert place.detail.change.mends == []
    opening = [b for b in place.detail.change.findChildren(Button) if b.text().startswith("Open this recipe")]
    opening[0].click()
    settle()
    assert bench.work.recipe.uid == first


# Looks


@pytest.mark.parametrize(("mode", "size"), [("light", 100), ("dark", 100), ("light", 130)])
def test_everything_fits_at_the_smallest_screen(bench, qtbot, mode, size):
    record_melts(bench, matte=2.0, slag=351.0)
    theme.start_with(mode, size)
    try:
        place = shown(bench, qtbot)
        place.setGeometry(0, 0, 1366 - theme.scaled(140), 768 - theme.scaled(44))
        drawn(place, qtbot)
        view = place.table.view
        assert view.horizontalScrollBar().maximum() == 0
        assert view.columnWidth(1) >= type_.width("28 Nov", 12) + GAP + PAD
        for button in place.findChildren(Button):
            if button.isVisible():
                assert button.width() >= button.sizeHint().width(), button.text()
        for section in (place.table, place.chart_part, place.summary):
            assert section._title.width() >= section._title.minimumWidth(), section.accessibleName()
        assert not place.grab().isNull()
    finally:
        theme.start_with("system", 100)


def test_a_known_fineness_of_gold_gives_its_recovery(bench, qtbot):
    (melt,) = record_melts(bench, (4.9,))
    bench.library.record_melt(replace(melt, uid="x", replaces="m1", fineness=Fineness(93.0, 0.05, "assayer")))
    place = shown(bench, qtbot)
    assert any(line.name == "Gold back" for line in place.detail.sheet.lines)
    assert "Gold back" in place.summary.figures.accessibleName()


# F1, another ore


def test_every_part_is_explained(bench, qtbot):
    record_melts(bench)
    place = shown(bench, qtbot)
    for part in (place.summary, place.trend, place.detail.sheet, place.detail.change):
        assert part.explanation.about
    for column in place.table.model.columns:
        if column.title in ("", "Melt", "Button, g", "Silver back"):
            assert column.help


def test_another_ore_on_the_bench_has_its_own_record_and_entry(bench, qtbot):
    from fluxlab.design.start import new_recipe
    from fluxlab.ore.demo import demo_ores

    record_melts(bench)
    place = shown(bench, qtbot)
    place.begin()
    place.entry.fields["button"].set_value(4.4)
    place.entry._typed()
    first = bench.work.recipe.uid
    ore = replace(demo_ores()[0], uid="another", name="Another")
    bench.lay_out(replace(bench.work, recipe=new_recipe(ore, bench.work.shelf)))
    settle()
    assert place.lines == ()
    assert not place.entry.isVisible()
    bench.open_recipe(first)
    settle()
    assert len(place.lines) == 6
    assert place.entry.isVisible()
    assert place.entry.value().button == 4.4


def test_a_change_of_the_recipe_ranks_the_causes_anew_and_reads_no_melt(bench, qtbot, monkeypatch):
    record_melts(bench)
    place = shown(bench, qtbot)
    place.table.choose("m5")
    asked = []
    monkeypatch.setattr(place.desk, "melts", lambda *_: asked.append(1) or ())
    shares = [w.accessibleName() for w in place.detail.change.findChildren(QWidget)]
    bench.do("set_hold", 18.0)
    bench.flush()
    assert [w.accessibleName() for w in place.detail.change.findChildren(QWidget)] != shares
    assert asked == []


def test_where_none_was_expected_no_empty_range_is_told(bench, qtbot):
    from fluxlab.materials.estimate import Estimate

    (melt,) = record_melts(bench, (4.9,))
    said = replace(melt.beforehand, matte=Estimate(0.0, 0.0, 0.0), speiss=Estimate(0.3, 0.0, 0.8))
    bench.library.record_melt(replace(melt, uid="x", replaces="m1", matte=4.0, speiss=0.2, beforehand=said))
    place = shown(bench, qtbot)
    told = {line.name: (line.said, line.answer) for line in place.detail.sheet.lines}
    assert told["Matte"] == ("none expected", "close")
    assert told["Speiss"] == ("expected 0.0 – 0.8", "yes")
