"""What tests do with a slag map by hand: fill it, find a place on it, listen to it."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.gui.charts.slag_map import SlagMap
from tests.gui.maps import sample_frame, sample_rows


def fill(chart, limit=1.0, **given):
    chart.begin_field(limit)
    chart.take_rows(list(sample_rows(**given)))
    chart.end_field()


def at(chart, x, y):
    field = chart.field()
    return chart.at(QPointF(field.x(x), field.y(y))).toPoint()


def heard(chart):
    said = []
    chart.tried.connect(lambda x, y: said.append(("tried", x, y)))
    chart.moved.connect(lambda x, y: said.append(("moved", x, y)))
    chart.dropped.connect(lambda: said.append(("dropped",)))
    return said


def shown_map(qtbot):
    """The invented map, shown."""
    chart = SlagMap()
    qtbot.addWidget(chart)
    chart.resize(353, 320)
    chart.show_frame(sample_frame())
    chart.show()
    chart.build()
    QApplication.processEvents()
    return chart


def drag(chart, *points, release=True):
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=at(chart, *chart.here))
    for point in points:
        QTest.mouseMove(chart, at(chart, *point))
        QApplication.processEvents()
    if release:
        QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, *points[-1]))
