"""The drawn parts, told apart by their pixels."""

import itertools

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from fluxlab.gui import theme
from fluxlab.gui.tokens import DARK, LIGHT
from fluxlab.gui.widgets import icons, text
from fluxlab.gui.widgets.glyph import draw_button_glyph
from fluxlab.gui.widgets.rail import RailSpec, draw_rail, nice_top
from fluxlab.gui.widgets.words import Words

ANSWERS = ("yes", "close", "no", "unknown")


def drawn(draw, width=110, height=24):
    image = QImage(width, height, QImage.Format.Format_ARGB32)
    image.fill(theme.tokens().sheet)
    painter = QPainter(image)
    draw(painter)
    painter.end()
    return image


def rail(spec):
    return drawn(lambda painter: draw_rail(painter, QRectF(4, 2, 100, 20), spec, LIGHT))


def pixels(image, colour):
    wanted = QColor(colour).rgb()
    return [
        (x, y) for x in range(image.width()) for y in range(image.height()) if image.pixelColor(x, y).rgb() == wanted
    ]


def glyph_mask(answer):
    """The glyph as black and white, so that only its shape can tell."""
    image = drawn(lambda p: draw_button_glyph(p, QRectF(2, 2, 18, 18), answer, LIGHT, QColor("#000000")), 22, 22)
    return frozenset((x, y) for x in range(22) for y in range(22) if image.pixelColor(x, y).lightnessF() < 0.5)


def test_the_four_answers_have_four_shapes_without_any_colour():
    masks = {answer: glyph_mask(answer) for answer in ANSWERS}
    for one, other in itertools.combinations(ANSWERS, 2):
        assert len(masks[one] ^ masks[other]) > 40, (one, other)


def test_a_whole_button_fills_more_than_a_half_filled_one_and_a_ring_least():
    masks = {answer: len(glyph_mask(answer)) for answer in ANSWERS}
    assert masks["yes"] > masks["close"] > masks["unknown"]


def test_the_blade_stands_where_its_value_is():
    for value in (0.0, 25.0, 50.0, 100.0):
        columns = {x for x, _ in pixels(rail(RailSpec(0, 100, value)), LIGHT.ink)}
        assert 4 + round(value * 0.99) in columns


def test_everything_on_a_rail_centres_on_the_row_of_its_hairline():
    image = rail(RailSpec(0, 100, 50.0, band_lo=20.0, band_hi=80.0))
    hairline = {y for x, y in pixels(image, LIGHT.edge)}
    assert len(hairline) == 1
    row = hairline.pop()
    for colour in (LIGHT.ink, LIGHT.hand):
        rows = [y for _, y in pixels(image, colour)]
        assert min(rows) + max(rows) == 2 * row


def test_a_must_is_a_filled_band_and_a_wish_only_a_dashed_box():
    must = rail(RailSpec(0, 100, band_lo=20.0, band_hi=80.0))
    wish = rail(RailSpec(0, 100, band_lo=20.0, band_hi=80.0, lo_kind="wish", hi_kind="wish"))
    assert len(pixels(must, LIGHT.hand_tint)) > 500
    assert not pixels(wish, LIGHT.hand_tint)
    assert len(pixels(wish, LIGHT.hand)) > 30


@pytest.mark.parametrize(("kind", "token"), [("must", "no"), ("wish", "close")])
def test_a_value_outside_takes_another_colour_and_an_arrow(kind, token):
    inside = rail(RailSpec(0, 100, 50.0, band_hi=60.0, hi_kind=kind))
    outside = rail(RailSpec(0, 100, 70.0, band_hi=60.0, hi_kind=kind))
    colour = getattr(LIGHT, token)
    assert not pixels(inside, colour)
    blade = {x for x, _ in pixels(outside, colour)}
    assert max(blade) - min(blade) > 4, "the arrow reaches beyond the three pixels of the blade"


def test_a_value_on_its_limit_is_inside():
    assert RailSpec(0, 100, 60.0, band_hi=60.0).broken() is None
    assert RailSpec(0, 100, 60.1, band_hi=60.0).broken() == "must"
    assert RailSpec(0, 100, 19.9, band_lo=20.0, lo_kind="wish").broken() == "wish"


@pytest.mark.parametrize(
    ("value", "top"), [(0.0, 1.0), (0.9, 1.0), (1.0, 1.0), (1.01, 1.5), (16.0, 20.0), (230.0, 300.0), (701.0, 1000.0)]
)
def test_a_scale_ends_at_a_round_number(value, top):
    assert nice_top(value) == pytest.approx(top)


@pytest.mark.parametrize("name", icons.NAMES)
def test_every_icon_draws_something_inside_its_grid(name):
    image = drawn(lambda p: icons.draw_icon(p, QRectF(0, 0, 20, 20), name, QColor("#000000")), 20, 20)
    assert any(image.pixelColor(x, y).lightnessF() < 0.6 for x in range(20) for y in range(20))


def test_the_dark_theme_draws_the_same_rail_in_its_own_colours():
    image = drawn(lambda p: draw_rail(p, QRectF(4, 2, 100, 20), RailSpec(0, 100, 50.0, band_hi=80.0), DARK))
    assert pixels(image, DARK.ink)
    assert pixels(image, DARK.hand_tint)


def test_a_paragraph_is_as_tall_as_its_words_in_the_size_in_force(qtbot):
    words = Words("Add silica or borax, " * 6)
    qtbot.addWidget(words)
    tall = words.heightForWidth(160)
    assert words.heightForWidth(160) == tall > words.heightForWidth(700)
    words.set_words("Add silica.")
    short = words.heightForWidth(160)
    assert 0 < short < tall
    try:
        theme.set_text_size(130)
        assert words.heightForWidth(160) > short
    finally:
        theme.set_text_size(100)
    words.set_words("")
    assert words.heightForWidth(160) == 0


def test_a_figure_of_thousands_is_not_cut_at_its_narrow_space(qapp):
    assert text.parted("planning figure:  32\u202f000 m³\nof air") == [
        "planning",
        "figure:",
        "32\u202f000 m³",
        "of",
        "air",
    ]
    lines = text.wrap("air 32\u202f000 m³", theme.metrics(13), text.width("air 32", 13))
    assert lines == ["air", "32\u202f000", "m³"]


@pytest.mark.parametrize(
    ("words", "kept"),
    [("at least 133.3 g asked", "133.3 g"), ("likely 5 to 8 g", "8 g"), ("under 2 Pa·s; thin", "2 Pa·s;")],
)
def test_a_figure_and_its_unit_stay_together_where_there_is_room(qapp, words, kept):
    measure = theme.metrics(13)
    least = measure.horizontalAdvance(kept)
    for more in range(0, 120, 5):
        lines = text.wrap(words, measure, least + more)
        assert " ".join(lines) == words
        assert any(kept in line for line in lines)
    assert text.wrap("133.3 g", measure, least / 3) == ["133.3", "g"]
    assert text.parted("2 garnets, 3 good") == ["2", "garnets,", "3", "good"]
