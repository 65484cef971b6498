"""What moves it: signed bars, the melt in figures, and crystals in words."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.melt_figures import rows_of
from fluxlab.gui.charts.moves import bars_of, signed, thinner
from fluxlab.gui.charts.moves_part import WhatMovesIt
from fluxlab.gui.explain import explanation
from fluxlab.gui.tokens import DARK, LIGHT, contrast
from tests.gui.fluids import MOVES, sample_fluid, unknown_fluid
from tests.gui.reports import sample_report, sample_work


@pytest.fixture
def part(qtbot):
    part = WhatMovesIt(Bench(sample_work(), evaluate=sample_report))
    qtbot.addWidget(part)
    part.resize(353, 700)
    part.show_fluid(sample_fluid())
    part.show()
    QApplication.processEvents()
    return part


@pytest.fixture
def text_size():
    yield theme.set_text_size
    theme.set_text_size(100)


def test_a_change_has_a_sign_and_a_zero_none():
    assert [signed(v, 3) for v in (0.0214, -0.0214, 0.0, -0.0001)] == ["+0.021", "−0.021", "0.000", "0.000"]


def test_the_heat_in_the_slag_is_explained_by_its_own_name_and_told_from_that_of_the_furnace():
    (row,) = [row for row in rows_of(sample_fluid()) if row.key == "fluid:heat"]
    told = explanation(row.key)
    assert row.name == told.title == "Heat in the slag"
    assert "furnace heat" in told.about


def test_a_change_of_the_logarithm_is_told_in_per_cent():
    # a factor of two is log10 2 = 0.30103
    assert thinner(0.30103) == "+100.0 %"
    assert thinner(-0.30103) == "−50.0 %"


def test_the_longest_bar_of_each_column_fills_its_half_and_the_others_go_by_it():
    bars = bars_of(MOVES)
    for column, values in enumerate(zip(*((m.degree, m.basicity, m.viscosity) for m in MOVES), strict=True)):
        shares = [row[column].share for row in bars if row[column] is not None]
        known = [v for v in values if v is not None]
        assert max(map(abs, shares)) == pytest.approx(1.0)
        assert shares == pytest.approx([v / max(map(abs, known)) for v in known])


def test_what_is_not_known_has_no_bar():
    assert bars_of(MOVES)[3] == (None, None, None)


def test_the_bars_point_the_way_the_slag_moves(part):
    image = part.moves.grab().toImage()
    bar = theme.tokens().ink2.rgb()
    name, head, row = theme.scaled(106), theme.scaled(22 + 24), theme.scaled(20)
    step = (part.moves.width() - name) / 3
    middle = round(name + 2 + (step - theme.scaled(50)) / 2)
    y = head + 2 * row + row // 2  # silica sand: degree up
    right = sum(image.pixel(x, y) == bar for x in range(middle + 2, middle + 15))
    left = sum(image.pixel(x, y) == bar for x in range(middle - 18, middle - 1))
    assert right > 8
    assert left == 0
    y = head + row + row // 2  # soda ash: degree down
    assert sum(image.pixel(x, y) == bar for x in range(middle - 18, middle - 1)) > 5


def test_all_is_said_in_words(part):
    words = part.moves.accessibleName()
    assert "Silica sand: degree +0.046, basicity −0.020, viscosity +12.7 %" in words
    assert "Charcoal" not in words
    assert "Leaves the pot from 985 °C, likely 945 – 1025" in part.figures.accessibleName()


def test_temperatures_stand_on_one_scale_with_the_pour_as_their_limit():
    rails = [row.rail for row in rows_of(sample_fluid(melt_free=1180.0)) if row.rail is not None]
    assert len({(rail.lo, rail.hi) for rail in rails}) == 1
    assert {rail.band_hi for rail in rails} == {1150.0}
    assert [rail.broken() for rail in rails] == [None, None, None, "wish"]


def test_what_is_not_known_has_no_row():
    assert rows_of(unknown_fluid()) == ()
    assert rows_of(None) == ()


def test_a_crystal_without_measurements_is_called_a_judgement(part):
    spinel, quartz = part.crystals.words.split("\n")
    assert "judgement" not in spinel.lower()
    assert spinel.startswith("Spinel likely below some temperature between 1040 and 1120 °C: grains that hold up")
    assert spinel.endswith("From invented for a test.")
    assert "A judgement" in quartz


def test_without_a_melt_one_sentence_stands_alone(part):
    part.show_fluid(unknown_fluid())
    QApplication.processEvents()
    assert part.none.words == "The slag holds no silica, so no viscosity can be told. Add silica."
    assert not part.moves.isVisible()
    assert not part.figures.isVisible()
    assert not part.crystals.isVisible()


def test_the_changes_are_copied_as_figures_of_the_logarithm(part):
    QTest.keyClick(part.moves, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    rows = [line.split("\t") for line in QGuiApplication.clipboard().text().splitlines()]
    assert rows[0][-1] == "log10 viscosity"
    assert rows[3][0] == "Silica sand"
    assert float(rows[3][4]) == 0.052
    assert rows[4][2:] == ["", "", ""]


@pytest.mark.parametrize("percent", [100, 130])
def test_nothing_is_cut_at_any_text_size(part, text_size, percent):
    text_size(percent)
    QApplication.processEvents()
    part.resize(theme.scaled(353), theme.scaled(760))
    QApplication.processEvents()
    for widget in (part.moves, part.figures, part.crystals):
        assert widget.height() >= widget.minimumSizeHint().height()
        assert widget.geometry().right() <= part.width()
    name = theme.scaled(106)
    for move in MOVES:
        assert theme.metrics(12).horizontalAdvance(move.name) <= name


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_bars_and_their_middle_can_be_seen(tokens):
    assert contrast(tokens.ink2, tokens.sheet) >= 4.5
    assert contrast(tokens.edge, tokens.sheet) >= 3.0


def test_f1_explains_the_row_under_the_cursor(part):
    keys = [part.figures.key_at(QPoint(4, k * theme.scaled(36) + 5)) for k in range(7)]
    assert keys[0] == "fluid:leaves_pot"
    assert keys[-1] == "fluid:heat"
    for key in (*keys, part.moves.key_at(QPoint(1, 1)), part.crystals.key_at(QPoint(1, 1))):
        text = explanation(key)
        assert text is not None, key
        assert len(text.about) > 20
