"""The slag map on a real bench."""

from dataclasses import replace
from math import log10

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts import map_sweep
from fluxlab.gui.charts.fluidity_part import fluid_of
from fluxlab.gui.charts.map_part import SlagMapPart
from fluxlab.gui.charts.map_words import NOTHING_MOVES
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.ore.ore_types import OreType
from tests.gui.map_chart import at, drag


@pytest.fixture
def bench():
    work = demo_work()
    return Bench(work, saved=work)


@pytest.fixture
def part(bench, qtbot):
    part = SlagMapPart(bench)
    qtbot.addWidget(part)
    bench.changed.connect(part.refresh)
    part.resize(353, 350)
    part.chart.set_height(320)
    part.refresh()
    part.show()
    part.chart.build()
    settle(part, qtbot)
    return part


def settle(part, qtbot):
    QApplication.processEvents()
    qtbot.waitUntil(lambda: part.settled, timeout=30000)


def weights(bench):
    return {line.flux: line.grams for line in bench.report.lines}


def test_the_map_of_a_recipe_has_outline_field_and_knob(part, bench):
    chart = part.chart
    assert chart.frame.outline.sides
    assert len(chart.rows.rows) == map_sweep.CELLS
    assert not chart.stale
    target = {target.key: target.value for target in bench.report.targets}
    assert chart.here == pytest.approx((target["degree"], target["borate"]))
    here = min(chart.rows.ordered(), key=lambda row: abs(row.y - chart.here[1]))
    column = round((chart.here[0] - chart.rows.low) / (chart.rows.high - chart.rows.low) * (map_sweep.CELLS - 1))
    told = bench.report.fluid.at_pour.value
    assert here.log_viscosity[column] == pytest.approx(log10(told), abs=0.15)


def test_a_drag_on_the_map_is_one_step_with_the_rows_still_free(part, bench, qtbot):
    before, was = bench.work, weights(bench)
    x, y = part.chart.here
    drag(part.chart, (x - 0.1, y - 0.02), (x - 0.3, y - 0.05), release=False)
    bench.flush()
    assert bench.document.undo_label is None
    assert part.chart.here == pytest.approx((x - 0.3, y - 0.05), abs=0.02)
    followed = weights(bench)
    assert followed != pytest.approx(was)
    QTest.mouseRelease(part.chart, Qt.MouseButton.LeftButton, pos=at(part.chart, x - 0.3, y - 0.05))
    bench.flush()
    assert "on the map" in bench.document.undo_label
    assert weights(bench) == pytest.approx(followed, abs=0.06)
    assert not any(line.fixed for line in bench.report.lines)
    bench.undo()
    assert bench.work is before
    assert bench.document.undo_label is None


def test_a_drag_out_of_the_region_breaks_the_must_that_draws_that_side(part, bench):
    x, y = part.chart.here
    outline = part.chart.frame.outline
    low = min(outline.low)
    drag(part.chart, (x, (y + low) / 2), (x, low - 0.06), release=False)
    bench.flush()
    assert "borate#lo" in part.chart.broken
    QTest.keyClick(part.chart, Qt.Key.Key_Escape)
    bench.flush()
    assert part.chart.broken == frozenset()
    assert part.chart.here == pytest.approx((x, y))


def test_a_fixed_row_never_moves_in_a_drag(part, bench, qtbot):
    row = bench.report.lines[0]
    bench.do("fix_weight", row.flux, round(row.grams, 1))
    bench.flush()
    settle(part, qtbot)
    x, y = part.chart.here
    drag(part.chart, (x - 0.2, y), release=False)
    bench.flush()
    assert weights(bench)[row.flux] == round(row.grams, 1)
    QTest.keyClick(part.chart, Qt.Key.Key_Escape)


def test_a_change_elsewhere_dims_the_map_until_it_is_worked_out_anew(part, bench, qtbot):
    bench.do("set_pour_temperature", 1000.0)
    bench.flush()
    assert part.chart.stale
    assert not part.settled
    settle(part, qtbot)
    assert not part.chart.stale
    assert part.chart.note == "Pa·s at 1000 °C"


def test_the_other_axes_are_chosen_from_a_menu_and_remembered(part, bench, qtbot):
    entries = part.axes_menu().actions()
    assert len(entries) >= 2
    assert [entry.isChecked() for entry in entries] == [True] + [False] * (len(entries) - 1)
    entries[1].trigger()
    settle(part, qtbot)
    pair = part.chart.frame.pair
    assert part.wanted == map_sweep.pair_id(pair)
    assert pair.x.key == "flux_to_ore"
    grams = weights(bench)[pair.y.key.removeprefix("flux:")]
    assert part.chart.here == pytest.approx((bench.report.flux_to_ore, grams))


def test_a_folded_map_works_nothing_out(bench, qtbot):
    part = SlagMapPart(bench)
    qtbot.addWidget(part)
    part.set_folded(True)
    part.refresh()
    assert part.settled
    part.set_folded(False)
    assert not part.settled
    settle(part, qtbot)
    assert part.chart.frame is not None


def test_without_an_ore_the_map_says_what_is_missing(qtbot):
    work = demo_work()
    bench = Bench(work)
    part = SlagMapPart(bench)
    qtbot.addWidget(part)
    part.refresh()
    settle(part, qtbot)
    assert part.chart.frame is not None
    bare = Work(replace(work.recipe, ore=OreType("bare", "nothing yet")), work.shelf)
    bench.lay_out(bare)
    part.refresh()
    assert part.settled
    assert part.chart.frame is None
    assert part.chart.rows is None
    assert part.chart.accessibleName() == "Slag map: Not known: enter what the ore is made of."
    assert fluid_of(bench.report) is None


def test_while_a_point_is_dragged_each_free_row_tells_how_far_it_moved(bench):
    model = FluxModel(bench)
    model.refresh()
    was = {line.flux: line.grams for line in model.lines}
    first = model.lines[0].flux
    bench.try_out("fix_weight", first, was[first] - 5.0)
    model.refresh()
    row = model.lines[0]
    assert row.why == "Follows the hand, − 5.0 g"
    assert not row.fixed
    bench.drop_trial()
    model.refresh()
    assert model.lines[0].why != row.why


def test_a_point_dragged_out_of_the_region_can_be_dragged_back(part, bench, qtbot):
    x, y = part.chart.here
    low = min(part.chart.frame.outline.low)
    drag(part.chart, (x, low - 0.06))
    bench.flush()
    settle(part, qtbot)
    assert "borate#lo" in part.chart.broken
    assert all(line.fixed for line in bench.report.lines)
    assert part.chart.frame.outline.sides
    drag(part.chart, (x, y))
    bench.flush()
    settle(part, qtbot)
    assert part.chart.broken == frozenset()
    assert part.chart.here == pytest.approx((x, y), abs=0.02)
    assert not any(line.fixed for line in bench.report.lines)


def test_where_the_operator_fixed_every_row_the_map_says_why_nothing_moves(part, bench, qtbot):
    for line in bench.report.lines:
        bench.do("fix_weight", line.flux, round(line.grams, 1))
    bench.flush()
    settle(part, qtbot)
    assert part.chart.whisper == NOTHING_MOVES
    assert NOTHING_MOVES in part.chart.accessibleName()
    assert "keeps every must" not in part.chart.accessibleName()


def test_a_step_on_the_map_is_named_by_what_changed(part, bench):
    problem, here = part.ground.problem, (2.0, 0.4)
    label, _ = map_sweep.put_at(bench.work, frozenset(), problem, (1.9, 0.4), here)
    assert label == "Degree 2.00 → 1.90 on the map"
    label, _ = map_sweep.put_at(bench.work, frozenset(), problem, (1.9, 0.35), here)
    assert label == "Degree 2.00 → 1.90, borate 0.40 → 0.35 on the map"
