"""The files that the slag map saves."""

import csv
import io
from math import isfinite, log10

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QApplication, QFileDialog

from fluxlab.gui import theme
from fluxlab.gui.charts import saving
from fluxlab.gui.tokens import LIGHT
from tests.gui.map_chart import at, fill, shown_map
from tests.gui.maps import log_viscosity, sample_rows


@pytest.fixture
def chart(qtbot):
    return shown_map(qtbot)


@pytest.fixture
def filled(chart):
    fill(chart)
    QApplication.processEvents()
    return chart


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
