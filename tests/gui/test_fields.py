"""Fields: what is refused changes nothing and says why."""

import pytest
from PySide6.QtCore import QLocale, QPoint, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from fluxlab.gui.reading import read_mass, reader
from fluxlab.gui.widgets.decision import Decision
from fluxlab.gui.widgets.fields import NumberField, choose_decimal_mark, show_exact, show_number
from fluxlab.gui.widgets.whisper import Whisper


@pytest.fixture
def page(qtbot):
    page = QWidget()
    page.resize(400, 300)
    QVBoxLayout(page)
    qtbot.addWidget(page)
    page.show()
    return page


@pytest.fixture
def field(page):
    field = NumberField(read_mass, "g", 1, 0.1)
    page.layout().addWidget(field)
    field.set_value(12.0)
    field.setFocus()
    return field


@pytest.fixture
def comma():
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    yield
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))


def retype(field, text):
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def said(page):
    whisper = page.findChild(Whisper)
    return whisper.sentence if whisper is not None and not whisper.isHidden() else ""


@pytest.mark.parametrize("text", ["abc", "-3", "1e9", "12 miles", "1,5 kg", "1,500", "", "12..5", "nan", "9999999"])
def test_a_refused_text_keeps_the_old_value_and_says_why_near_by(page, field, text, qtbot):
    with qtbot.assertNotEmitted(field.valueEdited):
        if text:
            retype(field, text)
        else:
            field.clear()
            field.setModified(True)
            QTest.keyClick(field, Qt.Key.Key_Return)
    assert field.value == 12.0
    assert field.text() == "12.0"
    assert said(page)
    assert field.accessibleDescription() == said(page)


def test_a_taken_text_is_told_once_and_clears_the_sentence(page, field, qtbot):
    retype(field, "abc")
    with qtbot.waitSignal(field.valueEdited) as told:
        retype(field, "13.25")
    assert told.args == [13.25]
    assert field.text() == "13.25"
    assert not said(page)


def test_other_units_are_converted(field):
    # NIST Handbook 44 (2023), Appendix C: 1 avoirdupois ounce = 28.349523125 g exactly.
    retype(field, "2 oz av")
    assert field.value == pytest.approx(56.69904625)


def test_up_and_down_change_by_one_step(field):
    QTest.keyClick(field, Qt.Key.Key_Up)
    QTest.keyClick(field, Qt.Key.Key_Up)
    QTest.keyClick(field, Qt.Key.Key_Down)
    assert field.value == pytest.approx(12.1)


def test_down_from_nothing_is_refused(page, field):
    field.set_value(0.0)
    QTest.keyClick(field, Qt.Key.Key_Down)
    assert field.value == 0.0
    assert said(page)


def test_the_wheel_never_changes_a_number(field):
    for focused in (True, False):
        if not focused:
            field.clearFocus()
        place = field.rect().center()
        event = QWheelEvent(
            place, field.mapToGlobal(place), QPoint(0, 0), QPoint(0, 120), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(field, event)
        assert field.value == 12.0
        assert field.text() == "12.0"


def test_escape_gives_the_old_value_back(field):
    field.selectAll()
    QTest.keyClicks(field, "99")
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "12.0"
    assert field.value == 12.0


def test_a_value_that_comes_from_elsewhere_leaves_a_text_being_typed_alone(field):
    field.selectAll()
    QTest.keyClicks(field, "7")
    field.set_value(20.0)
    assert field.text() == "7"


def test_a_field_that_may_be_empty_takes_nothing_for_none(page, qtbot):
    field = NumberField(read_mass, "g", may_be_empty=True)
    page.layout().addWidget(field)
    field.set_value(5.0)
    field.clear()
    field.setModified(True)
    with qtbot.waitSignal(field.valueEdited) as told:
        assert field.commit()
    assert told.args == [None]


def test_the_decimal_comma_follows_the_locale(comma, field):
    field.set_value(12.5)
    assert field.text() == "12,5"
    retype(field, "13,5")
    assert field.value == 13.5
    retype(field, "1.5")
    assert field.value == 1.5


def test_the_operator_may_choose_the_decimal_mark():
    choose_decimal_mark(",")
    try:
        assert show_number(1.5, 1) == "1,5"
        assert read_mass("2,5") == 2.5
    finally:
        choose_decimal_mark("")
    assert show_number(1.5, 1) == "1.5"


@pytest.mark.parametrize(("value", "places", "text"), [(12.0, 1, "12.0"), (12.345, 1, "12.345"), (0.1 + 0.2, 1, "0.3")])
def test_an_editor_starts_with_all_places_that_were_given(value, places, text):
    assert show_exact(value, places) == text


def test_a_reader_with_a_floor_names_what_it_reads():
    answer = reader("temperature", 400, 1600, "A pour temperature")("20")
    assert isinstance(answer, str)
    assert "A pour temperature cannot be below 400" in answer


def test_a_decision_opens_in_place_and_tells_what_was_decided(page, qtbot):
    decision = Decision("Charge today", read_mass, "g", parent=page)
    decision.set_value(500.0)
    decision.show()
    assert decision.accessibleName() == "Charge today: 500.0 g"
    QTest.mouseClick(decision, Qt.MouseButton.LeftButton)
    field = page.findChild(NumberField)
    with qtbot.waitSignal(decision.decided) as told:
        retype(field, "250")
    assert told.args == [250.0]


def test_a_figure_typed_on_a_decision_begins_the_entry(page, qtbot):
    decision = Decision("Charge today", read_mass, "g", parent=page)
    decision.set_value(500.0)
    decision.show()
    decision.setFocus()
    QTest.keyClicks(decision, "3")
    field = page.findChild(NumberField)
    assert field.text() == "3"
    with qtbot.waitSignal(decision.decided) as told:
        decision.commit()
    assert told.args == [3.0]
