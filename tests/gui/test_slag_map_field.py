"""The field of the slag map: tints, contours, crystals, and how it comes row by row."""

import time
from math import log10, nan

import numpy as np
import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication

from fluxlab.design.map_types import FieldRow
from fluxlab.gui.charts import map_outline, map_picture
from fluxlab.gui.charts.field_run import SLICE, FieldRun
from fluxlab.gui.charts.map_contours import contour
from fluxlab.gui.charts.map_grid import Rows, even_out
from fluxlab.gui.charts.map_levels import level_words, levels
from fluxlab.gui.charts.map_view import BEFORE
from fluxlab.gui.tokens import LIGHT
from tests.gui.map_chart import at, fill, shown_map
from tests.gui.maps import OTHER, SIDES, log_viscosity, sample_frame, sample_rows
from tests.gui.parts import image_of


@pytest.fixture
def chart(qtbot):
    return shown_map(qtbot)


@pytest.fixture
def filled(chart):
    fill(chart)
    QApplication.processEvents()
    return chart


def rows_of(function, n=31, m=21):
    """Rows of a function of both axes from 0 to 1."""
    rows = Rows(0.0, 1.0)
    for i in range(n):
        y = i / (n - 1)
        rows.take(FieldRow(i, y, tuple(function(k / (m - 1), y) for k in range(m)), (False,) * m))
    return rows


def test_the_turn_from_warm_to_cool_lies_at_the_operators_limit():
    for limit in (0.5, 1.0, 2.0):
        steps = levels(limit)
        assert len(steps) == len(LIGHT.map) - 1
        assert steps[3] == pytest.approx(log10(limit))
    assert [level_words(level) for level in levels(1.0)] == ["0.2", "0.3", "0.6", "1.0", "2", "4"]


def test_the_tint_at_a_point_is_that_of_its_viscosity(filled):
    image, _ = filled._picture(filled.field(), 1.0)
    field = filled.field()
    steps = levels(1.0)
    for degree in (1.0, 1.25, 1.5, 1.7, 1.9):
        for borate in (0.4, 0.5, 0.65):
            value = log_viscosity(degree, borate)
            if min(abs(value - step) for step in steps) < 0.02:
                continue
            spot = QPoint(int(field.x(degree)), int(field.y(borate)))
            assert image.pixelColor(spot) == LIGHT.map[sum(value > step for step in steps)]


def test_what_cannot_be_reached_has_no_tint(filled):
    image, _ = filled._picture(filled.field(), 1.0)
    field = filled.field()
    assert image.pixelColor(QPoint(int(field.x(0.93)), int(field.y(0.73)))).alpha() == 0


def test_crystals_are_hatched_and_not_only_coloured(filled):
    image, _ = filled._picture(filled.field(), 1.0)
    field = filled.field()
    y = int(field.y(0.2))
    row = [image.pixelColor(x, y) == LIGHT.ink2 for x in range(int(field.x(0.92)), int(field.x(1.02)))]
    assert 0.08 < sum(row) / len(row) < 0.25
    clear = [image.pixelColor(x, int(field.y(0.5))) == LIGHT.ink2 for x in range(5, int(field.width) - 5)]
    assert not any(clear)


def test_between_rows_and_columns_the_field_is_linear():
    evened = even_out(rows_of(lambda x, y: 2.0 * x - y), 0.0, 1.0, 50, 40)
    x = (np.arange(50) + 0.5) / 50
    y = 1.0 - (np.arange(40) + 0.5) / 40
    assert evened.values == pytest.approx(2.0 * x[None, :] - y[:, None], abs=1e-5)
    assert evened.known is None
    assert evened.crystals is None


def test_unknown_points_spread_no_further_than_half_a_cell():
    rows = rows_of(lambda x, y: nan if x > 0.51 else 1.0)
    evened = even_out(rows, 0.0, 1.0, 200, 10)
    known = evened.known.mean(axis=1)
    assert known == pytest.approx(0.525, abs=0.01)
    assert evened.values == pytest.approx(1.0)


def test_nothing_known_is_no_picture():
    assert even_out(rows_of(lambda x, y: nan), 0.0, 1.0, 20, 20) is None
    assert even_out(Rows(0.0, 1.0), 0.0, 1.0, 20, 20) is None


def test_a_contour_of_a_plane_is_a_straight_line_in_one_part():
    parts = contour(rows_of(lambda x, y: x + 0.5 * y - 0.6), 0.0)
    assert len(parts) == 1
    for x, y in parts[0]:
        assert x + 0.5 * y == pytest.approx(0.6, abs=1e-9)
    assert {min(p[1] for p in parts[0]), max(p[1] for p in parts[0])} == {0.0, 1.0}


def test_a_contour_round_a_hill_is_one_closed_line():
    parts = contour(rows_of(lambda x, y: 0.09 - (x - 0.5) ** 2 - (y - 0.5) ** 2, 61, 61), 0.0)
    assert len(parts) == 1
    assert parts[0][0] == pytest.approx(parts[0][-1])
    for x, y in parts[0]:
        assert (x - 0.5) ** 2 + (y - 0.5) ** 2 == pytest.approx(0.09, abs=0.002)


def test_a_contour_ends_where_nothing_is_known():
    parts = contour(rows_of(lambda x, y: nan if 0.4 < y < 0.6 else x - 0.52), 0.0)
    assert len(parts) == 2


def test_the_figures_on_the_contours_keep_clear_of_the_plates(filled):
    field = filled.field()
    filled._picture(field, 1.0)
    lines = filled._lines()
    inside = map_outline.region(field, filled.frame.outline)
    taken = [plate.box for plate in map_outline.plates(field, filled.frame.outline, frozenset(), [])]
    placed = 0
    for line in lines:
        found = map_picture._spot(line, taken, inside)
        if found is not None:
            room = found[2]
            assert not any(room.intersects(box) for box in taken)
            assert -60.0 <= found[1] <= 60.0
            taken.append(room)
            placed += 1
    assert placed >= 5


def test_the_old_field_stays_dimmed_until_the_new_one_is_whole(filled):
    before = filled.rows
    filled.begin_field(1.0)
    filled.take_rows(list(sample_rows())[:20])
    assert filled.rows is before
    assert filled.stale
    dimmed = image_of(filled).pixelColor(at(filled, 1.23, 0.6))
    tint, sheet = LIGHT.map[0], LIGHT.sheet
    for got, a, b in zip(dimmed.getRgb()[:3], tint.getRgb()[:3], sheet.getRgb()[:3], strict=True):
        assert got == pytest.approx(0.6 * a + 0.4 * b, abs=2)
    filled.take_rows(list(sample_rows())[20:])
    filled.end_field()
    assert not filled.stale
    assert filled.rows is not before
    assert BEFORE == "for the recipe before"


def test_the_first_field_is_shown_as_it_comes_and_other_axes_begin_anew(chart):
    chart.begin_field(1.0)
    chart.take_rows(list(sample_rows())[:9])
    assert not chart.stale
    assert len(chart.rows.rows) == 9
    chart.show_frame(sample_frame(pair=OTHER, here=(1.0, 150.0), sides=None))
    assert chart.rows is None
    assert not chart.stale


def test_the_safe_region_stays_while_the_outline_does(chart):
    safe = chart.frame.safe
    chart.show_frame(sample_frame(safe=False))
    assert chart.frame.safe is safe
    chart.show_frame(sample_frame(safe=False, sides=SIDES[:-1]))
    assert chart.frame.safe is None
    chart.add_safe(safe)
    assert chart.frame.safe is safe


def test_the_field_is_worked_out_in_slices_of_eight_milliseconds(qtbot):
    run = FieldRun()
    slices, ended = [], []

    def slow():
        for k in range(12):
            end = time.perf_counter() + 0.003
            while time.perf_counter() < end:
                pass
            yield k

    run.came.connect(slices.append)
    run.done.connect(lambda: ended.append(True))
    run.start(slow())
    qtbot.waitUntil(lambda: bool(ended), timeout=5000)
    assert [k for part in slices for k in part] == list(range(12))
    assert max(map(len, slices)) * 0.003 <= SLICE + 0.003
    assert not run.running


def test_a_new_field_drops_the_one_under_way(qtbot):
    run = FieldRun()
    rows = []
    run.came.connect(rows.extend)
    run.start(iter(range(1_000_000_000)))
    qtbot.waitUntil(lambda: bool(rows), timeout=5000)
    rows.clear()
    run.start(iter(["new"]))
    qtbot.waitUntil(lambda: not run.running, timeout=5000)
    assert rows == ["new"]
