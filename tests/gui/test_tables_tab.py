"""The Tab key goes through a table and leaves it again at either end."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.view import GridView

BACK = Qt.KeyboardModifier.ShiftModifier
ON = Qt.KeyboardModifier.NoModifier


@pytest.fixture
def parts(qapp, qtbot):
    window = QWidget()
    qtbot.addWidget(window)
    column = QVBoxLayout(window)
    before, view, after = QLineEdit(), GridView("Jars", 30), QLineEdit()
    for part in (before, view, after):
        column.addWidget(part)
    model = GridModel([Column("Name", str), Column("Stock", str)], key=lambda row: row)
    view.show_model(model)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    yield before, view, model, after
    window.close()


def tab(times, modifier=ON):
    for _ in range(times):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab, modifier)


def cell(view):
    return view.currentIndex().row(), view.currentIndex().column()


def test_tab_goes_through_the_cells_and_on_at_the_end(parts):
    before, view, model, after = parts
    model.set_rows(["borax", "soda"])
    before.setFocus()
    tab(1)
    assert (QApplication.focusWidget(), cell(view)) == (view, (0, 0))
    tab(3)
    assert (QApplication.focusWidget(), cell(view)) == (view, (1, 1))
    tab(1)
    assert QApplication.focusWidget() is after
    tab(1, BACK)
    assert (QApplication.focusWidget(), cell(view)) == (view, (1, 1))
    tab(4, BACK)
    assert QApplication.focusWidget() is before


def test_tab_passes_an_empty_table_and_stops_at_no_column_that_is_left_out(parts):
    before, view, model, after = parts
    before.setFocus()
    tab(2)
    assert QApplication.focusWidget() is after
    model.set_rows(["borax"])
    view.setColumnHidden(1, True)
    before.setFocus()
    tab(2)
    assert QApplication.focusWidget() is after
