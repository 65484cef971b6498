"""The knob of the slag map under the hand and under the keys."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from tests.gui.map_chart import at, drag, fill, heard, shown_map
from tests.gui.maps import OTHER, sample_frame
from tests.gui.parts import image_of


@pytest.fixture
def chart(qtbot):
    return shown_map(qtbot)


@pytest.fixture
def filled(chart):
    fill(chart)
    QApplication.processEvents()
    return chart


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
