"""The Ore place on the demo ore with the real report and a library in memory."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QApplication, QLineEdit, QWidget

from fluxlab.design import edits
from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work, new_recipe
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import ExplainPanel
from fluxlab.gui.main_window import MainWindow
from fluxlab.gui.ore.name_panel import NamePanel
from fluxlab.gui.ore.new_ore import NewOrePanel
from fluxlab.gui.ore.place import OrePlace
from fluxlab.gui.tables.explaining import explain_here
from fluxlab.gui.tables.pick_list import PickList
from fluxlab.gui.widgets.whisper import Whisper
from fluxlab.ore.demo import demo_ores
from fluxlab.ore.ore_types import Grade, Share
from fluxlab.store.library import Library
from tests.gui.parts import page_in_window, settle


@pytest.fixture(scope="module")
def demo() -> Work:
    return demo_work()


@pytest.fixture
def library(demo):
    library = Library.in_memory()
    library.save_shelf(demo.shelf)
    for ore in demo_ores():
        library.save_ore(ore)
        library.save_revision(Work(new_recipe(ore, demo.shelf, name=f"First of {ore.name}"), demo.shelf))
    yield library
    library.close()


@pytest.fixture
def bench(demo, library):
    return Bench(demo, library=library)


@pytest.fixture
def place(bench, qtbot):
    with page_in_window(qtbot, bench, OrePlace) as page:
        yield page


def type_text(qtbot, text: str) -> None:
    for key in text:
        qtbot.keyClicks(QApplication.focusWidget(), key)


def ore(bench: Bench):
    return bench.work.recipe.ore


def plate(place: OrePlace, kind: type):
    return next(p for p in place.window().findChildren(kind) if p.isVisible())


def said(place: OrePlace) -> str:
    found = place.window().findChild(Whisper)
    return found.sentence if found is not None and found.isVisible() else ""


# -- description ----------------------------------------------------------------------------------------------------


def test_the_page_shows_the_ore_on_the_bench(place):
    assert place.heading.accessibleName() == "Table concentrate"
    assert place.heading.note.words == "200 g of calcine in the pot"
    assert [place.table.model.index(i, 0).data() for i in range(3)] == ["Galena", "Pyrite", "Quartz"]
    assert place.table.sum.accessibleName() == "Sum 100.0 %, the likely shares add up to 100"


def test_a_likely_share_typed_by_key_is_one_undo_step(place, bench, qtbot):
    view = place.table.view
    view.setFocus()
    view.setCurrentIndex(place.table.model.index(2, 2))
    type_text(qtbot, "11.5")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    settle(bench)
    assert ore(bench).minerals[2] == replace(demo_ores()[0].minerals[2], likely=11.5)
    assert view.currentIndex().row() == 3
    assert bench.document.undo_label == "Quartz 15 → 11.5 %"
    assert place.table.sum.accessibleName().endswith("scaled to 100 for the reckoning")
    bench.undo()
    settle(bench)
    assert place.table.model.index(2, 2).data() == "15.0"


@pytest.mark.parametrize("typed", ["abc", "-3", "130", "1e9", "12 lb"])
def test_a_share_that_makes_no_sense_is_refused_in_words_and_the_old_one_stays(place, bench, qtbot, typed):
    place.table.view.setFocus()
    place.table.view.setCurrentIndex(place.table.model.index(0, 2))
    type_text(qtbot, typed)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    settle(bench)
    assert ore(bench).minerals[0].likely == 46.0
    assert said(place)


def test_a_mix_of_130_per_cent_is_an_error_in_words_under_the_table(place, bench):
    bench.do(edits.set_share, "minerals", 0, Share("Galena", 76.0, 40, 80))
    settle(bench)
    assert "130 %" in place.table.issues.words
    assert place.table.issues.tone == "no"


def test_an_emptied_low_is_no_lower_than_the_likely_share(place, bench):
    model = place.table.model
    assert model.setData(model.index(0, 1), "")
    assert ore(bench).minerals[0].low is None
    settle(bench)
    assert model.index(0, 1).data() == "–"


def test_the_switch_keeps_the_other_descriptions(place, bench, qtbot):
    place.switch.setFocus()
    qtbot.keyClick(place.switch, Qt.Key.Key_Right)
    settle(bench)
    assert ore(bench).known_by == "oxides"
    assert place.tables["oxides"].isVisible()
    assert place.note.words == "the minerals are kept"
    assert place.tables["oxides"].begin.isVisible()
    qtbot.keyClick(place.switch, Qt.Key.Key_Left)
    settle(bench)
    assert ore(bench).minerals == demo_ores()[0].minerals


def test_minerals_are_added_from_a_searched_list_that_stays_open(place, bench, qtbot):
    place.table.add.click()
    picker = plate(place, PickList)
    qtbot.keyClicks(picker.search, "barite")
    qtbot.keyClick(picker.search, Qt.Key.Key_Return)
    assert ore(bench).minerals[-1].what == "Barite"
    assert picker.isVisible()
    picker.search.setText("FeAsS")
    qtbot.keyClick(picker.search, Qt.Key.Key_Return)
    assert ore(bench).minerals[-1].what == "Arsenopyrite"
    picker.search.setText("Galena")
    assert all(item.key != "Galena" for item in picker.model.rows)
    qtbot.keyClick(picker, Qt.Key.Key_Escape)
    assert not picker.isVisible()


def test_delete_takes_the_chosen_minerals_out(place, bench, qtbot):
    place.table.view.setFocus()
    place.table.view.choose_row(1)
    qtbot.keyClick(place.table.view, Qt.Key.Key_Delete)
    assert [share.what for share in ore(bench).minerals][:2] == ["Galena", "Quartz"]


def test_rows_of_a_spreadsheet_are_pasted_as_one_undo_step_and_the_odd_one_is_named(place, bench, qtbot):
    QGuiApplication.clipboard().setText("Mineral\tshare\r\nGalena\t50\r\nBarite\t2\t3\t5\r\nFoo\t1\r\n")
    place.table.view.setFocus()
    qtbot.keySequence(place.table.view, QKeySequence.StandardKey.Paste)
    settle(bench)
    assert ore(bench).minerals[0].likely == 50
    assert ore(bench).minerals[-1] == Share("Barite", 3, 2, 5, "pasted")
    assert said(place) == "“Foo” is not in the list of minerals."
    bench.undo()
    assert ore(bench) == demo_ores()[0]


def test_the_table_is_copied_with_plain_figures(place, qtbot):
    place.table.view.setFocus()
    place.table.view.choose_row(0)
    qtbot.keySequence(place.table.view, QKeySequence.StandardKey.Copy)
    assert QGuiApplication.clipboard().text() == "Galena\t40\t46\t52\tby eye"


# -- assays ---------------------------------------------------------------------------------------------------------


@pytest.fixture
def assayed(place, bench):
    bench.do(edits.set_known_by, "elements")
    for symbol, percent in (("Pb", 40.0), ("Fe", 10.0), ("S", 18.0), ("Si", 7.0), ("As", 2.5)):
        bench.do(edits.add_share, "elements", Share(symbol, percent))
    for name in ("Galena", "Pyrite", "Quartz"):
        bench.do(edits.tick_mineral, name, True)
    settle(bench)
    return place


def test_an_assay_is_explained_by_the_ticked_minerals_with_the_residual_shown(assayed):
    names = [row.name for row in assayed.assay.model.rows]
    assert names[0] == "Galena"
    assert {"Galena", "Pyrite", "Quartz"} <= set(names)
    assert assayed.assay.residual.accessibleName().startswith("Not explained: Not explained by these minerals")
    assert "As: assayed 2.5 %, explained 0.0 %" in assayed.assay.residual.accessibleName()
    assert "Tick a mineral that holds it" in assayed.tables["elements"].issues.words


def test_minerals_that_hold_what_was_assayed_are_offered_first(assayed, bench, qtbot):
    assayed.assay.add.click()
    picker = plate(assayed, PickList)
    picker.search.setText("arsen")
    qtbot.keyClick(picker.search, Qt.Key.Key_Return)
    assert len(ore(bench).ticked) == 4
    picker.search.clear()
    from fluxlab.materials.minerals import minerals

    assert set(minerals()[picker.model.rows[0].key].read.atoms) & {"Pb", "Fe", "S", "Si", "As"}


def test_a_mineral_is_unticked_by_delete(assayed, bench):
    row = [r.name for r in assayed.assay.model.rows].index("Pyrite")
    assayed.assay.untick_rows([row])
    assert "Pyrite" not in ore(bench).ticked


def test_an_assay_can_be_used_as_it_is(assayed, bench, qtbot):
    assayed.assay.switch.setFocus()
    qtbot.keyClick(assayed.assay.switch, Qt.Key.Key_Right)
    settle(bench)
    assert ore(bench).as_is
    assert not assayed.assay.view.isVisible()
    assert bench.document.undo_label == "Assay as it is"
    assert assayed.tables["elements"].sum.accessibleName().endswith("the rest is not named")


def test_an_assay_with_no_ticked_mineral_says_what_to_do(place, bench):
    bench.do(edits.set_known_by, "elements")
    bench.do(edits.add_share, "elements", Share("Pb", 40.0))
    settle(bench)
    assert "No minerals are ticked" in place.assay.issues.words


# -- facts and metals -----------------------------------------------------------------------------------------------


def test_stage_feed_and_moisture_are_told_apart(place, bench):
    place.facts.choose_stage("raw ore")
    place.facts.choose_feed("raw ore")
    place.facts.moisture.setText("4")
    place.facts.moisture.setModified(True)
    place.commit_pending()
    settle(bench)
    assert (ore(bench).stage, bench.work.recipe.pot_feed, ore(bench).moisture) == ("ore", "ore", 4.0)
    assert place.material.roast.none.words == "Nothing is roasted: the material goes into the pot raw."
    assert "Dry it" in place.facts.issues.words
    assert place.material.pot.accessibleName() == "The raw ore as oxides"


def test_a_bulk_density_is_measured_or_estimated(place, bench):
    field = place.facts.density
    assert field.placeholderText().startswith("about 2.")
    field.setText("1.5")
    field.setModified(True)
    assert field.commit()
    assert ore(bench).bulk_density == 1.5
    assert bench.document.undo_label == "Bulk density 1.5 g/cm³"


def test_a_unit_typed_behind_the_grade_counts(place, bench):
    field = place.material.metals.lines["silver"].field
    field.field.setFocus()
    field.field.setText("1500 g/t")
    field.field.setModified(True)
    assert field.commit()
    settle(bench)
    assert ore(bench).silver == Grade(1500.0, "g/t")
    assert field.unit.text() == "g/t"


def test_a_chosen_unit_keeps_the_figure_as_it_was_typed(place, bench):
    field = place.material.metals.lines["gold"].field
    field.choose_unit("oz/long ton")
    settle(bench)
    assert ore(bench).gold == Grade(0.35, "oz/long ton")
    assert place.material.metals.lines["gold"].figures.accessibleName().endswith("10.7 g/t")


def test_the_same_figure_in_another_typed_unit_is_a_change(place, bench):
    field = place.material.metals.lines["silver"].field
    field.field.setText("620 g/t")
    field.field.setModified(True)
    assert field.commit()
    assert ore(bench).silver == Grade(620.0, "g/t")


def test_an_emptied_grade_is_unknown_and_a_doubtful_ton_is_asked_back(place, bench):
    field = place.material.metals.lines["silver"].field
    field.field.setText("600 oz/ton")
    field.field.setModified(True)
    assert not field.commit()
    assert ore(bench).silver == Grade(620.0, "oz/short ton")
    assert "Say which ton" in said(place)
    field.field.setText("")
    field.field.setModified(True)
    assert field.commit()
    assert ore(bench).silver is None


def test_the_carrier_of_the_silver_is_picked_among_silver_minerals(place, bench, qtbot):
    line = place.material.metals.lines["silver"]
    assert line.rest.words == "with 2.44 %"
    line.carrier.click()
    picker = plate(place, PickList)
    picker.search.setText("native")
    qtbot.keyClick(picker.search, Qt.Key.Key_Return)
    settle(bench)
    assert ore(bench).silver_carrier == "Native silver"
    assert not picker.isVisible()


def test_minerals_richer_than_the_assay_are_said_to_be_scaled_down(place, bench):
    bench.do(edits.add_share, "minerals", Share("Acanthite/argentite", 20.0))
    settle(bench)
    assert "the silver minerals are scaled" in place.material.metals.issues.words


def test_the_roast_card_says_what_a_perfect_roast_would_do(place):
    lines = place.material.roast.lines.accessibleName()
    assert lines.startswith("Roast: Weight loss 13.9 %")
    assert "leaves the roast" in place.material.roast.gas.accessibleName()
    assert place.material.roast.gas.answer == "close"


def test_white_arsenic_from_the_roast_is_told_in_grams(place, bench):
    bench.do(edits.add_share, "minerals", Share("Arsenopyrite", 10.0))
    settle(bench)
    assert "g of white arsenic leaves the roast" in place.material.roast.gas.accessibleName()


def test_an_ore_of_which_nothing_is_known_draws_empty_frames(place, bench):
    bench.do(edits.set_ore, replace(ore(bench), minerals=(), silver=None, gold=None), "empty")
    settle(bench)
    assert place.material.heaps.accessibleName() == "Heaps to scale by volume: none"
    assert place.material.roast.none.words == "Not known until the ore is described."
    assert place.material.nothing.isVisible()
    assert not place.material.beside.isVisible()
    assert place.table.begin.isVisible()


def test_the_oxides_of_the_calcine_are_listed_by_falling_share_with_their_range(place):
    model = place.material.oxides.oxides
    assert [model.index(i, 0).data() for i in range(3)] == ["PbO", "Fe₂O₃", "SiO₂"]
    assert model.index(0, 1).data() == "43.5 to 53.6"


def test_what_no_slag_model_holds_is_listed_apart(place, bench):
    assert not place.material.beside.isVisible()
    bench.do(edits.add_share, "minerals", Share("Scheelite", 5.0))
    settle(bench)
    assert place.material.beside.isVisible()
    assert "WO₃" in place.material.apart.accessibleName()


# -- the tree -------------------------------------------------------------------------------------------------------


def tree_text(place: OrePlace) -> str:
    model, lines = place.tree.model, []

    def walk(index, depth):
        for row in range(model.rowCount(index)):
            child = model.index(row, 0, index)
            lines.append("  " * depth + child.data())
            walk(child, depth + 1)

    from PySide6.QtCore import QModelIndex

    walk(QModelIndex(), 0)
    return "\n".join(lines)


def test_the_tree_shows_the_library_and_the_recipe_on_the_bench(place):
    assert tree_text(place) == (
        "Cinder Ridge\n"
        "  pyrite concentrate, assayed\n"
        "    First of pyrite concentrate, assayed\n"
        "Heron Fork\n"
        "  jig middlings\n"
        "    First of jig middlings\n"
        "  table concentrate\n"
        "    First of table concentrate\n"
        "    First melt"
    )


def test_a_search_narrows_the_tree_and_escape_widens_it(place, qtbot):
    qtbot.keyClicks(place.tree.search, "jig")
    assert tree_text(place) == "Heron Fork\n  jig middlings\n    First of jig middlings"
    qtbot.keyClicks(place.tree.search, "xyz")
    assert place.tree.nothing.words == "Nothing is called “jigxyz”."
    qtbot.keyClick(place.tree.search, Qt.Key.Key_Escape)
    assert "table concentrate" in tree_text(place)


def test_a_click_on_a_recipe_opens_it_and_the_draft_of_the_other_is_kept(place, bench, library, qtbot):
    bench.do(edits.set_share, "minerals", 0, Share("Galena", 47.0))
    tree = place.tree.tree
    index = place.tree.model.index_of("recipe", library.recipes(demo_ores()[1].uid)[0].uid)
    qtbot.mouseClick(tree.viewport(), Qt.MouseButton.LeftButton, pos=tree.visualRect(index).center())
    settle(bench)
    assert ore(bench).uid == demo_ores()[1].uid
    assert place.heading.accessibleName() == "Jig middlings"
    bench.open_recipe(demo_work().recipe.uid)
    assert ore(bench).minerals[0].likely == 47.0


def test_new_ore_type_asks_three_things_and_lays_out_a_recipe(place, bench, library, qtbot):
    place.tree.new.click()
    panel = plate(place, NewOrePanel)
    panel.take.click()
    assert "A name is needed" in said(place)
    qtbot.keyClicks(panel.name, "quartz stringer")
    panel.group.setText("Kettle Drift")
    panel.choose(panel._choices[0].key)
    panel.silver.field.setText("42 oz/short ton")
    panel.silver.field.setModified(True)
    panel.take.click()
    settle(bench)
    made = ore(bench)
    assert (made.name, made.group, made.silver) == ("quartz stringer", "Kettle Drift", Grade(42.0, "oz/short ton"))
    assert made.minerals == panel._choices[0].minerals
    assert any(row.uid == made.uid for row in library.ores())
    assert "Kettle Drift\n  quartz stringer" in tree_text(place)


def test_an_unknown_kind_and_an_unknown_grade_begin_with_wide_ranges(place, bench, qtbot):
    place.new_ore_type()
    panel = plate(place, NewOrePanel)
    assert panel.kind.text() == "I don't know"
    qtbot.keyClicks(panel.name, "who knows")
    panel.take.click()
    settle(bench)
    assert ore(bench).silver is None
    assert all(share.high - share.low >= 5 for share in ore(bench).minerals if share.likely >= 5)


def test_an_ore_type_is_renamed_in_tree_and_bench(place, bench, library, qtbot):
    place.tree.rename("ore", ore(bench).uid)
    panel = plate(place, NamePanel)
    panel.name.setText("upper table")
    panel.group.setText("Cinder Ridge")
    qtbot.keyClick(panel.name, Qt.Key.Key_Return)
    settle(bench)
    assert (ore(bench).name, ore(bench).group) == ("upper table", "Cinder Ridge")
    assert library.ore(ore(bench).uid).name == "upper table"
    bench.undo()
    assert ore(bench).name == "table concentrate"


def test_an_ore_type_is_duplicated_with_an_id_of_its_own(place, bench):
    place.tree.duplicate("ore", demo_ores()[1].uid)
    settle(bench)
    assert ore(bench).name == "jig middlings, copy"
    assert ore(bench).uid != demo_ores()[1].uid
    assert ore(bench).minerals == demo_ores()[1].minerals


def test_ctrl_d_in_the_tree_means_the_chosen_node_and_not_the_recipe_on_the_bench(bench, qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.lay_bench(bench)
    window.show()
    window.go("Ore")
    settle(bench)
    tree = window.places["Ore"].tree
    tree.tree.setFocus()
    tree.tree.setCurrentIndex(tree.model.index_of("ore", demo_ores()[1].uid))
    qtbot.keyClick(tree.tree, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    settle(bench)
    assert ore(bench).name == "jig middlings, copy"


def test_the_tree_follows_a_save_that_happened_while_another_place_was_open(demo, qtbot, tmp_path):
    window = QWidget()
    qtbot.addWidget(window)
    with Library.open(tmp_path / "library.sqlite") as library:
        bench = Bench(demo, library=library)
        page = OrePlace(bench, window)
        window.show()
        page.refresh()
        index = page.tree.model.index_of("recipe", bench.work.recipe.uid)
        assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "First melt, not saved yet, draft kept"
        page.hide()
        assert bench.save()
        page.show()
        page.refresh()
        settle(bench)
        index = page.tree.model.index_of("recipe", bench.work.recipe.uid)
        assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "First melt, revision 1 · all kept"


def test_what_is_on_the_bench_is_not_archived_and_the_rest_can_be_brought_back(place, bench, library, qtbot):
    place.tree.archive("ore", ore(bench).uid)
    assert "on the bench" in said(place)
    place.tree.archive("ore", demo_ores()[1].uid)
    assert "jig middlings" not in tree_text(place)
    place.tree.archived.click()
    assert tree_text(place).startswith("Heron Fork\n  jig middlings")
    place.tree.restore("ore", demo_ores()[1].uid)
    place.tree.archived.click()
    assert "jig middlings" in tree_text(place)


def test_a_library_for_reading_only_says_so_and_keeps_the_bench(place, bench, library, monkeypatch):
    from fluxlab.store.problem import StoreProblem

    def refuse(*_):
        raise StoreProblem("The disk is full. Make room on it and try again.")

    monkeypatch.setattr(library, "archive_ore", refuse)
    heard = []
    bench.refused.connect(heard.append)
    place.tree.archive("ore", demo_ores()[1].uid)
    assert heard == ["The disk is full. Make room on it and try again."]
    assert "jig middlings" in tree_text(place)


# -- habits ---------------------------------------------------------------------------------------------------------


def test_an_open_editor_counts_before_the_page_is_left(place, bench, qtbot):
    place.table.view.setFocus()
    place.table.view.setCurrentIndex(place.table.model.index(0, 3))
    type_text(qtbot, "55")
    place.commit_pending()
    assert ore(bench).minerals[0].high == 55.0


def test_f1_explains_the_column_of_the_current_cell(place, qtbot):
    place.table.view.setFocus()
    place.table.view.setCurrentIndex(place.table.model.index(0, 2))
    assert explain_here(place)
    assert plate(place, ExplainPanel).accessibleName() == "Likely"


def test_everything_that_takes_a_key_has_a_name(place, assayed):
    for widget in place.findChildren(QWidget):
        if widget.isVisible() and isinstance(widget, (QAbstractButton, QLineEdit, QAbstractItemView)):
            assert widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text()), widget


@pytest.mark.parametrize(
    ("width", "height", "size"), [(1226, 724, 100), (543, 340, 100), (1184, 712, 130), (1226, 656, 115)]
)
def test_nothing_that_can_be_used_is_cut_at_any_size(place, bench, width, height, size):
    theme.set_text_size(size)
    try:
        place.window().resize(width, height)
        place.setGeometry(0, 0, width, height)
        settle(bench)
        for widget in place.findChildren(QWidget):
            if widget.isVisible() and isinstance(widget, QAbstractButton):
                assert widget.width() >= widget.minimumSizeHint().width(), widget.text()
                parent = widget.parentWidget()
                assert parent.rect().contains(widget.geometry()), widget.text()
    finally:
        theme.set_text_size(100)


def test_the_decimal_comma_is_shown_and_read(place, bench, qtbot):
    from fluxlab.gui.widgets.fields import choose_decimal_mark

    choose_decimal_mark(",")
    try:
        place.refresh()
        assert place.table.model.index(0, 2).data() == "46,0"
        assert place.table.model.setData(place.table.model.index(0, 2), "47,5")
        assert ore(bench).minerals[0].likely == 47.5
    finally:
        choose_decimal_mark("")
