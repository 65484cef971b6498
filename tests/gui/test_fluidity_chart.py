"""The fluidity chart: what it says, the pour line under the hand, and the files it saves."""

import csv
import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts import saving
from fluxlab.gui.charts.fluid_spots import box_of, grip_box, melted_spots, opinion_spots, taken_boxes
from fluxlab.gui.charts.fluid_words import Saved, at_temperature, thick
from fluxlab.gui.charts.fluidity import FluidityChart
from fluxlab.gui.charts.fluidity_part import Fluidity
from fluxlab.gui.charts.scale import Field, even_axis, log_axis
from fluxlab.gui.explain import explanation
from fluxlab.gui.tokens import DARK, LIGHT, contrast
from tests.gui.fluids import TEMPERATURES, doubted_fluid, sample_fluid, unknown_fluid, viscosity
from tests.gui.parts import image_of
from tests.gui.reports import sample_report, sample_work

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def chart(qtbot):
    chart = FluidityChart()
    qtbot.addWidget(chart)
    chart.resize(353, 210)
    chart.show_fluid(sample_fluid())
    chart.show()
    chart.build()
    QApplication.processEvents()
    return chart


def at(chart, celsius, value):
    """A point of the chart in its own px."""
    field = chart.field()
    return chart.at(QPointF(field.x(celsius), field.y(value))).toPoint()


def drag(chart, *temperatures, release=True, height=5.0):
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=at(chart, chart.fluid.pour, height))
    for celsius in temperatures:
        QTest.mouseMove(chart, at(chart, celsius, height))
        QApplication.processEvents()
    if release:
        QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, temperatures[-1], height))


def test_the_figures_are_told_in_words(chart):
    assert chart.accessibleName() == (
        "Fluidity: 0.63 Pa·s at 1150 °C, likely 0.30 to 1.3; limit 1.0 Pa·s kept; kept with a chance of 86 %; "
        "all melted from 1060 °C"
    )


def test_a_melt_thinner_than_was_ever_measured_is_only_said_to_be_below_the_floor(chart):
    chart.show_fluid(sample_fluid(at_1150=0.07))
    assert "< 0.1 Pa·s at 1150 °C" in chart.accessibleName()


def test_where_two_equations_differ_the_confidence_is_said_to_be_low(chart):
    chart.show_fluid(doubted_fluid())
    assert "low confidence" in chart.accessibleName()


@pytest.mark.parametrize("melt_free", [960.0, 1000.0, 1060.0, 1120.0, 1250.0])
@pytest.mark.parametrize("at_1150", [0.15, 0.63, 1.4, 6.0])
@pytest.mark.parametrize("size", [(353, 210), (353, 160), (620, 320)])
@pytest.mark.parametrize("percent", [theme.TEXT_SIZES[0], theme.TEXT_SIZES[-1]])
def test_no_words_lie_on_others_where_two_equations_differ(chart, melt_free, at_1150, size, percent, request):
    request.addfinalizer(lambda: theme.set_text_size(100))
    theme.set_text_size(percent)
    chart.resize(*size)
    chart.show_fluid(doubted_fluid(at_1150=at_1150, melt_free=melt_free))
    QApplication.processEvents()
    field, fluid = chart.field(), chart.fluid
    named = [box_of(spot) for spot in opinion_spots(field, fluid)]
    assert len(named) == 2
    assert not named[0].intersects(named[1])
    assert all(box.left() >= 0 and box.right() <= field.width for box in named)
    roomy = size[1] > 200 and percent == theme.TEXT_SIZES[0]
    taken = list(taken_boxes(field, fluid))
    assert not (roomy and any(box.intersects(each) for box in named for each in taken))
    for spot in melted_spots(field, fluid) or ():
        seen = at_temperature(fluid, melt_free)
        ring = QRectF(field.x(melt_free) - 5, field.y(seen.value) - 5, 10, 10)
        assert not box_of(spot).intersects(ring)


def test_the_end_of_a_range_is_never_told_as_nothing():
    assert [thick(value) for value in (0.0029, 0.0004, 0.0097, 0.06)] == ["0.003", "< 0.001", "0.01", "0.06"]


def test_low_confidence_speaks_of_two_equations_only_where_there_are_two(chart):
    chart.show_fluid(replace(sample_fluid(), confidence="low"))
    assert chart.accessibleName().endswith("low confidence")


def test_without_a_figure_the_axes_stand_empty_with_one_sentence(chart):
    chart.show_fluid(unknown_fluid())
    assert chart.accessibleName() == "Fluidity: The slag holds no silica, so no viscosity can be told. Add silica."
    empty = image_of(chart)
    heat = theme.tokens().heat.rgb()
    assert not any(
        empty.pixelColor(x, y).rgb() == heat for x in range(0, empty.width(), 2) for y in range(0, empty.height(), 2)
    )
    assert chart.axes()[1].ticks[0][1] == "0.1"


@pytest.mark.parametrize(
    ("value", "words"), [(0.063, "0.06"), (0.63, "0.63"), (1.44, "1.4"), (14.2, "14"), (143.0, "140")]
)
def test_a_viscosity_is_shown_in_about_two_figures(value, words):
    assert thick(value) == words


def test_log_ticks_are_plain_numbers_of_one_and_three():
    assert [words for _, words in log_axis(0.1, 30.0).ticks] == ["0.1", "0.3", "1", "3", "10", "30"]
    assert [words for _, words in log_axis(0.05, 100.0).ticks] == ["0.03", "0.1", "0.3", "1", "3", "10", "30", "100"]


def test_an_even_axis_has_round_ticks_inside_its_ends():
    axis = even_axis(950.0, 1300.0)
    assert [words for _, words in axis.ticks] == ["950", "1000", "1050", "1100", "1150", "1200", "1250", "1300"]


def test_the_viscosity_between_two_points_of_the_curve_lies_on_its_logarithm():
    fluid = sample_fluid()
    assert at_temperature(fluid, 1154.0).value == pytest.approx(viscosity(1154.0), rel=1e-3)
    assert at_temperature(fluid, 500.0) is None


def test_the_line_is_drawn_where_the_viscosity_is(chart):
    image = image_of(chart)
    heat = theme.tokens().heat
    for celsius in (1250.0, 1280.0):
        spot = at(chart, celsius, viscosity(celsius))
        near = [image.pixelColor(spot.x(), spot.y() + d) for d in range(-2, 3)]
        assert any(abs(c.hue() - heat.hue()) < 12 and c.lightness() < 110 for c in near), celsius


def test_the_grip_is_violet_and_stands_on_the_pour(chart):
    image = image_of(chart)
    box = grip_box(chart.field(), chart.fluid).translated(chart.at(QPointF(0, 0)))
    assert image.pixelColor(box.topLeft().toPoint() + QPoint(2, 1)) == theme.tokens().hand
    assert abs(box.center().x() - at(chart, 1150.0, 1.0).x()) <= 1.5


def test_a_drag_follows_the_hand_in_steps_of_five_and_ends_once(chart):
    tried, poured = [], []
    chart.tried.connect(tried.append)
    chart.poured.connect(poured.append)
    drag(chart, 1160.0, 1171.0, 1182.0, 1183.0)
    assert tried == [1160.0, 1170.0, 1180.0, 1185.0] or tried == [1160.0, 1170.0, 1180.0]
    assert poured == [tried[-1]]


def test_the_grip_itself_takes_the_hand(chart):
    poured = []
    chart.poured.connect(poured.append)
    box = grip_box(chart.field(), chart.fluid).translated(chart.at(QPointF(0, 0)))
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=box.center().toPoint())
    QTest.mouseMove(chart, at(chart, 1200.0, 20.0))
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1200.0, 20.0))
    assert poured == [1200.0]


def test_a_click_on_the_line_and_one_far_from_it_change_nothing(chart):
    said = []
    for signal in (chart.tried, chart.poured):
        signal.connect(said.append)
    QTest.mouseClick(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1150.0, 5.0))
    drag_from = at(chart, 1000.0, 5.0)
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=drag_from)
    QTest.mouseMove(chart, at(chart, 1200.0, 5.0))
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1200.0, 5.0))
    assert said == []


def test_the_line_stops_at_the_ends_of_the_axis(chart):
    poured = []
    chart.poured.connect(poured.append)
    drag(chart, 1290.0, 1500.0)
    assert poured == [1300.0]


def test_escape_gives_the_drag_up(chart):
    poured, dropped = [], []
    chart.poured.connect(poured.append)
    chart.dropped.connect(lambda: dropped.append(True))
    drag(chart, 1200.0, release=False)
    QTest.keyClick(chart, Qt.Key.Key_Escape)
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1200.0, 5.0))
    assert dropped == [True]
    assert poured == []


def test_the_axes_stay_while_the_line_is_dragged(chart):
    axes = chart.axes()
    drag(chart, 1200.0, release=False)
    chart.show_fluid(sample_fluid(pour=1200.0, at_1150=30.0))
    assert chart.axes() == axes
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=at(chart, 1200.0, 5.0))
    assert chart.axes() != axes


@pytest.mark.parametrize(
    ("pour", "key", "wanted"),
    [
        (1150.0, Qt.Key.Key_Right, 1155.0),
        (1150.0, Qt.Key.Key_Left, 1145.0),
        (1152.0, Qt.Key.Key_Right, 1155.0),
        (1152.0, Qt.Key.Key_Left, 1150.0),
        (1600.0, Qt.Key.Key_Right, 1600.0),
    ],
)
def test_arrow_keys_move_the_pour_by_five_degrees(chart, pour, key, wanted):
    poured = []
    chart.poured.connect(poured.append)
    chart.show_fluid(sample_fluid(pour=pour))
    QTest.keyClick(chart, key)
    assert poured == [wanted]


def test_the_saved_revision_stands_beside_the_present_one(chart):
    before = image_of(chart)
    chart.show_fluid(sample_fluid(), Saved("revision 7", 1120.0, 2.5))
    after = image_of(chart)
    spot = at(chart, 1120.0, 2.5)
    changed = [
        (x, y) for x in range(spot.x() - 8, spot.x() + 9) for y in range(spot.y() - 8, spot.y() + 9)
        if before.pixel(x, y) != after.pixel(x, y)
    ]  # fmt: skip
    assert len(changed) > 20
    assert "revision 7 stands beside it" in chart.accessibleName()


def test_the_colours_follow_the_theme(chart, dressed):
    dressed("dark")
    dark = image_of(chart)
    assert dark.pixelColor(dark.width() - 3, 2) == DARK.sheet
    dressed("light")
    assert image_of(chart).pixelColor(dark.width() - 3, 2) == LIGHT.sheet


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_line_limit_and_blade_stand_out_from_both_bands(tokens):
    def over(colour, share, ground):
        return QColor(
            *(round(share * c + (1 - share) * g) for c, g in zip(colour.getRgb(), ground.getRgb(), strict=True))
        )

    light = over(tokens.heat, 0.18, tokens.sheet)
    dark = over(tokens.heat, 0.2, light)
    for ground in (light, dark):
        assert contrast(tokens.heat, ground) >= 3.0
        assert contrast(tokens.ink, ground) >= 4.5
        assert contrast(tokens.hand, ground) >= 3.0
    assert contrast(tokens.onhand, tokens.hand) >= 4.5
    assert contrast(tokens.ink2, tokens.tray) >= 4.5


def answer(monkeypatch, path):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_a, **_k: (str(path), ""))


def menu_entry(chart, words):
    return next(action for action in chart.menu().actions() if action.text() == words)


def test_the_svg_is_a_drawing_that_renders_with_its_words_as_text(chart, monkeypatch, tmp_path):
    path = tmp_path / "curve.svg"
    answer(monkeypatch, path)
    menu_entry(chart, "Save as SVG…").trigger()
    words = path.read_text(encoding="utf-8")
    for part in ("<title>Fluidity</title>", ">pour 1150 °C<", ">0.63 Pa·s<", ">limit 1.0<", ">1060 °C<", ">30<"):
        assert part in words, part
    drawing = QSvgRenderer(str(path))
    assert drawing.isValid()
    size = chart.picture_size()
    image = QImage(size, QImage.Format.Format_RGB32)
    image.fill(QColor("#00ff00"))
    painter = QPainter(image)
    drawing.render(painter)
    painter.end()
    assert image.pixelColor(size.width() - 3, size.height() - 3) == LIGHT.sheet
    colours = {image.pixelColor(x, y).rgb() for x in range(size.width()) for y in range(size.height())}
    assert LIGHT.hand.rgb() in colours
    assert LIGHT.ink.rgb() in colours


def test_the_png_is_three_times_as_fine_as_the_screen(chart, monkeypatch, tmp_path):
    path = tmp_path / "curve.png"
    answer(monkeypatch, path)
    menu_entry(chart, "Save as PNG…").trigger()
    image = QImage(str(path))
    assert image.size() == chart.picture_size() * saving.PIXELS
    assert any(image.pixelColor(x, 150) == LIGHT.hand for x in range(image.width()))


def test_the_csv_holds_the_curve_with_its_bands(chart, monkeypatch, tmp_path):
    path = tmp_path / "curve.csv"
    answer(monkeypatch, path)
    menu_entry(chart, "Save as CSV…").trigger()
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    assert rows[0] == ["°C", "Pa·s", "1 in 2 from", "1 in 2 to", "9 in 10 from", "9 in 10 to"]
    assert [float(row[0]) for row in rows[1:]] == list(TEMPERATURES)
    for row, celsius in zip(rows[1:], TEMPERATURES, strict=True):
        value, low50, high50, low90, high90 = map(float, row[1:])
        assert value == pytest.approx(viscosity(celsius), abs=6e-5)
        assert low90 < low50 < value < high50 < high90


def test_the_csv_follows_the_decimal_comma_and_tells_each_opinion(chart, decimal_comma, monkeypatch, tmp_path):
    path = tmp_path / "curve.csv"
    answer(monkeypatch, path)
    chart.show_fluid(doubted_fluid())
    menu_entry(chart, "Save as CSV…").trigger()
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    assert rows[0][6:] == ["own equation, Pa·s", "Riboud, Pa·s"]
    assert {len(row) for row in rows} == {8}
    assert float(rows[1][7].replace(",", ".")) == pytest.approx(viscosity(950.0, 0.4), abs=6e-5)
    assert "." not in "".join(rows[1])


@pytest.mark.parametrize("form", ["svg", "png"])
def test_a_folder_that_is_not_there_is_one_sentence(chart, form, monkeypatch, tmp_path):
    from fluxlab.gui.widgets.whisper import Whisper

    answer(monkeypatch, tmp_path / "nowhere" / f"x.{form}")
    saving.save_picture(chart, form)
    assert chart.findChild(Whisper).sentence == saving.NOT_WRITTEN


def test_nothing_is_written_when_no_place_is_chosen(chart, monkeypatch, tmp_path):
    answer(monkeypatch, "")
    saving.save_picture(chart, "png")
    assert list(tmp_path.iterdir()) == []


def test_the_figures_are_copied_by_key(chart):
    QTest.keyClick(chart, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:2] == ["°C", "Pa·s"]
    assert len(lines) == len(TEMPERATURES) + 1


def test_the_plot_is_made_only_after_the_chart_was_painted(qtbot):
    chart = FluidityChart()
    qtbot.addWidget(chart)
    chart.resize(353, 210)
    chart.show_fluid(sample_fluid())
    assert chart.plot is None
    chart.show()
    qtbot.waitUntil(lambda: chart.plot is not None, timeout=3000)


def test_pyqtgraph_comes_with_the_first_plot_and_not_before():
    code = (
        "import sys\n"
        "from PySide6.QtWidgets import QApplication\n"
        "app = QApplication(['x', '-style', 'Fusion'])\n"
        "import fluxlab.gui.flux.place\n"
        "from fluxlab.gui.charts.fluidity import FluidityChart\n"
        "chart = FluidityChart()\n"
        "chart.show(); app.processEvents()\n"
        "before = sorted(n for n in sys.modules if n in ('pyqtgraph', 'numpy', 'scipy'))\n"
        "chart.build()\n"
        "print(before, 'pyqtgraph' in sys.modules)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=False
    )
    assert told.returncode == 0, told.stderr
    assert told.stdout.strip() == "[] True"


@pytest.mark.parametrize("percent", [100, 115, 130])
def test_every_label_of_the_left_axis_has_room(chart, dressed, percent):
    theme.set_text_size(percent)
    QApplication.processEvents()
    room = chart.plot.origin().x()
    widest = max(theme.metrics(12).horizontalAdvance(words) for _, words in chart.axes()[1].ticks)
    assert room >= widest + 5 + 3


def test_f1_explains_the_chart_with_formula_and_source(chart):
    text = explanation(chart.key_at(QPoint(5, 5)))
    assert text.formula
    assert text.source


# -- on the bench -----------------------------------------------------------------------------------------------------


def with_fluid(work):
    pour = work.recipe.pour_temperature
    return replace(sample_report(work), fluid=sample_fluid(pour=pour, at_1150=0.63 + work.recipe.hold / 100))


@pytest.fixture
def bench():
    work = sample_work()
    return Bench(work, evaluate=with_fluid, saved=work, revision=7)


@pytest.fixture
def part(bench, qtbot):
    part = Fluidity(bench)
    qtbot.addWidget(part)
    bench.changed.connect(part.refresh)
    part.resize(353, 240)
    part.refresh()
    part.show()
    part.chart.build()
    QApplication.processEvents()
    return part


def test_a_drag_of_the_pour_line_is_one_undo_step_and_the_report_follows_live(bench, part):
    before = bench.work
    drag(part.chart, 1180.0, 1200.0, release=False)
    QApplication.processEvents()
    assert bench.report.fluid.pour == 1200.0
    assert part.chart.fluid.pour == 1200.0
    assert bench.document.undo_label is None
    QTest.mouseRelease(part.chart, Qt.MouseButton.LeftButton, pos=at(part.chart, 1200.0, 5.0))
    assert bench.work.recipe.pour_temperature == 1200.0
    assert bench.document.undo_label == "Pour at 1200 °C"
    bench.undo()
    assert bench.work is before
    assert bench.document.undo_label is None


def test_a_drag_given_up_leaves_no_trace(bench, part):
    before = bench.work
    drag(part.chart, 1200.0, release=False)
    QTest.keyClick(part.chart, Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert bench.work is before
    assert part.chart.fluid.pour == 1150.0


def test_the_saved_revision_appears_when_the_work_differs_and_goes_when_it_is_saved(bench, part, qtbot):
    assert part.chart.saved is None
    bench.do("set_hold", 60.0)
    qtbot.waitUntil(lambda: part.chart.saved is not None, timeout=2000)
    assert part.chart.saved.words == "revision 7"
    assert part.chart.saved.pour == 1150.0
    assert part.chart.saved.value == pytest.approx(0.73)
    bench.document.mark_saved()
    part.refresh()
    assert part.chart.saved is None


def test_the_note_tells_of_low_confidence(qtbot):
    bench = Bench(sample_work(), evaluate=lambda work: replace(sample_report(work), fluid=doubted_fluid()))
    part = Fluidity(bench)
    qtbot.addWidget(part)
    part.refresh()
    assert "low confidence" in part.chart.note


def test_a_report_without_a_melt_leaves_the_axes_empty(qtbot):
    part = Fluidity(Bench(sample_work(), evaluate=sample_report))
    qtbot.addWidget(part)
    part.refresh()
    assert part.chart.fluid is None
    assert "Not known" in part.chart.accessibleName()


def test_many_places_stand_where_each_alone_stands():
    field = Field(even_axis(900.0, 1300.0), log_axis(0.1, 30.0), 320.0, 180.0)
    places = [(900.0, 0.1), (1050.0, 0.0), (1400.0, 77.0)]
    assert field.points(places) == [(field.x(t), field.y(v)) for t, v in places]
    assert field.points([]) == []
