"""The roast card: the plan typed and chosen, predicted against weighed, programme, own figures."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fluxlab.design import edits
from fluxlab.design.report_types import Amount, RoastReport
from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.material_column import MaterialColumn
from fluxlab.gui.ore.programme_part import step_words
from fluxlab.gui.ore.roast_words import roast_lines, roast_sentences
from fluxlab.gui.widgets import fields
from fluxlab.ore.ore_types import Share
from tests.gui.parts import page_in_window, settle


@pytest.fixture
def bench():
    return Bench(demo_work())


@pytest.fixture
def column(bench, qtbot):
    with page_in_window(qtbot, bench, MaterialColumn, 378, 1400) as page:
        bench.changed.connect(page.refresh)
        yield page


def plan(bench: Bench):
    return bench.work.recipe.roast


def type_into(qtbot, decision, text: str) -> None:
    decision.setFocus()
    qtbot.keyClick(decision, Qt.Key.Key_Return)
    qtbot.keyClicks(QApplication.focusWidget(), text)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)


def test_a_perfect_roast_asks_for_no_figures(column):
    roast = column.roast
    assert roast.plan.kind.text() == "a perfect roast"
    assert not roast.plan.finish.isVisible()
    assert not roast.plan.before.isVisible()
    assert not roast.told.isVisible()
    assert not column.own.isVisible()


def test_choosing_the_plan_shows_its_figures_and_ranges_and_one_undo_takes_it_back(column, bench):
    column.roast.plan.choose_kind("the plan below")
    settle(bench)
    assert plan(bench).kind == "planned"
    assert column.roast.plan.finish.isVisible()
    assert not column.roast.plan.before.isVisible()
    assert "likely" in column.roast.lines.accessibleName()
    assert "memory and judgement" in column.roast.told.words
    bench.undo()
    settle(bench)
    assert not column.roast.plan.finish.isVisible()


def test_finish_and_time_are_typed_by_key(column, bench, qtbot):
    column.roast.plan.choose_kind("the plan below")
    settle(bench)
    type_into(qtbot, column.roast.plan.finish, "780")
    type_into(qtbot, column.roast.plan.minutes, "2 h")
    settle(bench)
    assert (plan(bench).finish_temperature, plan(bench).minutes) == (780.0, 120.0)
    assert bench.document.undo_label == "Roast to 780 °C, 120 min"


def test_a_start_typed_too_hot_for_stibnite_warns_of_clotting_and_a_lower_one_does_not(column, bench, qtbot):
    bench.do(edits.add_share, "minerals", Share("Stibnite", 20.0))
    column.roast.plan.choose_kind("the plan below")
    settle(bench)
    for typed, fires in (("455", True), ("450", False)):
        type_into(qtbot, column.roast.plan.start, typed)
        settle(bench)
        assert plan(bench).start_temperature == float(typed)
        assert ("R30" in {c.rule for c in bench.report.cautions}) is fires
    assert bench.document.undo_label == "Roast from 450 °C"


def test_an_impossible_finish_is_refused_in_words(column, bench, qtbot):
    column.roast.plan.choose_kind("the plan below")
    settle(bench)
    type_into(qtbot, column.roast.plan.finish, "9000")
    settle(bench)
    assert plan(bench).finish_temperature == 740.0


def test_weights_typed_with_a_decimal_comma_put_a_ring_on_the_rail(column, bench, qtbot):
    fields.choose_decimal_mark(",")
    try:
        column.roast.plan.choose_kind("its weights")
        settle(bench)
        assert "not weighed before and after" in column.roast.issues.words
        type_into(qtbot, column.roast.plan.before, "100,5")
        type_into(qtbot, column.roast.plan.after, "96,1")
        settle(bench)
        assert (plan(bench).before, plan(bench).after) == (100.5, 96.1)
        said = column.roast.lines.accessibleName()
        assert "weighed 4,4, agrees" in said
        assert "Roasts that fit the weight" in column.roast.told.words
        assert "." not in column.roast.told.words.split("sulphur ")[1].split(" %")[0]
    finally:
        fields.choose_decimal_mark("")


def test_a_weight_that_grew_by_forty_per_cent_is_an_error_in_words(column, bench):
    bench.do(edits.weigh_roast, 100.0, 140.0)
    settle(bench)
    assert "grew by 40.0 %" in column.roast.issues.words
    assert column.roast.issues.tone == "no"
    assert "off the range" in column.roast.lines.accessibleName()
    assert "nan" not in column.roast.lines.accessibleName().lower()


def test_an_emptied_weight_is_not_weighed_again(column, bench, qtbot):
    bench.do(edits.weigh_roast, 100.0, 96.0)
    settle(bench)
    column.roast.plan.after.open()
    field = QApplication.focusWidget()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert plan(bench).after is None
    assert plan(bench).kind == "weighed"


def test_bed_grain_and_stirring_are_set(column, bench, qtbot):
    column.roast.plan.choose_kind("the plan below")
    settle(bench)
    type_into(qtbot, column.roast.plan.bed, "25")
    type_into(qtbot, column.roast.plan.grain, "0.3")
    column.roast.plan.choose_stirred("no")
    settle(bench)
    assert (plan(bench).bed_depth, plan(bench).particle_size, plan(bench).rabbled) == (25.0, 0.3, False)
    assert "Unstirred" in column.programme.warnings.words


def test_the_programme_is_folded_and_tells_how_much_there_is_to_mind(column, bench, qtbot):
    programme = column.programme
    assert programme.is_folded
    title = programme._title
    title.setFocus()
    qtbot.keyClick(title, Qt.Key.Key_Return)
    assert not programme.is_folded
    assert [title.words.split(",")[0] for title, _ in programme.words] == [
        "Dry", "Low roast", "Main burn", "Finish", "Test",
    ]  # fmt: skip
    assert "takes fire by itself" in programme.warnings.words
    assert all("(" in action.words for _, action in programme.words)


def test_a_clotting_roast_warns_in_the_programme(column, bench):
    bench.do(edits.add_share, "minerals", Share("Stibnite", 20.0))
    bench.do(edits.plan_roast, 740.0, 90.0)
    settle(bench)
    assert "clot" in column.programme.warnings.words


def test_own_figures_show_the_program_s_and_an_own_one_counts(column, bench, qtbot):
    bench.do(edits.plan_roast, 740.0, 90.0)
    settle(bench)
    own = column.own
    assert own.isVisible()
    own.set_folded(False)
    settle(bench)
    field = own.field("sulphate", "Pb")
    assert field.placeholderText().startswith("about ")
    field.setFocus()
    qtbot.keyClicks(field, "90")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert plan(bench).sulphate == (("Pb", 0.9),)
    assert own._title.note == "1 of your own"
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert plan(bench).sulphate == ()


def test_the_fields_of_own_figures_follow_the_minerals(column, bench):
    bench.do(edits.plan_roast, 740.0, 90.0)
    column.own.set_folded(False)
    settle(bench)
    bench.do(edits.add_share, "minerals", Share("Arsenopyrite", 5.0))
    settle(bench)
    assert column.own.field("arsenate").isVisible()
    assert column.own.field("conversion", "Arsenopyrite").isVisible()


def test_nothing_is_cut_in_either_theme_and_at_130_per_cent(column, bench):
    bench.do(edits.weigh_roast, 100.0, 96.0)
    settle(bench)
    before = column.least_height(378)
    theme.set_text_size(130)
    try:
        settle(bench)
        assert column.least_height(378) > before
        for mode in ("dark", "light"):
            theme.set_mode(mode)
            settle(bench)
            assert not column.grab().isNull()
    finally:
        theme.set_text_size(100)
        theme.set_mode("system")


def weighed(change: float, seen: float, low: float, high: float) -> RoastReport:
    return RoastReport(
        100.0, 96.0, Amount(change, low, high), 20.0, (), 1.0, 0.0, perfect=False, kind="weighed",
        weighed_change_percent=seen, weight_explained=True, explained_by=("burnt through",), sources=("x", "y: z"),
    )  # fmt: skip


def test_a_weight_that_grew_where_loss_was_predicted_stands_left_of_nothing_on_the_rail():
    line = roast_lines(weighed(-4.0, 2.0, -8.0, -1.0))[0]
    assert line.words == "Weight loss by plan"
    assert line.rail is not None
    assert line.rail.seen == -2.0
    assert line.rail.lo <= -2.0
    assert line.note == "weighed −2.0, off the range"


def test_the_sentences_say_what_the_weight_fits_and_on_what_grounds():
    said = " ".join(roast_sentences(weighed(-4.0, -3.0, -8.0, -1.0)))
    assert "fit the weight: burnt through" in said
    assert said.endswith("Ranges are nine in ten: x.")
    assert "(y)" in said


def test_a_step_is_told_with_heat_and_time():
    from fluxlab.design.report_types import RoastStep

    assert step_words(RoastStep("Finish", 740.0, 740.0, 22.5, "", "")) == "Finish, 740 °C, 22 min"
    assert step_words(RoastStep("Dry", 105.0, 250.0, 25.0, "", "")) == "Dry, 105 – 250 °C, 25 min"
