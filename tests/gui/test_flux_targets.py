"""Targets: two columns of one model, limits typed in place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest

from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.rails import target_rail
from fluxlab.gui.flux.target_editor import TargetEditor
from fluxlab.gui.flux.targets_model import TargetsModel, band_words
from fluxlab.gui.flux.targets_section import Targets
from tests.gui.reports import sample_report, sample_work


@pytest.fixture
def bench():
    return Bench(sample_work(), evaluate=sample_report)


@pytest.fixture
def targets(bench, qtbot):
    part = Targets(bench)
    qtbot.addWidget(part)
    bench.changed.connect(part.refresh)
    part.refresh()
    part.resize(528, 330)
    part.show()
    return part


def by_key(bench, key):
    return next(t for t in bench.report.targets if t.key == key)


def recipe_target(bench, key):
    return next(t for t in bench.work.recipe.targets if t.key == key)


def test_targets_fill_the_first_column_then_the_second(bench):
    model = TargetsModel()
    model.refresh(bench.report)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    assert (model.rowCount(), model.columnCount()) == (8, 2)
    assert model.target_at(model.index(0, 0)).key == "degree"
    assert model.target_at(model.index(7, 0)).key == "fluorspar"
    assert model.target_at(model.index(0, 1)).key == "cover"
    assert model.target_at(model.index(7, 1)) is None
    assert model.flags(model.index(7, 1)) == Qt.ItemFlag.NoItemFlags


def test_the_degree_names_the_convention_it_means(bench):
    model = TargetsModel()
    model.refresh(bench.report)
    assert model.target_at(model.index(0, 0)).label == "Silicate degree, SB"


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("degree", "1.0 – 2.5 wish"),
        ("borate", "0.2 – 0.5"),
        ("cap:ZnO", "at most 12"),
        ("cap:Al2O3", "at most 10, wish"),
        ("cover", "at least 10"),
        ("flux_to_ore", "at least 1.0, wish"),
        ("loose_fill", "at most 66.7"),
    ],
)
def test_limits_are_said_in_words(bench, key, words):
    assert band_words(by_key(bench, key)) == words


def test_every_target_is_spoken_with_value_and_limits(bench):
    model = TargetsModel()
    model.refresh(bench.report)
    spoken = model.data(model.index_of("cap:ZnO"), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Zinc oxide: 3.2 %, at most 12"


def test_a_rail_always_has_its_value_and_its_limits_on_the_scale(bench):
    for target in bench.report.targets:
        spec = target_rail(target)
        for mark in (target.value, target.lo, target.hi):
            assert mark is None or spec.lo <= mark <= spec.hi, target.key


def test_a_target_switched_off_is_listed_only_when_asked_for(bench, targets):
    bench.do("set_target", recipe_target(bench, "fluorspar").__class__("fluorspar", hi=5.0, on=False))
    bench.flush()
    assert targets.more.text() == "Show 1 off"
    assert not targets.model.index_of("fluorspar").isValid()
    targets.more.click()
    assert targets.model.index_of("fluorspar").isValid()
    assert targets.more.text() == "Hide 1 off"


def edited(targets, bench, key):
    targets.edit(key)
    return targets.editor


def type_end(field, text):
    field.setText(text)
    field.setModified(True)
    field.commit()


def test_typing_a_limit_sets_it_at_once_and_undo_names_it(bench, targets):
    editor = edited(targets, bench, "borate")
    type_end(editor._hi, "0.6")
    assert recipe_target(bench, "borate").hi == 0.6
    assert bench.document.undo_label == "Target borate from 0.2 to 0.6"


def test_emptying_a_limit_opens_the_band(bench, targets):
    editor = edited(targets, bench, "borate")
    type_end(editor._lo, "")
    assert recipe_target(bench, "borate").lo is None


def test_a_refused_limit_keeps_the_old_one(bench, targets):
    editor = edited(targets, bench, "borate")
    type_end(editor._lo, "half")
    assert recipe_target(bench, "borate").lo == 0.2
    assert editor._lo.text() == "0.20"


def test_must_and_wish_are_chosen_for_each_end(bench, targets):
    editor = edited(targets, bench, "degree")
    editor._lo_kind.buttons["wish"].click()
    target = recipe_target(bench, "degree")
    assert (target.lo_kind, target.hi_kind) == ("wish", "wish")


def test_the_convention_of_the_degree_is_chosen_in_its_editor_only(bench, targets):
    editor = edited(targets, bench, "degree")
    editor._convention.buttons["SBA acid"].click()
    bench.flush()
    assert recipe_target(bench, "degree").convention == "SBA acid"
    editor.shut()
    assert edited(targets, bench, "borate")._convention is None


def test_what_is_typed_is_taken_when_the_editor_is_left(bench, targets):
    editor = edited(targets, bench, "borate")
    editor._hi.setText("0.55")
    editor._hi.setModified(True)
    editor.shut()
    assert recipe_target(bench, "borate").hi == 0.55


def test_enter_on_a_target_opens_its_editor_and_escape_closes_it(bench, targets, qtbot):
    targets.view.setCurrentIndex(targets.model.index_of("cap:ZnO"))
    QTest.keyClick(targets.view, Qt.Key.Key_Return)
    editor = targets.window().findChild(TargetEditor)
    assert editor.key == "cap:ZnO"
    QTest.keyClick(editor, Qt.Key.Key_Escape)
    assert editor.isHidden()


def test_the_targets_copy_as_a_table(targets):
    targets.view.setFocus()
    QTest.keyClick(targets.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    rows = [line.split("\t") for line in QGuiApplication.clipboard().text().split("\n")]
    assert rows[0][:3] == ["Target", "Value", "Unit"]
    assert rows[3] == ["Zinc oxide", "3.2", "%", "", "", "12", "must"]


def test_second_lines_give_way_where_height_is_short(targets):
    tall = targets.view.height()
    targets.view.set_tight(True)
    assert targets.view.height() < tall


def test_ends_that_cross_are_refused(bench, targets):
    editor = edited(targets, bench, "borate")
    before = recipe_target(bench, "borate")
    type_end(editor._lo, "0.9")
    assert recipe_target(bench, "borate") == before
    assert editor._lo.text() == "0.20"


def test_typing_one_end_of_a_target_that_follows_the_ore_keeps_the_other(bench, targets):
    from dataclasses import replace

    bench.do("set_target", replace(recipe_target(bench, "borate"), auto=True))
    bench.flush()
    editor = edited(targets, bench, "borate")
    type_end(editor._hi, "0.45")
    target = recipe_target(bench, "borate")
    assert (target.lo, target.hi, target.auto) == (0.2, 0.45, False)
