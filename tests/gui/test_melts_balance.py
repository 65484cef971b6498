"""The balance of the button, weights shown as they were read, and the sheet where text is large."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from fluxlab.gui.melts.columns import GOT
from fluxlab.gui.melts.sheet import Sheet, SheetLine, placed
from fluxlab.gui.melts.sheet_lines import sheet_lines
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import choose_decimal_mark
from fluxlab.learn.melt import Fineness
from fluxlab.learn.yields import usual_skin
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts
from tests.gui.test_melts_entry import enter, shown


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture
def place(bench, qtbot):
    return shown(bench, qtbot)


@pytest.fixture(params=[100, 130])
def size(request):
    theme.set_text_size(request.param)
    yield request.param
    theme.set_text_size(100)


def typed(field, text):
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def figure(place, name):
    return next(line.figure for line in place.detail.sheet.lines if line.name == name)


def cell(place, title):
    model = place.table.model
    return next(column.show(model.rows[0]) for column in model.columns if column.title == title)


def test_a_small_button_counts_once_its_own_balance_is_named(place, bench):
    place.begin()
    entry = place.entry
    assert entry.fields["button_step"].placeholderText() == "0.1"
    typed(entry.fields["button"], "0.0437")
    typed(entry.silver, "93")
    entry.record()
    assert place.table.line.recovery.why == "The button is too light for a balance that shows 0.1 g."
    assert figure(place, "Button") == cell(place, GOT) == "0.0437"
    place.detail.correct_button.click()
    typed(entry.fields["button_step"], "0.0001")
    entry.record()
    assert bench.library.melts()[0].melt.button_step == 0.0001
    assert place.table.line.recovery.value is not None
    assert figure(place, "Balance of the button") == "0.0001"
    assert "balance of the button shows 0.0001 g, was left empty" in place.detail.amount.words


def test_the_next_button_goes_on_the_balance_of_the_last(place, bench):
    place.begin()
    typed(place.entry.fields["button_step"], "0.001")
    typed(place.entry.fields["button"], "4.943")
    place.entry.record()
    place.begin()
    assert place.entry.fields["button_step"].value == 0.001
    assert place.entry.fields["button"].step == 0.001


def test_enter_passes_the_balance_by_and_tab_stops_at_it(place):
    place.begin()
    enter("4.9")
    assert QApplication.focusWidget() is place.entry.silver
    place.entry.fields["button"].setFocus()
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is place.entry.fields["button_step"]


@pytest.mark.parametrize("text", ["0", "-0.1", "200", "fine"])
def test_a_balance_that_shows_nothing_is_refused(place, bench, text):
    place.begin()
    typed(place.entry.fields["button_step"], text)
    assert place.entry.fields["button_step"].refused
    place.entry.record()
    assert bench.library.melts() == ()


def test_the_arrow_keys_step_as_the_balance_does(place, bench):
    bench.do("set_balance_step", 0.01)
    bench.save()
    place.begin()
    step = place.entry.value().balance_step
    for name in ("button", "matte", "slag", "roast_before", "prills", "pot_change"):
        assert place.entry.fields[name].step == step
    assert {field.step for field in place.entry.weighings} == {step}
    typed(place.entry.fields["button_step"], "0.001")
    typed(place.entry.fields["button"], "4.943")
    QTest.keyClick(place.entry.fields["button"], Qt.Key.Key_Up)
    assert place.entry.fields["button"].text() == "4.944"
    typed(place.entry.fields["matte"], "3")
    QTest.keyClick(place.entry.fields["matte"], Qt.Key.Key_Up)
    assert place.entry.value().matte == pytest.approx(3.0 + step)


@pytest.mark.parametrize("mark", [".", ","])
def test_weights_are_shown_as_they_were_read(place, bench, mark):
    choose_decimal_mark(mark)
    try:
        place.begin()
        entry = place.entry
        for section in entry.sections.values():
            section.set_folded(False)
        read = {"Matte": "3.456", "Slag": "301.25", "Roast, before": "240.55", "Prills from the slag": "0.0312"}
        fields = (entry.fields[name] for name in ("matte", "slag", "roast_before", "prills"))
        for field, text in zip(fields, read.values(), strict=True):
            typed(field, text.replace(".", mark))
        typed(entry.weighings[0], "199.87".replace(".", mark))
        other = entry.value().weighed[1]
        typed(entry.weighings[1], f"{other.asked + 0.04:g}".replace(".", mark))
        typed(entry.fields["button"], "5")
        entry.record()
        for name, text in (*read.items(), ("Ore charged", "199.87"), (other.name, f"{other.asked + 0.04:g}")):
            assert figure(place, name) == text.replace(".", mark)
        assert figure(place, "Button") == cell(place, GOT) == "5.0".replace(".", mark)
        place.detail.correct_button.click()
        assert entry.fields["matte"].text() == "3.456".replace(".", mark)
        assert entry.fields["button"].text() == "5.0".replace(".", mark)
    finally:
        choose_decimal_mark("")


def test_a_skin_of_the_button_can_be_entered_and_the_usual_one_is_named(place, bench):
    place.begin()
    entry = place.entry
    assert entry.fields["skin"].placeholderText() == ""
    typed(entry.fields["button"], "4.9")
    typed(entry.silver, "93")
    assert float(entry.fields["skin"].placeholderText()) == pytest.approx(usual_skin(4.9), abs=5e-4)
    usual = entry.value()
    entry.sections["more"].set_folded(False)
    typed(entry.fields["skin"], "0.2")
    entry.record()
    line = place.table.line
    assert line.melt == replace(usual, skin=0.2)
    assert line.yields.own == pytest.approx(0.2 / 4.9, rel=0.1)
    assert figure(place, "Slag and skin on the button") == "0.2"


LONG = (
    SheetLine("Silver in the button", "93.0", "%", "by an assayer, error 0.3 %"),
    SheetLine("Silver in the button", "93.0", "%", "by an x-ray gun, error 10.25 %"),
    SheetLine("Anhydrous sodium tetraborate, ground", "1190.32", "g", "asked 1190.30"),
    SheetLine("Button", "4.943", "g", "expected 4.2 – 5.6", "yes"),
    SheetLine("Density of the button", "10.25", "g/cm³"),
    SheetLine("Silver back", "not known", "", "≤ 92.33 %, were it pure", "unknown"),
)


@pytest.mark.parametrize("least", [330, 370, 480])
def test_nothing_on_the_sheet_is_written_over_anything(qapp, qtbot, size, least):
    width = theme.scaled(least)
    for line in LONG:
        stands = placed(line, width)
        figures = 0.52 * width
        start = figures - type_.width(line.figure, 16 if line.unit else 13, bool(line.unit))
        assert all(type_.width(name, 13) < start for name in stands.names)
        assert " ".join(stands.names) == line.name
        end = width - (theme.scaled(13) + 8 if line.answer else 0)
        unit_ends = figures + 4 + type_.width(line.unit, 12)
        assert not stands.beside or end - type_.width(stands.beside, 12) > unit_ends
        assert all(type_.width(words, 12) <= end for words in stands.below)
        assert " ".join((stands.beside, *stands.below)).strip() == line.said
    sheet = Sheet()
    qtbot.addWidget(sheet)
    sheet.set_lines(LONG)
    high = sheet.heightForWidth(width)
    assert high == sum(theme.scaled(30) + placed(line, width).more * theme.scaled(18) for line in LONG)
    sheet.resize(width, high)
    picture = sheet.grab().toImage()
    rows = ink_rows(picture)
    assert len(rows) >= len(LONG) + sum(placed(line, width).more for line in LONG)


def ink_rows(picture: QImage):
    """Runs of rows that hold ink other than a hairline right across."""
    ground, found, inside = picture.pixel(picture.width() // 2, 1), [], False
    for y in range(picture.height()):
        row = {picture.pixel(x, y) for x in range(picture.width())}
        ink = len(row - {ground}) > 1
        if ink and not inside:
            found.append(y)
        inside = ink
    return found


def test_the_page_gives_the_sheet_the_height_that_it_takes(place, bench, size):
    record_melts(bench, (4.9,))
    (melt,) = (kept.melt for kept in bench.library.melts())
    changed = replace(melt, uid="long", replaces=melt.uid, fineness=Fineness(93.0, 0.2, "x-ray gun", 10.25))
    bench.library.record_melt(changed)
    place.refresh()
    for _ in range(6):
        QApplication.processEvents()
    sheet = place.detail.sheet
    assert any(line.said == "by an x-ray gun, error 10.25 %" for line in sheet_lines(place.table.line))
    assert sheet.height() == sheet.heightForWidth(sheet.width())
