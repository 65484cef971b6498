"""The flux table: an item model like any other, keys as in a spreadsheet, paste in one step."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest

from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.columns import COLUMNS, FIRST_VIEW, Col, places_of
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.gui.flux.table_section import FluxTable
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.whisper import Whisper
from tests.gui.reports import sample_report, sample_work

SILICA, SPAR, NITRE = 2, 3, 6


@pytest.fixture
def bench():
    return Bench(sample_work(), evaluate=sample_report)


@pytest.fixture
def model(bench):
    model = FluxModel(bench)
    model.refresh()
    bench.changed.connect(model.refresh)
    return model


@pytest.fixture
def table(bench, qtbot):
    table = FluxTable(bench)
    qtbot.addWidget(table)
    bench.changed.connect(table.refresh)
    table.refresh()
    table.resize(528, 420)
    table.show()
    table.view.setFocus()
    return table


def choose(table, row, col=Col.GRAMS):
    table.view.setCurrentIndex(table.model.index(row, col))


def key(table, key, modifiers=Qt.KeyboardModifier.NoModifier):
    QTest.keyClick(table.view, key, modifiers)
    table._bench.flush()


def type_in(table, text, end=Qt.Key.Key_Return):
    QTest.keyClicks(table.view, text[0])
    editor = table.view.viewport().findChild(Field)
    QTest.keyClicks(editor, text[1:])
    QTest.keyClick(editor, end)
    table._bench.flush()


def test_the_model_is_a_sound_item_model_through_edits(bench, model):
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    for edit in (
        ("fix_weight", "silica", 5.0),
        ("add_flux", "cryolite"),
        ("move_flux", "cryolite", 0),
        ("hide_flux", "nitre", True),
        ("remove_flux", "litharge"),
        ("hide_flux", "nitre", False),
    ):
        bench.do(*edit)
        bench.flush()
    while bench.undo():
        bench.flush()
    assert tester.model() is model
    assert [line.flux for line in model.lines] == [line.flux for line in bench.work.recipe.lines]


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["add", "remove", "hide", "show", "move", "fix", "undo", "redo"]),
            st.sampled_from(["borax", "soda", "silica", "spar", "litharge", "charcoal", "nitre", "cryolite"]),
            st.integers(0, 7),
        ),
        max_size=12,
    )
)
def test_any_sequence_of_edits_leaves_the_model_equal_to_the_recipe_and_undo_all_is_the_start(qapp, steps):
    bench = Bench(sample_work(), evaluate=sample_report)
    model = FluxModel(bench)
    model.refresh()
    bench.changed.connect(model.refresh)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    start = bench.work
    edits = {
        "add": lambda flux, n: bench.do("add_flux", flux),
        "remove": lambda flux, n: bench.do("remove_flux", flux),
        "hide": lambda flux, n: bench.do("hide_flux", flux, True),
        "show": lambda flux, n: bench.do("hide_flux", flux, False),
        "move": lambda flux, n: bench.do("move_flux", flux, n),
        "fix": lambda flux, n: bench.do("fix_weight", flux, float(n)),
        "undo": lambda flux, n: bench.undo(),
        "redo": lambda flux, n: bench.redo(),
    }
    for what, flux, number in steps:
        edits[what](flux, number)
        bench.flush()
        shown = [line.flux for line in bench.work.recipe.lines if not line.hidden]
        assert [line.flux for line in model.lines] == shown
    while bench.undo():
        bench.flush()
    assert bench.work == start


def test_only_rows_that_changed_are_announced(bench, model):
    told = []
    model.dataChanged.connect(lambda top, bottom: told.extend(range(top.row(), bottom.row() + 1)))
    bench.do("set_limits", "spar", None, 30.0)
    bench.flush()
    assert told == [SPAR]


def test_a_valid_parent_has_no_rows_and_an_invalid_index_no_flags(model):
    assert model.rowCount(model.index(0, 0)) == 0
    assert model.columnCount(model.index(0, 0)) == 0
    assert model.flags(QModelIndex()) == Qt.ItemFlag.NoItemFlags
    assert model.data(QModelIndex()) is None


def test_every_column_has_a_name_for_a_screen_reader(model):
    for col in Col:
        spoken = model.headerData(col, Qt.Orientation.Horizontal, Qt.ItemDataRole.AccessibleTextRole)
        assert spoken == COLUMNS[col].name
        assert spoken


def test_a_cell_is_spoken_with_its_row_and_unit(model):
    spoken = model.data(model.index(SILICA, Col.GRAMS), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Silica sand, grams: 62.0 g"


def test_typing_a_weight_fixes_the_row_and_goes_down(bench, table):
    choose(table, SILICA)
    type_in(table, "70")
    assert bench.work.recipe.lines[SILICA].grams == 70.0
    assert bench.report.lines[SILICA].fixed
    assert (table.view.currentIndex().row(), table.view.currentIndex().column()) == (SPAR, Col.GRAMS)
    assert bench.document.undo_label == "Silica sand free → 70 g"


def test_emptying_a_weight_frees_the_row(bench, table):
    bench.do("fix_weight", "silica", 70.0)
    bench.flush()
    choose(table, SILICA)
    key(table, Qt.Key.Key_F2)
    editor = table.view.viewport().findChild(Field)
    editor.selectAll()
    QTest.keyClick(editor, Qt.Key.Key_Delete)
    QTest.keyClick(editor, Qt.Key.Key_Return)
    assert bench.work.recipe.lines[SILICA].grams is None


def test_opening_and_leaving_an_editor_changes_nothing(bench, table):
    before = bench.work
    choose(table, SILICA)
    key(table, Qt.Key.Key_F2)
    QTest.keyClick(table.view.viewport().findChild(Field), Qt.Key.Key_Return)
    assert bench.work is before


@pytest.mark.parametrize("text", ["1,5 kg", "12 feet", "-3", "1e9", "abc"])
def test_a_refused_weight_keeps_the_row_and_says_why_beneath_it(bench, table, text):
    before = bench.work
    choose(table, SILICA)
    key(table, Qt.Key.Key_F2)
    editor = table.view.viewport().findChild(Field)
    editor.selectAll()
    QTest.keyClicks(editor, text)
    QTest.keyClick(editor, Qt.Key.Key_Return)
    assert bench.work is before
    whisper = table.findChild(Whisper)
    assert not whisper.isHidden()
    assert len(whisper.sentence) > 10


def test_a_weight_in_pounds_is_taken_as_grams(bench, table):
    # NIST Handbook 44 (2023), Appendix C: 1 pound = 453.59237 g exactly.
    choose(table, SILICA)
    type_in(table, "0.5 lb")
    assert bench.work.recipe.lines[SILICA].grams == pytest.approx(226.796185)


def test_up_and_down_on_a_weight_change_it_by_one_balance_step(bench, table):
    choose(table, SILICA)
    key(table, Qt.Key.Key_Up)
    assert bench.work.recipe.lines[SILICA].grams == pytest.approx(62.1)
    key(table, Qt.Key.Key_Down)
    key(table, Qt.Key.Key_Down)
    assert bench.work.recipe.lines[SILICA].grams == pytest.approx(61.9)
    assert table.view.currentIndex().row() == SILICA


def test_down_from_nothing_stays_at_nothing(bench, table):
    choose(table, NITRE)
    key(table, Qt.Key.Key_Down)
    assert bench.work.recipe.lines[NITRE].grams is None


def test_up_and_down_elsewhere_go_from_row_to_row(table):
    choose(table, SILICA, Col.SHARE)
    key(table, Qt.Key.Key_Down)
    assert table.view.currentIndex().row() == SPAR


def test_tab_goes_weight_lock_limits_and_then_the_next_row(table):
    choose(table, 0)
    seen = []
    for _ in range(4):
        key(table, Qt.Key.Key_Tab)
        here = table.view.currentIndex()
        seen.append((here.row(), here.column()))
    assert seen == [(0, Col.LOCK), (0, Col.RAIL), (1, Col.GRAMS), (1, Col.LOCK)]
    key(table, Qt.Key.Key_Backtab)
    assert table.view.currentIndex().column() == Col.GRAMS


def test_tab_leaves_the_table_at_its_end(table):
    choose(table, NITRE, Col.RAIL)
    assert table.view.hasFocus()
    key(table, Qt.Key.Key_Tab)
    assert not table.view.hasFocus()


def test_tab_in_an_editor_takes_the_text_and_goes_right(bench, table):
    choose(table, SILICA)
    type_in(table, "70", Qt.Key.Key_Tab)
    assert bench.work.recipe.lines[SILICA].grams == 70.0
    here = table.view.currentIndex()
    assert (here.row(), here.column()) == (SILICA, Col.LOCK)


def test_space_on_the_lock_fixes_and_frees(bench, table):
    choose(table, SILICA, Col.LOCK)
    key(table, Qt.Key.Key_Space)
    assert bench.work.recipe.lines[SILICA].grams == 62.0
    key(table, Qt.Key.Key_Space)
    assert bench.work.recipe.lines[SILICA].grams is None


def test_a_click_on_the_dot_fixes_the_row(bench, table):
    rect = table.view.visualRect(table.model.index(SILICA, Col.LOCK))
    QTest.mouseClick(table.view.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, rect.center())
    assert bench.work.recipe.lines[SILICA].grams == 62.0


def test_delete_frees_the_chosen_rows(bench, table):
    bench.do("fix_weight", "silica", 1.0)
    bench.flush()
    choose(table, SILICA)
    key(table, Qt.Key.Key_Delete)
    assert bench.work.recipe.lines[SILICA].grams is None


def test_free_all_shows_only_while_something_is_fixed(bench, table):
    assert table.free_all.isHidden()
    bench.do("fix_weight", "silica", 1.0)
    bench.do("fix_weight", "soda", 1.0)
    bench.flush()
    assert not table.free_all.isHidden()
    table.free_all.click()
    bench.flush()
    assert all(line.grams is None for line in bench.work.recipe.lines)
    assert table.free_all.isHidden()


def test_rows_move_by_alt_and_arrow(bench, table):
    choose(table, SILICA)
    key(table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert [line.flux for line in bench.work.recipe.lines][:3] == ["borax", "silica", "soda"]
    assert bench.undo() == "Move Silica sand"


def test_pasted_rows_go_by_name_in_one_undo_step(bench, table):
    QGuiApplication.clipboard().setText("Flux\tGrams\r\nSilica sand\t70,5\r\n".replace(",", ".") + "cryolite\t3 g\n")
    choose(table, 0)
    key(table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    weights = {line.flux: line.grams for line in bench.work.recipe.lines}
    assert weights["silica"] == 70.5
    assert weights["cryolite"] == 3.0
    bench.undo()
    assert bench.work == sample_work()


def test_a_pasted_column_goes_down_from_the_cursor(bench, table):
    QGuiApplication.clipboard().setText("1.5\n2.5\n")
    choose(table, SILICA)
    key(table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert [line.grams for line in bench.work.recipe.lines[SILICA : SILICA + 2]] == [1.5, 2.5]


def test_what_cannot_be_pasted_is_named_and_the_rest_is_taken(bench, table):
    QGuiApplication.clipboard().setText("Silica sand\t70\nMoon dust\t3\nSoda ash\tmuch")
    choose(table, 0)
    key(table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    weights = {line.flux: line.grams for line in bench.work.recipe.lines}
    assert weights["silica"] == 70.0
    assert weights["soda"] is None
    sentence = table.findChild(Whisper).sentence
    assert "Moon dust" in sentence
    assert "Soda ash" in sentence


def test_a_copied_table_pastes_back_as_it_was(bench, table):
    table.view.clearSelection()
    key(table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    text = QGuiApplication.clipboard().text()
    lines = text.split("\n")
    assert lines[0].split("\t")[:2] == ["What, and why", "Grams"]
    assert lines[3].split("\t")[:2] == ["Silica sand", "62.0"]
    choose(table, 0)
    key(table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert [line.grams for line in bench.work.recipe.lines] == [
        line.grams for line in sample_report(sample_work()).lines
    ]


def test_limits_open_from_the_rail_and_apply_as_typed(bench, table):
    choose(table, SILICA, Col.RAIL)
    key(table, Qt.Key.Key_F2)
    from fluxlab.gui.flux.limits_editor import LimitsEditor

    editor = table.window().findChild(LimitsEditor)
    editor._least.setText("10")
    editor._least.setModified(True)
    editor._least.commit()
    assert bench.work.recipe.lines[SILICA].least == 10.0
    editor._most.setText("")
    editor._most.setModified(True)
    editor.shut()
    assert bench.work.recipe.lines[SILICA].most is None


def test_columns_can_be_shown_and_the_first_view_brought_back(table):
    table._show(Col.COST, True)
    assert Col.COST in table.view.shown_columns()
    table._set_columns(FIRST_VIEW)
    assert frozenset(table.view.shown_columns()) == FIRST_VIEW


def test_the_columns_fill_the_width_and_the_rows_the_height(table):
    view = table.view
    assert sum(view.columnWidth(col) for col in view.shown_columns()) == view.width()
    tall = view.horizontalHeader().height() + sum(view.rowHeight(row) for row in range(len(table.model.lines)))
    assert view.height() == tall


def test_the_total_says_what_the_rows_come_to(bench, table):
    total = sum(line.grams for line in bench.report.lines)
    assert table.total.figures[0] == f"{total:.1f}"
    assert table.total.figures[1] == f"{total / 500:.2f} : 1"
    assert table.total.figures[2].endswith("mL loose")


def test_the_total_says_what_of_the_rows_is_no_flux(bench, table):
    report = bench.report
    table.total.refresh(replace(report, flux_mass=report.flux_mass - 3.0))
    assert table.total.figures[0] == f"{report.flux_mass - 3.0:.1f}"
    assert table.total.figures[2] == "and 3.0 g no flux"


def test_changing_the_charge_is_one_undo_step(bench, table):
    table.charge.decided.emit(250.0)
    assert bench.work.recipe.charge == 250.0
    assert bench.undo() == "Charge 500 g → 250 g"
    assert bench.document.undo_label is None


@pytest.mark.parametrize(("step", "places"), [(0.1, 1), (0.01, 2), (1.0, 0), (0.05, 2), (0.001, 3), (0.5, 1)])
def test_weights_show_as_many_places_as_the_balance_has(step, places):
    assert places_of(step) == places


def test_the_list_of_the_shelf_is_searched_and_adds_on_enter(bench, table):
    from fluxlab.gui.flux.add_flux import AddFlux

    table.open_add()
    panel = table.window().findChild(AddFlux)
    QTest.keyClicks(panel.search, "cryo")
    QTest.keyClick(panel.search, Qt.Key.Key_Return)
    assert bench.work.recipe.lines[-1].flux == "cryolite"


def test_limits_that_cross_are_refused(bench, table):
    from fluxlab.gui.flux.limits_editor import LimitsEditor

    table.edit_limits(0)
    editor = table.window().findChild(LimitsEditor)
    editor._least.setText("999")
    editor._least.setModified(True)
    editor._least.commit()
    assert bench.work == sample_work()
    assert editor._least.text() == "120.0"
