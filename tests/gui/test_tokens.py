"""Colours can be read and told apart: WCAG 2.1, success criteria 1.4.3 (text 4.5 : 1) and 1.4.11 (marks 3 : 1)."""

import pytest
from PySide6.QtGui import QColor

from fluxlab.gui.tokens import DARK, LIGHT, contrast

THEMES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]
TEXT_ON_SHEET = ("ink", "ink2", "ink3", "hand", "heat", "close", "no")
PAIRS = (
    ("ink", "tray"), ("ink2", "tray"), ("ink", "lift"), ("ink2", "lift"), ("ink", "pick"), ("sheet", "solid"),
    ("onhand", "hand"), ("onslag", "slag"), ("close", "close_tint"), ("no", "no_tint"), ("ink", "close_tint"),
    ("ink", "no_tint"), ("ink2", "close_tint"), ("ink2", "no_tint"),
)  # fmt: skip


@pytest.mark.parametrize("tokens", THEMES)
@pytest.mark.parametrize("name", TEXT_ON_SHEET)
def test_text_on_the_sheet_has_contrast_of_at_least_four_and_a_half(tokens, name):
    assert contrast(getattr(tokens, name), tokens.sheet) >= 4.5


@pytest.mark.parametrize("tokens", THEMES)
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_text_on_other_grounds_has_contrast_of_at_least_four_and_a_half(tokens, text, ground):
    assert contrast(getattr(tokens, text), getattr(tokens, ground)) >= 4.5


@pytest.mark.parametrize("tokens", THEMES)
@pytest.mark.parametrize("name", ["edge", "ink", "hand", "close", "no", "ink3"])
def test_marks_have_contrast_of_at_least_three(tokens, name):
    assert contrast(getattr(tokens, name), tokens.sheet) >= 3.0


@pytest.mark.parametrize("tokens", THEMES)
def test_a_blade_stands_out_from_the_band_behind_it(tokens):
    for blade in (tokens.ink, tokens.no, tokens.close):
        assert contrast(blade, tokens.hand_tint) >= 3.0


@pytest.mark.parametrize("tokens", THEMES)
def test_lightness_falls_all_the_way_along_the_map(tokens):
    assert len(tokens.map) == 7
    against = QColor("#000000")
    ratios = [contrast(colour, against) for colour in tokens.map]
    assert ratios == sorted(ratios, reverse=True)


def test_contrast_of_black_on_white_is_twenty_one():
    # WCAG 2.1, definition of contrast ratio: 21 : 1 is the largest there is.
    assert contrast(QColor("#FFFFFF"), QColor("#000000")) == pytest.approx(21.0)
    assert contrast(QColor("#777777"), QColor("#FFFFFF")) == pytest.approx(4.48, abs=0.005)
