from dataclasses import dataclass, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication

from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.numbers import decimals_for, stepped
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.whisper import Whisper


@dataclass(frozen=True)
class Jar:
    name: str
    grams: float


class Shelf:
    """Rows with an owner that takes edits, as a place does."""

    def __init__(self) -> None:
        self.rows = (Jar("Borax", 120.0), Jar("Soda", 45.5), Jar("Sand", 7.0))
        self.model = GridModel(
            [
                Column("Flux", lambda r: r.name, "name", 120, 1),
                Column("Grams", lambda r: f"{r.grams:.1f}", "figure", 90, take=self.take, step=0.5),
            ],
            key=lambda r: r.name,
        )
        self.model.set_rows(self.rows)

    def take(self, at: int, row: Jar, text: str) -> str:
        try:
            value = float(text)
        except ValueError:
            return f"“{text}” is no weight."
        self.rows = (*self.rows[:at], replace(row, grams=value), *self.rows[at + 1 :])
        self.model.set_rows(self.rows)
        return ""


@pytest.fixture
def shelf(qtbot):
    shelf = Shelf()
    shelf.view = GridView("Jars", 42)
    shelf.view.show_model(shelf.model)
    shelf.view.resize(320, 300)
    qtbot.addWidget(shelf.view)
    shelf.view.show()
    shelf.view.setFocus()
    return shelf


def type_text(qtbot, text: str) -> None:
    """Key by key into whatever has the focus, as hands do."""
    for key in text:
        qtbot.keyClicks(QApplication.focusWidget(), key)


def test_the_model_keeps_the_rules_of_item_models(qtbot):
    shelf = Shelf()
    tester = QAbstractItemModelTester(shelf.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    shelf.model.set_rows(shelf.rows[1:])
    shelf.model.set_rows(shelf.rows)
    assert tester.model() is shelf.model
    assert shelf.model.rowCount(shelf.model.index(0, 0)) == 0
    assert shelf.model.flags(QModelIndex()) == Qt.ItemFlag.NoItemFlags


NAMES = st.lists(st.sampled_from("abcdefgh"), unique=True)


@given(st.lists(st.tuples(NAMES, st.integers(0, 5)), max_size=8))
def test_any_sequence_of_rows_is_announced_truly(sequence):
    shelf = Shelf()
    tester = QAbstractItemModelTester(shelf.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    for names, grams in sequence:
        rows = tuple(Jar(name, float(grams)) for name in names)
        shelf.model.set_rows(rows)
        assert shelf.model.rows == rows
        assert [shelf.model.index(i, 0).data() for i in range(shelf.model.rowCount())] == names
    assert tester.model() is shelf.model


def test_a_typed_weight_is_taken_by_enter_and_the_next_row_follows(shelf, qtbot):
    shelf.view.choose_row(0)
    shelf.view.setCurrentIndex(shelf.model.index(0, 1))
    type_text(qtbot, "99")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert shelf.rows[0].grams == 99.0
    assert shelf.view.currentIndex().row() == 1
    assert shelf.view.currentIndex().column() == 1


def test_a_refused_weight_keeps_the_old_one_and_says_why(shelf, qtbot):
    shelf.view.setCurrentIndex(shelf.model.index(1, 1))
    type_text(qtbot, "abc")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert shelf.rows[1].grams == 45.5
    said = shelf.view.window().findChild(Whisper)
    assert said.sentence == "“abc” is no weight."
    assert shelf.view.currentIndex().row() == 1


def test_an_open_editor_is_taken_before_the_page_is_left(shelf, qtbot):
    shelf.view.setCurrentIndex(shelf.model.index(2, 1))
    type_text(qtbot, "8")
    shelf.view.commit_pending()
    assert shelf.rows[2].grams == 8.0


def test_escape_gives_the_old_value_back(shelf, qtbot):
    shelf.view.setCurrentIndex(shelf.model.index(2, 1))
    type_text(qtbot, "8")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert shelf.rows[2].grams == 7.0


def test_up_in_an_editor_adds_one_step(shelf, qtbot):
    shelf.view.setCurrentIndex(shelf.model.index(1, 1))
    qtbot.keyClick(shelf.view, Qt.Key.Key_F2)
    editor = QApplication.focusWidget()
    qtbot.keyClick(editor, Qt.Key.Key_Up)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    assert shelf.rows[1].grams == 46.0


def test_chosen_rows_are_copied_and_the_whole_table_with_its_titles(shelf, qtbot):
    shelf.view.choose_row(1)
    qtbot.keySequence(shelf.view, QKeySequence.StandardKey.Copy)
    assert QGuiApplication.clipboard().text() == "Soda\t45.5"
    qtbot.keySequence(shelf.view, QKeySequence.StandardKey.SelectAll)
    qtbot.keySequence(shelf.view, QKeySequence.StandardKey.Copy)
    assert QGuiApplication.clipboard().text() == "Flux\tGrams\nBorax\t120.0\nSoda\t45.5\nSand\t7.0"


def test_paste_and_delete_are_handed_to_the_owner(shelf, qtbot):
    QGuiApplication.clipboard().setText("Borax\t1\nSoda\t2")
    with qtbot.waitSignal(shelf.view.pasted) as pasted:
        qtbot.keySequence(shelf.view, QKeySequence.StandardKey.Paste)
    assert pasted.args == [[["Borax", "1"], ["Soda", "2"]]]
    shelf.view.choose_row(2)
    with qtbot.waitSignal(shelf.view.removed) as removed:
        qtbot.keyClick(shelf.view, Qt.Key.Key_Delete)
    assert removed.args == [[2]]


def test_a_second_click_opens_the_editor_and_one_click_does_not(shelf, qtbot):
    cell = shelf.view.visualRect(shelf.model.index(0, 1)).center()
    qtbot.mouseClick(shelf.view.viewport(), Qt.MouseButton.LeftButton, pos=cell)
    assert shelf.view._delegate.editor is None
    qtbot.mouseDClick(shelf.view.viewport(), Qt.MouseButton.LeftButton, pos=cell + QPoint(1, 0))
    assert shelf.view._delegate.editor is not None


def test_every_cell_speaks_its_title_and_its_text(shelf):
    spoken = shelf.model.index(1, 1).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Grams, 45.5"


def test_a_column_gets_the_places_that_its_figures_need():
    assert decimals_for([52.0, 11.5]) == 1
    assert decimals_for([52.0, 0.035, None]) == 3
    assert decimals_for([1 / 3]) == 4


@pytest.mark.parametrize(
    ("text", "step", "stepped_text"),
    [("45.5", 0.5, "46"), ("45,5 g", -0.5, "45 g"), ("0.2", -0.5, "0"), ("abc", 1, None), ("2 lb", 1, "3 lb")],
)
def test_a_step_changes_the_number_and_keeps_the_unit(qapp, text, step, stepped_text):
    assert stepped(text, step) == stepped_text
