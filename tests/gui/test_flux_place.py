"""The Flux place as a whole: verdicts, mending, folding, help, and nothing cut at any size."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCursor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import ExplainPanel, explanation
from fluxlab.gui.flux.columns import Col
from fluxlab.gui.flux.place import FluxPlace
from fluxlab.gui.flux.solver_words import spoken
from fluxlab.gui.flux.story import Story
from fluxlab.gui.flux.verdicts import VerdictStrip
from fluxlab.gui.main_window import MainWindow
from tests.gui.reports import sample_report, sample_work


@pytest.fixture
def bench():
    return Bench(sample_work(), evaluate=sample_report)


@pytest.fixture
def place(bench, qtbot):
    place = FluxPlace(bench)
    qtbot.addWidget(place)
    place.resize(1226, 724)
    place.show()
    QApplication.processEvents()
    return place


@pytest.fixture
def text_size():
    yield theme.set_text_size
    theme.set_text_size(100)


def test_each_answer_is_word_figure_and_reason(place):
    cells = place.strip.cells
    assert [cell.accessibleName() for cell in cells] == [
        "Will it melt and pour? By ratio, degree 1.42",
        "Will it fit? No, 71 % full",
        "Will the metal come down? Not known, at most 1 g",
        "Is it safe? Close, 39 L of gas",
        "How sure are we? Not known",
    ]
    assert cells[1].accessibleDescription() == "loose charge over two-thirds of the pot"


def test_only_an_answer_with_a_mend_has_a_button_and_it_mends_with_one_click(bench, place):
    shown = [not cell.button.isHidden() for cell in place.strip.cells]
    assert shown == [False, True, False, False, False]
    place.strip.cells[1].button.click()
    assert bench.work.recipe.feeds == 2
    assert bench.document.undo_label == "Feed in 2 parts"


def test_a_click_on_an_answer_tells_the_whole_story(place):
    QTest.mouseClick(place.strip.cells[1], Qt.MouseButton.LeftButton)
    story = place.window().findChild(Story)
    spoken_words = " ".join(child.accessibleName() for child in story.findChildren(QWidget))
    assert "Loose charge in the pot" in spoken_words
    assert "at most 66.7" in spoken_words


def test_an_answer_that_stays_the_same_is_not_drawn_again(bench, place):
    strip = place.strip
    assert strip.refresh(bench.report.verdicts) is False
    assert not any(cell.show_verdict(v) for cell, v in zip(strip.cells, bench.report.verdicts, strict=True))


@pytest.mark.parametrize(("width", "across"), [(1226, 5), (860, 5), (543, 3), (300, 1)])
def test_the_strip_breaks_into_rows_where_the_page_is_narrow(qtbot, width, across):
    strip = VerdictStrip()
    qtbot.addWidget(strip)
    assert strip.columns(width) == across


def test_a_long_reason_makes_the_strip_taller_instead_of_being_cut(bench, place):
    from dataclasses import replace

    before = place.strip.height()
    long = "so many words that they cannot stand on three lines of a cell, whatever is tried, " * 3
    verdicts = bench.report.verdicts
    assert place.strip.refresh((replace(verdicts[0], reason=long), *verdicts[1:]))
    place.lay_out()
    assert place.strip.height() > before


def test_what_gave_way_is_said_first_and_the_recipe_without_the_wish_after(bench):
    said = spoken(bench.report)
    assert said[0] == ("close", "Flux to ore 0.94, wished at least 1.0.")
    assert any(words.startswith("Without the wish for flux to ore: 427.5 g") for _, words in said)
    assert any("a limit, no advice" in words for _, words in said)


def test_the_degree_that_the_target_means_is_the_marked_one(bench, place):
    figures = place.slag.degrees.figures
    assert [(f.name, f.meant) for f in figures] == [("S", False), ("SB", True), ("SBA", False), ("SBA", False)]
    assert [f.figure for f in figures] == ["1.21", "1.42", "1.36", "1.48"]


def test_limits_of_targets_stand_on_the_rails_of_their_oxides(place):
    specs = {name: spec for name, _, spec in place.slag.oxides.rows}
    assert specs["FeO"].band_hi == 40.0
    assert specs["Al2O3"].hi_kind == "wish"
    assert specs["SiO2"].band_hi is None


def test_the_ferric_share_is_typed_on_the_recipe(bench, place):
    place.slag.ferric.decided.emit(20.0)
    assert bench.work.recipe.ferric_share == pytest.approx(0.2)
    place.slag.ferric.decided.emit(None)
    assert bench.work.recipe.ferric_share is None


def test_the_pour_is_typed_on_the_recipe(bench, place):
    place.slag.plan.pour.decided.emit(1180.0)
    place.slag.plan.preheat.decided.emit(250.0)
    place.slag.plan._set_feeds("in 3 parts")
    place.slag.plan._set_dry("confirmed dry")
    recipe = bench.work.recipe
    assert (recipe.pour_temperature, recipe.mould_preheat, recipe.feeds, recipe.dry) == (1180.0, 250.0, 3, True)


def test_parts_fold_and_stay_as_they_were_left(bench, place, qtbot):
    place.targets._title.turned.emit()
    assert place.targets.is_folded
    assert not place.targets.view.isVisible()
    place.table._show(Col.COST, True)
    left = place.left_at()
    other = FluxPlace(bench)
    qtbot.addWidget(other)
    other.put_back(left)
    assert other.targets.is_folded
    assert Col.COST in other.table.view.shown_columns()
    assert not other.table.is_folded


def test_own_figures_stay_folded_at_the_first_start(bench, qtbot):
    place = FluxPlace(bench)
    qtbot.addWidget(place)
    place.put_back({})
    assert place.slag.own_pot.is_folded
    assert place.slag.own_crystals.is_folded
    assert not place.slag.pot.is_folded
    assert not place.table.is_folded


@pytest.mark.parametrize("unfold_before", [False, True])
def test_a_part_that_was_folded_away_shows_the_present_recipe_when_unfolded(bench, place, unfold_before):
    book = next(part for part in place.slag.parts if part.fold == "slag")
    shown = place.slag.ferric.value
    assert shown is None
    book.set_folded(True)
    if unfold_before:
        book.set_folded(False)
    bench.do("set_ferric_share", 0.25)
    QApplication.processEvents()
    if not unfold_before:
        assert place.slag.ferric.value is None
        book.set_folded(False)
    assert place.slag.ferric.value == pytest.approx(25.0)


KEYS = (
    "degree", "borate", "cap:ZnO", "cap:CuO of the future", "fluorspar", "cover", "parts", "flux_to_ore", "basicity",
    "column:what", "column:grams", "column:lock", "column:share", "column:rail", "column:cost", "column:loose",
    "column:stock", "slag", "basicity_mass", "basicity_mole", "optical", "nbo", "oxides", "pour", "charge",
    "verdict:melt", "verdict:fit", "verdict:metal", "verdict:safe", "verdict:sure",
)  # fmt: skip


@pytest.mark.parametrize("key", KEYS)
def test_everything_on_the_place_has_an_explanation(key):
    text = explanation(key)
    assert text is not None
    assert text.title
    assert len(text.about) > 20


@pytest.mark.parametrize("key", ["degree", "borate", "basicity_mass", "optical", "nbo", "cap:ZnO", "flux_to_ore"])
def test_an_index_is_explained_with_formula_and_source(key):
    text = explanation(key)
    assert text.formula
    assert text.source


def test_f1_explains_the_column_of_the_chosen_cell(place):
    QCursor.setPos(9000, 9000)
    place.table.view.setFocus()
    place.table.view.setCurrentIndex(place.table.model.index(0, Col.SHARE))
    QTest.keyClick(place.table.view, Qt.Key.Key_F1)
    panel = place.window().findChild(ExplainPanel)
    assert panel.accessibleName() == "Share of the flux"


def test_f1_on_a_target_explains_it(place):
    view = place.targets.view
    assert view.key_at(view.visualRect(place.targets.model.index_of("cover")).center()) == "cover"
    assert place._explain(view.viewport(), QPoint(5, 5))
    assert place.window().findChild(ExplainPanel).accessibleName() == "Silicate degree"


def test_everything_that_takes_the_focus_has_a_name(place):
    nameless = [
        type(child).__name__
        for child in place.findChildren(QWidget)
        if child.focusPolicy() & Qt.FocusPolicy.TabFocus
        and child.isVisible()
        and not child.accessibleName()
        and not (isinstance(child, QAbstractButton) and child.text())
    ]
    assert nameless == []


def test_every_part_can_be_reached_with_tab(place):
    place.strip.cells[0].setFocus()
    reached = set()
    for _ in range(120):
        focused = QApplication.focusWidget()
        if focused is None:
            break
        reached.add(focused)
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    wanted = [*place.strip.cells, place.table.view, place.table.charge, place.targets.view, place.targets.route]
    wanted += [place.slag.ferric, place.slag.plan.pour, place.vessels.pot_choice]
    assert [type(part).__name__ for part in wanted if part not in reached] == []


@pytest.mark.parametrize("percent", [100, 115, 130])
@pytest.mark.parametrize(("width", "height"), [(1226, 724), (1780, 1000), (543, 340)])
def test_nothing_runs_over_its_neighbour_or_out_of_the_page(place, text_size, percent, width, height):
    text_size(percent)
    place.resize(width, height)
    for _ in range(5):
        QApplication.processEvents()
    for part in (place.table, place.targets):
        assert part.width() >= part.minimumSizeHint().width()
    view = place.table.view
    assert sum(view.columnWidth(col) for col in view.shown_columns()) <= view.width() + 1
    sheet = place.left.sheet
    assert place.table.geometry().bottom() < place.targets.geometry().top()
    assert sheet.height() >= place.targets.geometry().bottom()
    for section in (place.table, place.targets):
        shown = [
            child
            for child in section.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
            if child.isVisible() and child is not section._holder
        ]
        for one in shown:
            for other in shown:
                assert one is other or not one.geometry().intersects(other.geometry())


def test_both_themes_paint_the_window(bench, qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.resize(1366, 768)
    window.lay_bench(bench)
    window.show()
    slag = window.places["Flux"].slag
    qtbot.waitUntil(lambda: slag.fluidity.chart.plot is not None and slag.map.chart.plot is not None, timeout=5000)
    qtbot.waitUntil(lambda: slag.map.settled, timeout=5000)
    pictures = {}
    try:
        for mode in ("light", "dark", "light"):
            theme.set_mode(mode)
            QApplication.processEvents()
            picture = window.grab().toImage()
            assert picture.pixelColor(1364, 766) == theme.tokens().sheet
            assert picture.pixelColor(60, 600) == theme.tokens().tray
            assert pictures.setdefault(mode, picture) == picture
    finally:
        theme.set_mode("system")
    assert pictures["light"] != pictures["dark"]
