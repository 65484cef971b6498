"""The slag map as it is drawn: words, outline, names of its sides, themes."""

from dataclasses import replace
from math import log10

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from fluxlab.gui.charts import map_outline
from fluxlab.gui.charts.map_words import NOTHING_HOLDS
from fluxlab.gui.explain import explanation
from fluxlab.gui.tokens import DARK, LIGHT, contrast
from tests.gui.map_chart import at, fill, heard, shown_map
from tests.gui.maps import OTHER, PAIR, SIDES, log_viscosity, sample_frame
from tests.gui.parts import image_of


@pytest.fixture
def chart(qtbot):
    return shown_map(qtbot)


@pytest.fixture
def filled(chart):
    fill(chart)
    QApplication.processEvents()
    return chart


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


def test_the_left_axis_is_as_wide_as_its_figures(chart):
    narrow = chart.plot.origin().x()
    chart.show_frame(sample_frame(pair=replace(OTHER, y=replace(OTHER.y, high=3000.0)), here=(1.0, 150.0), sides=None))
    QApplication.processEvents()
    widest = max(theme.metrics(12).horizontalAdvance(words) for _, words in chart.axes()[1].ticks)
    assert chart.plot.origin().x() >= widest + 5
    assert chart.plot.origin().x() > narrow
