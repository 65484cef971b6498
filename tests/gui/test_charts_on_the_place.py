"""Map and fluidity in the middle of the Flux place: both seen at once, folded and put back, nothing cut."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import ExplainPanel
from fluxlab.gui.flux.place import FluxPlace
from tests.gui.reports import sample_report, sample_work

LIKED, LEAST = 200, 128


@pytest.fixture
def place(qtbot):
    place = FluxPlace(Bench(sample_work(), evaluate=sample_report))
    qtbot.addWidget(place)
    show(place, 1226, 724)
    return place


@pytest.fixture
def text_size():
    yield theme.set_text_size
    theme.set_text_size(100)


def show(place, width, height):
    place.resize(width, height)
    place.show()
    for _ in range(6):
        QApplication.processEvents()


def foot_of(place, chart):
    """How far the chart's foot stands above the foot of what is seen of its column [px]."""
    seen = place.middle.viewport()
    return seen.height() - (chart.mapTo(seen, QPoint(0, 0)).y() + chart.height())


def test_map_and_fluidity_are_seen_at_once_as_in_the_picture(place):
    assert foot_of(place, place.slag.map.chart) > place.slag.fluidity.chart.height()
    assert foot_of(place, place.slag.fluidity.chart) >= 0
    assert place.slag.fluidity.chart.height() >= LIKED


def test_where_height_is_short_fluidity_gives_way_first(place):
    tall = place.slag.map.chart.height()
    show(place, 1226, 670)
    assert place.slag.map.chart.height() == tall
    assert LEAST <= place.slag.fluidity.chart.height() < LIKED
    assert foot_of(place, place.slag.fluidity.chart) >= 0


def test_where_there_is_room_the_map_takes_it(place):
    tall = place.slag.map.chart.height()
    show(place, 1780, 1040)
    assert place.slag.map.chart.height() > tall + 100
    assert foot_of(place, place.slag.fluidity.chart) >= 0


@pytest.mark.parametrize("percent", [100, 115, 130])
@pytest.mark.parametrize(("width", "height"), [(1226, 724), (543, 340)])
def test_no_chart_is_lower_or_narrower_than_it_can_be(place, text_size, percent, width, height):
    text_size(percent)
    show(place, width, height)
    for part in (place.slag.map, place.slag.fluidity, place.slag.what_moves):
        assert part.width() >= part.minimumSizeHint().width(), part.fold
    for chart in (place.slag.map.chart, place.slag.fluidity.chart):
        assert chart.height() >= chart.minimumSizeHint().height()
    assert place.slag.fluidity.chart.height() >= theme.scaled(LEAST)


def test_the_parts_fold_and_the_axes_of_the_map_are_remembered(place, qtbot):
    place.slag.fluidity.set_folded(True)
    place.slag.map.wanted = "flux_to_ore flux:soda"
    left = place.left_at()
    other = FluxPlace(Bench(sample_work(), evaluate=sample_report))
    qtbot.addWidget(other)
    other.put_back(left)
    assert other.slag.fluidity.is_folded
    assert not other.slag.map.is_folded
    assert other.slag.map.wanted == "flux_to_ore flux:soda"


def test_f1_on_a_chart_explains_it(place):
    for chart, title in ((place.slag.map.chart, "Slag map"), (place.slag.fluidity.chart, "Fluidity")):
        assert place._explain(chart, QPoint(20, 20))
        panel = place.window().findChildren(ExplainPanel)[-1]
        assert panel.accessibleName() == title
        panel.shut()
        QApplication.sendPostedEvents(None, 52)


def test_tab_reaches_map_curve_and_their_tools(place):
    place.table.view.setFocus()
    wanted = {place.slag.map.chart, place.slag.map.axes_button, place.slag.fluidity.chart, place.slag.what_moves.moves}
    wanted = {part for part in wanted if part.isVisible()}
    for _ in range(120):
        focused = QApplication.focusWidget()
        wanted.discard(focused)
        if not wanted or focused is None:
            break
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    assert wanted == set()


def test_the_wheel_over_a_chart_scrolls_the_column_and_not_the_chart(place):
    chart = place.slag.map.chart
    chart.build()
    bar = place.middle.verticalScrollBar()
    if not bar.maximum():
        show(place, 1226, 500)
    axes = chart.plot.x_axis, chart.plot.y_axis
    before = bar.value()
    where = chart.mapTo(place.middle.viewport(), QPoint(60, 60))
    QTest.wheelEvent(
        place.window().windowHandle(), place.middle.viewport().mapTo(place.window(), where), QPoint(0, -240)
    )
    QApplication.processEvents()
    assert bar.value() > before
    assert (chart.plot.x_axis, chart.plot.y_axis) == axes
