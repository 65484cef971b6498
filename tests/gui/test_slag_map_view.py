"""The slag map: the region, the field as it comes, the knob under the hand, and the files it saves."""

import csv
import io
import time
from dataclasses import replace
from math import isfinite, log10, nan

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog

from fluxlab.design.map_types import FieldRow
from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts import map_outline, map_picture, map_sweep, saving
from fluxlab.gui.charts.field_run import SLICE, FieldRun
from fluxlab.gui.charts.fluidity_part import fluid_of
from fluxlab.gui.charts.map_contours import contour
from fluxlab.gui.charts.map_grid import Rows, even_out
from fluxlab.gui.charts.map_levels import level_words, levels
from fluxlab.gui.charts.map_part import SlagMapPart
from fluxlab.gui.charts.map_view import BEFORE
from fluxlab.gui.charts.map_words import NOTHING_HOLDS, NOTHING_MOVES
from fluxlab.gui.charts.slag_map import SlagMap
from fluxlab.gui.explain import explanation
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.gui.tokens import DARK, LIGHT, contrast
from fluxlab.gui.widgets import fields
from fluxlab.ore.ore_types import OreType
from tests.gui.maps import OTHER, PAIR, SIDES, log_viscosity, sample_frame, sample_rows


@pytest.fixture
def chart(qtbot):
    chart = SlagMap()
    qtbot.addWidget(chart)
    chart.resize(353, 320)
    chart.show_frame(sample_frame())
    chart.show()
    chart.build()
    QApplication.processEvents()
    return chart


@pytest.fixture
def filled(chart):
    fill(chart)
    QApplication.processEvents()
    return chart


@pytest.fixture
def dressed():
    yield theme.set_mode
    theme.set_mode("light")
    theme.set_text_size(100)


@pytest.fixture
def decimal_comma():
    fields.choose_decimal_mark(",")
    yield
    fields.choose_decimal_mark("")


def fill(chart, limit=1.0, **given):
    chart.begin_field(limit)
    chart.take_rows(list(sample_rows(**given)))
    chart.end_field()


def at(chart, x, y):
    field = chart.field()
    return chart.at(QPointF(field.x(x), field.y(y))).toPoint()


def image_of(chart):
    QApplication.processEvents()
    return chart.grab().toImage()


def heard(chart):
    said = []
    chart.tried.connect(lambda x, y: said.append(("tried", x, y)))
    chart.moved.connect(lambda x, y: said.append(("moved", x, y)))
    chart.dropped.connect(lambda: said.append(("dropped",)))
    return said


def rows_of(function, n=31, m=21):
    """Rows of a function of both axes from 0 to 1."""
    rows = Rows(0.0, 1.0)
    for i in range(n):
        y = i / (n - 1)
        rows.take(FieldRow(i, y, tuple(function(k / (m - 1), y) for k in range(m)), (False,) * m))
    return rows


# -- what it says -----------------------------------------------------------------------------------------------------


def test_the_map_is_told_in_words(chart):
    assert chart.accessibleName() == (
        "Slag map: the recipe stands at silicate degree (Si + B) 1.42, borate share 0.44; every must holds inside "
        "degree 1.2, flux to ore 1.1, degree 1.6, viscosity 1.0, borate 0.34"
    )


def test_a_recipe_elsewhere_is_told_elsewhere(chart):
    chart.show_point((1.66, 0.41), frozenset({"degree#hi"}))
    assert "silicate degree (Si + B) 1.66, borate share 0.41" in chart.accessibleName()


def test_where_nothing_holds_the_map_says_so(chart):
    chart.show_frame(sample_frame(sides=None))
    assert "no recipe on it keeps every must" in chart.accessibleName()
    assert NOTHING_HOLDS


def test_without_a_frame_the_axes_stand_empty_with_one_sentence(chart):
    chart.show_frame(None, "Not known: enter what the ore is made of.")
    assert chart.accessibleName() == "Slag map: Not known: enter what the ore is made of."
    chart.clearFocus()
    image = image_of(chart)
    hand = theme.tokens().hand.rgb()
    assert not any(image.pixel(x, y) == hand for x in range(image.width()) for y in range(image.height()))
    assert chart.knob_box().isEmpty()


# -- the region -------------------------------------------------------------------------------------------------------


def test_the_outline_is_drawn_at_once_without_any_field(chart):
    assert chart.rows is None
    image = image_of(chart)
    spot = at(chart, 1.2, 0.42)
    hand = theme.tokens().hand
    assert any(image.pixelColor(spot.x() + d, spot.y()) == hand for d in (-1, 0, 1))


def test_the_outside_is_veiled_by_two_fifths(filled):
    image = image_of(filled)
    outside, inside = at(filled, 1.03, 0.6), at(filled, 1.23, 0.6)
    assert log_viscosity(1.03, 0.6) < log10(0.2)
    tint, sheet = LIGHT.map[0], LIGHT.sheet
    seen = image.pixelColor(outside)
    for got, a, b in zip(seen.getRgb()[:3], tint.getRgb()[:3], sheet.getRgb()[:3], strict=True):
        assert got == pytest.approx(0.58 * a + 0.42 * b, abs=2)
    assert image.pixelColor(inside) == tint


def test_every_side_is_named_once_clear_of_the_knob_and_of_each_other(chart):
    field = chart.field()
    knob = QRectF(field.x(1.42) - 17, field.y(0.44) - 17, 34, 34)
    found = map_outline.plates(field, chart.frame.outline, frozenset({"degree#hi"}), [knob])
    assert {plate.words for plate in found} == {side.words for side in SIDES}
    boxes = [plate.box for plate in found] + [knob]
    for k, box in enumerate(boxes):
        assert not any(box.intersects(other) for other in boxes[k + 1 :])
    frame = QRectF(0, 0, field.width, field.height)
    assert all(frame.contains(plate.box) for plate in found)
    assert [plate.words for plate in found if plate.broken] == ["degree 1.6"]


def test_a_name_never_stands_on_the_line_itself(chart):
    field = chart.field()
    inside = map_outline.region(field, chart.frame.outline)
    for plate in map_outline.plates(field, chart.frame.outline, frozenset(), []):
        assert not inside.intersects(plate.box) or inside.contains(plate.box)


def test_a_side_s_name_leaves_out_what_the_picture_shows():
    assert map_outline.short("Silicate degree at least 1.00") == "silicate degree 1.00"
    assert map_outline.short("ZnO at most 12.0 %") == "ZnO 12.0 %"


def test_a_broken_side_is_thick_and_carmine(chart):
    chart.show_point((1.66, 0.41), frozenset({"degree#hi"}))
    image = image_of(chart)
    no, hand = theme.tokens().no, theme.tokens().hand
    broken, kept = at(chart, 1.6, 0.5), at(chart, 1.2, 0.4)
    assert sum(image.pixelColor(broken.x() + d, broken.y()) == no for d in range(-4, 5)) >= 3
    assert sum(image.pixelColor(kept.x() + d, kept.y()) == hand for d in range(-4, 5)) in (1, 2, 3)
    assert not any(image.pixelColor(kept.x() + d, kept.y()) == no for d in range(-4, 5))


# -- the field --------------------------------------------------------------------------------------------------------


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


# -- the knob ---------------------------------------------------------------------------------------------------------


def drag(chart, *points, release=True):
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=at(chart, *chart.here))
    for point in points:
        QTest.mouseMove(chart, at(chart, *point))
        QApplication.processEvents()
    if release:
        QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, *points[-1]))


def test_a_drag_follows_the_hand_and_ends_in_one_move(chart):
    said = heard(chart)
    drag(chart, (1.5, 0.42), (1.6, 0.41), (1.66, 0.4))
    assert [what for what, *_ in said] == ["tried"] * 3 + ["moved"]
    assert said[-1][1:] == said[-2][1:]
    assert said[-1][1] == pytest.approx(1.66, abs=0.011)
    assert said[-1][2] == pytest.approx(0.40, abs=0.011)
    for _, x, y in said:
        assert round(100 * x, 6) % 1 == 0
        assert round(100 * y, 6) % 1 == 0


def test_the_knob_takes_the_hand_within_fourteen_pixels(chart):
    box = chart.knob_box()
    assert (box.width(), box.height()) == (28.0, 28.0)
    said = heard(chart)
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=box.center().toPoint() + QPoint(12, 0))
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=box.center().toPoint() + QPoint(12, 0))
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=box.center().toPoint() + QPoint(20, 0))
    QTest.mouseMove(chart, box.center().toPoint() + QPoint(60, 0))
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=box.center().toPoint() + QPoint(60, 0))
    assert said == []


def test_where_the_knob_is_taken_makes_no_difference(chart):
    said = heard(chart)
    start = at(chart, *chart.here) + QPoint(9, 5)
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(chart, start + QPoint(1, 0))
    QTest.mouseMove(chart, start)
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=start)
    assert said[-1][1] == pytest.approx(1.42, abs=0.006)
    assert said[-1][2] == pytest.approx(0.44, abs=0.006)


def test_the_knob_stays_on_the_axes(chart):
    said = heard(chart)
    drag(chart, (5.0, 2.0))
    assert said[-1] == ("moved", 1.95, 0.75)


def test_escape_gives_the_drag_up(chart):
    said = heard(chart)
    drag(chart, (1.6, 0.4), release=False)
    QTest.keyClick(chart, Qt.Key.Key_Escape)
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1.6, 0.4))
    assert [what for what, *_ in said] == ["tried", "dropped"]
    assert not chart.dragging


@pytest.mark.parametrize(
    ("key", "shift", "wanted"),
    [
        (Qt.Key.Key_Right, False, (1.43, 0.44)),
        (Qt.Key.Key_Left, False, (1.41, 0.44)),
        (Qt.Key.Key_Up, False, (1.42, 0.45)),
        (Qt.Key.Key_Down, True, (1.42, 0.34)),
    ],
)
def test_an_arrow_key_moves_the_knob_by_a_hundredth(chart, key, shift, wanted):
    said = heard(chart)
    QTest.keyClick(chart, key, Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier)
    assert said == [("tried", *wanted), ("moved", *wanted)]


def test_a_held_key_is_one_move(chart):
    said = heard(chart)
    for _ in range(5):
        QTest.keyPress(chart, Qt.Key.Key_Right)
    QTest.keyRelease(chart, Qt.Key.Key_Right)
    assert [what for what, *_ in said] == ["tried"] * 5 + ["moved"]
    assert said[-1] == ("moved", 1.47, 0.44)


def test_a_weight_moves_by_the_last_place_that_is_shown(chart):
    chart.show_frame(sample_frame(pair=OTHER, here=(1.0, 150.0), sides=None))
    said = heard(chart)
    QTest.keyClick(chart, Qt.Key.Key_Up)
    assert said[-1] == ("moved", 1.0, 151.0)


def test_the_ghost_and_its_trail_stand_where_the_drag_began(chart):
    drag(chart, (1.7, 0.3), release=False)
    chart.show_point((1.7, 0.3), frozenset())
    image = image_of(chart)
    ghost = at(chart, 1.42, 0.44)
    ink = theme.tokens().ink
    ring = [image.pixelColor(ghost + QPoint(dx, dy)) for dx in range(-7, 8) for dy in range(-7, 8)]
    assert sum(colour == ink for colour in ring) > 8
    middle = (at(chart, 1.42, 0.44) + at(chart, 1.7, 0.3)) / 2
    trail = [image.pixelColor(middle + QPoint(dx, dy)) for dx in range(-6, 7) for dy in range(-6, 7)]
    assert sum(abs(c.lightness() - ink.lightness()) < 60 for c in trail) > 4
    QTest.keyClick(chart, Qt.Key.Key_Escape)


# -- themes, sizes, files ---------------------------------------------------------------------------------------------


def test_the_tints_follow_the_theme(filled, dressed):
    dressed("dark")
    assert image_of(filled).pixelColor(at(filled, 1.23, 0.6)) == DARK.map[0]
    dressed("light")
    assert image_of(filled).pixelColor(at(filled, 1.23, 0.6)) == LIGHT.map[0]


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_lines_and_plates_can_be_read_on_every_tint(tokens):
    for tint in tokens.map:
        share = 225 / 255
        plate = QColor(
            *(round(share * s + (1 - share) * g) for s, g in zip(tokens.sheet.getRgb(), tint.getRgb(), strict=True))
        )
        for words in (tokens.ink, tokens.hand, tokens.no):
            assert contrast(words, plate) >= 4.5
    # the casing parts the outline from whatever tint lies under it
    for line in (tokens.hand, tokens.no):
        assert contrast(line, tokens.sheet) >= 3.0


@pytest.mark.parametrize("percent", [100, 115, 130])
def test_axis_names_and_legend_have_room_at_any_text_size(filled, dressed, percent):
    theme.set_text_size(percent)
    filled.resize(theme.scaled(343), theme.scaled(322))
    QApplication.processEvents()
    left = theme.metrics(12).horizontalAdvance(PAIR.y.label)
    right = theme.metrics(12).horizontalAdvance("holds 9 in 10ore spread") + 70
    assert left + right <= filled.width()
    widest = max(theme.metrics(12).horizontalAdvance(words) for _, words in filled.axes()[1].ticks)
    assert filled.plot.origin().x() >= widest + 8


def answer(monkeypatch, path):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_a, **_k: (str(path), ""))


def menu_entry(chart, words):
    return next(action for action in chart.menu().actions() if action.text() == words)


def test_the_svg_is_a_drawing_that_renders_with_its_words_as_text(filled, monkeypatch, tmp_path):
    path = tmp_path / "map.svg"
    answer(monkeypatch, path)
    menu_entry(filled, "Save as SVG…").trigger()
    words = path.read_text(encoding="utf-8")
    for part in (">Slag map<", ">degree 1.2<", ">borate share<", ">holds 9 in 10<", "<image"):
        assert part in words, part
    drawing = QSvgRenderer(str(path))
    assert drawing.isValid()
    size = filled.picture_size()
    image = QImage(size, QImage.Format.Format_RGB32)
    image.fill(QColor("#00ff00"))
    painter = QPainter(image)
    drawing.render(painter)
    painter.end()
    head = theme.scaled(28)
    assert image.pixelColor(at(filled, 1.23, 0.6) + QPoint(0, head)) == LIGHT.map[0]
    colours = {image.pixelColor(x, y).rgb() for x in range(size.width()) for y in range(size.height())}
    assert LIGHT.hand.rgb() in colours


def test_the_png_is_three_times_as_fine_as_the_screen(filled, monkeypatch, tmp_path):
    path = tmp_path / "map.png"
    answer(monkeypatch, path)
    menu_entry(filled, "Save as PNG…").trigger()
    image = QImage(str(path))
    assert image.size() == filled.picture_size() * saving.PIXELS
    spot = at(filled, 1.23, 0.6) + QPoint(0, theme.scaled(28))
    assert image.pixelColor(spot * saving.PIXELS) == LIGHT.map[0]


def test_the_csv_holds_every_known_point(filled, monkeypatch, tmp_path):
    path = tmp_path / "map.csv"
    answer(monkeypatch, path)
    menu_entry(filled, "Save as CSV…").trigger()
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    assert rows[0] == ["silicate degree (Si + B)", "borate share", "Pa·s", "crystals"]
    known = sum(isfinite(v) for row in sample_rows() for v in row.log_viscosity)
    assert len(rows) == known + 1
    for x, y, viscosity, _ in rows[1::97]:
        assert log10(float(viscosity)) == pytest.approx(log_viscosity(float(x), float(y)), abs=0.003)
    assert {row[3] for row in rows[1:]} == {"", "likely"}


def test_the_csv_follows_the_decimal_comma(filled, decimal_comma, monkeypatch, tmp_path):
    path = tmp_path / "map.csv"
    answer(monkeypatch, path)
    menu_entry(filled, "Save as CSV…").trigger()
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    assert {len(row) for row in rows} == {4}
    assert "." not in "".join(rows[1])
    assert "," in rows[1][2]


def test_f1_explains_the_map_with_formula_and_source(chart):
    text = explanation(chart.key_at(QPoint(5, 5)))
    assert text.formula
    assert text.source


def test_a_frame_without_a_place_for_the_recipe_has_no_knob(chart):
    chart.show_frame(replace(sample_frame(), here=None))
    assert chart.knob_box().isEmpty()
    assert "the recipe has no place on it" in chart.accessibleName()
    said = heard(chart)
    QTest.keyClick(chart, Qt.Key.Key_Right)
    assert said == []


# -- on the bench -----------------------------------------------------------------------------------------------------


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


def test_the_left_axis_is_as_wide_as_its_figures(chart):
    narrow = chart.plot.origin().x()
    chart.show_frame(sample_frame(pair=replace(OTHER, y=replace(OTHER.y, high=3000.0)), here=(1.0, 150.0), sides=None))
    QApplication.processEvents()
    widest = max(theme.metrics(12).horizontalAdvance(words) for _, words in chart.axes()[1].ticks)
    assert chart.plot.origin().x() >= widest + 5
    assert chart.plot.origin().x() > narrow


def test_a_step_on_the_map_is_named_by_what_changed(part, bench):
    problem, here = part.ground.problem, (2.0, 0.4)
    label, _ = map_sweep.put_at(bench.work, frozenset(), problem, (1.9, 0.4), here)
    assert label == "Degree 2.00 → 1.90 on the map"
    label, _ = map_sweep.put_at(bench.work, frozenset(), problem, (1.9, 0.35), here)
    assert label == "Degree 2.00 → 1.90, borate 0.40 → 0.35 on the map"
