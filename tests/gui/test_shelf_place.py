"""The Shelf place on the shelf that every library starts with."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QLineEdit, QWidget

from fluxlab.design import edits
from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.shelf.batch_panel import BatchPanel
from fluxlab.gui.shelf.place import ShelfPlace
from fluxlab.gui.tables.pick_list import PickList
from fluxlab.gui.weigh.batch_ticket import BatchTicket
from fluxlab.gui.widgets.whisper import Whisper
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Part
from tests.gui.parts import page_in_window, settle


@pytest.fixture(scope="module")
def demo():
    return demo_work()


@pytest.fixture
def bench(demo):
    return Bench(demo)


@pytest.fixture
def place(bench, qtbot):
    with page_in_window(qtbot, bench, ShelfPlace) as page:
        yield page


def said(place: ShelfPlace) -> str:
    found = place.window().findChild(Whisper)
    return found.sentence if found is not None and found.isVisible() else ""


def plate(place: ShelfPlace, kind: type):
    return next(p for p in place.window().findChildren(kind) if p.isVisible())


def cell(place: ShelfPlace, uid: str, title: str) -> QModelIndex:
    model = place.fluxes.model
    row = [flux.uid for flux in model.rows].index(uid)
    return model.index(row, [column.title for column in model.columns].index(title))


def put(place: ShelfPlace, uid: str, title: str, text: str) -> bool:
    index = cell(place, uid, title)
    place.fluxes.table.setCurrentIndex(index)
    return place.fluxes.model.setData(index, text)


def test_the_models_keep_the_rules_of_item_models(place, bench):
    testers = [
        QAbstractItemModelTester(shelf.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
        for shelf in place.shelves.values()
    ]
    bench.do(edits.remove_shelf_flux, "salt")
    bench.do(edits.remove_mould, bench.work.shelf.moulds[0].uid)
    for way in ("crucibles", "moulds", "fluxes"):
        place.show_way(way)
    settle(bench)
    assert [tester.model() for tester in testers] == [shelf.model for shelf in place.shelves.values()]


# -- fluxes ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("title", "typed", "field", "value"),
    [
        ("Stock, g", "2 lb", "stock", 907.18474),
        ("Stock, g", "1.5 kg", "stock", 1500.0),
        ("Stock, g", "", "stock", None),
        ("Price / kg", "3.20", "price", 3.2),
        ("Purity, %", "99.5", "purity", 0.995),
        ("Loose", "0.85 g/cm3", "loose_density", 0.85),
        ("Tapped", "1.02", "tapped_density", 1.02),
        ("Source", "my own cup", "source", "my own cup"),
        ("Flux", "Borax, my bin", "name", "Borax, my bin"),
    ],
)
def test_every_cell_of_a_flux_can_be_edited_and_undone(place, bench, title, typed, field, value):
    bench.do(edits.put_flux, replace(bench.work.shelf.flux("borax-decahydrate"), stock=500.0))
    settle(bench)
    before = bench.work
    assert put(place, "borax-decahydrate", title, typed)
    assert getattr(bench.work.shelf.flux("borax-decahydrate"), field) == (
        pytest.approx(value) if isinstance(value, float) else value
    )
    bench.undo()
    assert bench.work == before


@pytest.mark.parametrize(
    ("title", "typed", "word"),
    [
        ("Stock, g", "-3", "negative"),
        ("Stock, g", "2 stone", "stone"),
        ("Purity, %", "0", "above zero"),
        ("Purity, %", "130", "130"),
        ("Loose", "0", "above zero"),
        ("Price / kg", "abc", "abc"),
        ("Flux", "", "name is needed"),
        ("Flux", "Potash", "already"),
    ],
)
def test_what_makes_no_sense_is_refused_in_words(place, bench, title, typed, word):
    before = bench.work
    assert not put(place, "borax-glass", title, typed)
    assert word in said(place)
    assert bench.work == before


def test_the_card_shows_what_100_g_of_the_chosen_flux_give(place):
    place.fluxes.choose("soda-ash-dense")
    card = place.fluxes.card
    assert card.head.accessibleName() == "Soda ash, dense"
    assert [row.name for row in card.oxides.oxides.rows] == ["Na2O"]
    assert "CO₂ gas" in card.fates.accessibleName()
    assert card.formula.field.text() == "Na2CO3"


def test_another_formula_changes_the_flux_at_once(place, bench):
    place.fluxes.choose("soda-ash-dense")
    field = place.fluxes.card.formula.field
    field.setText("K2CO3")
    field.setModified(True)
    place.fluxes.card.commit_pending()
    assert bench.work.shelf.flux("soda-ash-dense").made_of == ByFormula("K2CO3")
    settle(bench)
    assert [row.name for row in place.fluxes.card.oxides.oxides.rows] == ["K2O"]


def test_the_form_of_a_flux_is_typed_on_its_card(place, bench):
    place.fluxes.choose("silica-sand")
    place.fluxes.card.form.setText("river sand, sieved")
    place.commit_pending()
    assert bench.work.shelf.flux("silica-sand").form == "river sand, sieved"
    bench.undo()
    settle(bench)
    assert place.fluxes.card.form.text() == "dry sand"


def test_a_text_half_typed_is_not_carried_to_the_next_flux(place, bench):
    before = bench.work.shelf.flux("potash")
    place.fluxes.choose("silica-sand")
    place.fluxes.card.form.setFocus()
    place.fluxes.card.form.setText("half typed")
    place.fluxes.choose("potash")
    assert bench.work.shelf.flux("potash") == before


def test_a_formula_that_cannot_be_read_is_refused_and_the_old_one_stays(place, bench):
    place.fluxes.choose("soda-ash-dense")
    field = place.fluxes.card.formula.field
    field.setText("Na2Xx3")
    field.setModified(True)
    place.fluxes.card.commit_pending()
    assert bench.work.shelf.flux("soda-ash-dense").made_of == ByFormula("Na2CO3")
    assert field.text() == "Na2CO3"
    assert "Xx" in said(place)


def test_looking_at_another_kind_of_description_changes_nothing(place, bench):
    place.fluxes.choose("soda-ash-dense")
    before = bench.work
    place.fluxes.card._switched("analysis")
    assert bench.work == before
    assert place.fluxes.card.analysis.isVisible()
    place.fluxes.card.analysis.add("Na2O")
    assert bench.work.shelf.flux("soda-ash-dense").made_of == ByAnalysis((("Na2O", 0.0),))


def test_a_flux_is_added_by_its_formula(place, bench):
    place.fluxes.begin("formula")
    card = place.fluxes.card
    assert not card.place.isEnabled()
    card.name.setText("Lithium carbonate")
    card.formula.field.setText("Li2CO3")
    card.formula.field.setModified(True)
    card.commit_pending()
    assert card.place.isEnabled()
    assert [row.name for row in card.oxides.oxides.rows] == ["Li2O"]
    assert bench.work.shelf.flux("lithium-carbonate") is None
    card.place.click()
    placed = bench.work.shelf.flux("lithium-carbonate")
    assert placed.made_of == ByFormula("Li2CO3")
    assert "gas-former" in placed.tags
    assert place.fluxes.current().uid == "lithium-carbonate"
    bench.undo()
    assert bench.work.shelf.flux("lithium-carbonate") is None


def test_a_nameless_or_doubled_flux_is_not_put_on_the_shelf(place, bench):
    place.fluxes.begin("formula")
    card = place.fluxes.card
    card.formula.field.setText("Li2CO3")
    card.formula.field.setModified(True)
    card.commit_pending()
    card.place.click()
    assert "name is needed" in said(place)
    card.name.setText("Potash")
    card.place.click()
    assert "already" in said(place)
    assert len(bench.work.shelf.fluxes) == len(demo_work().shelf.fluxes)


def test_a_draft_can_be_left_without_a_trace(place, bench):
    before = bench.work
    place.fluxes.begin("parts")
    place.fluxes.card.parts.add("salt")
    place.fluxes.card.leave.click()
    assert bench.work == before
    assert not place.fluxes.card.draft


def test_a_flux_is_added_by_its_analysis_and_what_is_missing_leaves_as_water(place, bench, qtbot):
    place.fluxes.begin("analysis")
    card = place.fluxes.card
    card.name.setText("Damp clay")
    card.analysis.add_button.click()
    picker = plate(place, PickList)
    picker.search.setText("SiO2")
    qtbot.keyClick(picker.search, Qt.Key.Key_Return)
    assert card.analysis.model.setData(card.analysis.model.index(0, 1), "60")
    card.analysis.add("Al2O3")
    assert card.analysis.model.setData(card.analysis.model.index(1, 1), "28 %")
    card.analysis._change(replace(card.component.made_of, loss="H2O"))
    assert "H₂O gas" in card.fates.accessibleName()
    card.commit_pending()
    card.place.click()
    assert bench.work.shelf.flux("damp-clay").made_of == ByAnalysis((("SiO2", 60.0), ("Al2O3", 28.0)), "H2O")


def test_an_analysis_beyond_100_per_cent_says_so_and_stays_off_the_shelf(place):
    place.fluxes.begin("analysis")
    card = place.fluxes.card
    for oxide, percent in (("SiO2", "80"), ("CaO", "40")):
        card.analysis.add(oxide)
        row = len(card.analysis.model.rows) - 1
        card.analysis.model.setData(card.analysis.model.index(row, 1), percent)
    assert "120.0 %" in card.issues.words
    assert not card.place.isEnabled()


def test_a_jar_is_mixed_of_parts_with_ranges_and_previewed_live(place, bench):
    place.fluxes.begin("parts")
    card = place.fluxes.card
    card.name.setText("House mix")
    card.commit_pending()
    for uid in ("borax-glass", "soda-ash-dense"):
        card.parts.add(uid)
    model = card.parts.model
    for column, text in ((1, "30"), (2, "40"), (3, "50")):
        assert model.setData(model.index(0, column), text)
    assert model.setData(model.index(1, 2), "20")
    assert card.oxides.oxides.rows[0].high - card.oxides.oxides.rows[0].low > 1.0
    assert not card.purity_line.isVisible()
    card.place.click()
    jar = bench.work.shelf.flux("house-mix")
    assert jar.made_of == ByParts((Part("borax-glass", 40, 30, 50), Part("soda-ash-dense", 20)))
    assert jar.loose_density == pytest.approx(1.13, abs=0.02)


def test_a_jar_with_a_range_that_does_not_hold_its_share_is_told_so(place):
    place.fluxes.begin("parts")
    card = place.fluxes.card
    card.parts.add("salt")
    card.parts.model.setData(card.parts.model.index(0, 1), "5")
    assert "does not hold its likely share" in card.issues.words
    assert not card.place.isEnabled()


def test_the_recipe_on_the_bench_can_be_mixed_in_one_jar(place, bench):
    place.fluxes.begin_from_recipe()
    card = place.fluxes.card
    used = {line.flux: line.grams for line in bench.report.lines if line.grams > 0}
    assert {part.flux: part.likely for part in card.component.made_of.parts} == used
    card.place.click()
    assert bench.work.shelf.fluxes[-1].name == "Mix for table concentrate"


def test_a_jar_is_weighed_out_as_a_batch_that_adds_up(place, bench):
    place.fluxes.begin("parts")
    card = place.fluxes.card
    card.name.setText("House mix")
    card.commit_pending()
    card.parts.add("borax-glass")
    card.parts.add("nitre")
    card.parts.add("silica-sand")
    card.parts.batch.click()
    panel = plate(place, BatchPanel)
    panel.grams.setText("2 lb")
    panel.grams.setModified(True)
    assert panel.grams.commit()
    assert [row.flux for row in panel.rows] == ["borax-glass", "silica-sand", "nitre"]
    assert sum(row.grams for row in panel.rows) == pytest.approx(907.2)
    panel.copy.click()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0] == "Weigh, in this order\t%\tGrams"
    assert lines[1].startswith("Borax glass\t33.3\t302.4")


def test_a_batch_has_its_own_ticket_with_the_cautions_of_the_mix(place, bench):
    place.fluxes.begin("parts")
    card = place.fluxes.card
    card.name.setText("House mix")
    card.commit_pending()
    for uid in ("borax-glass", "litharge"):
        card.parts.add(uid)
    card.parts.batch.click()
    panel = plate(place, BatchPanel)
    assert place.window().focusWidget() is panel.grams
    panel.ticket.click()
    ticket = plate(place, BatchTicket).ticket()
    assert ticket.kind == "batch"
    assert sum(row.grams for row in ticket.rows) == pytest.approx(1000.0)
    assert any(caution.rule == "R18" for caution in ticket.cautions)


def test_a_flux_in_use_stays_and_a_free_one_goes_with_undo(place, bench, qtbot):
    used = bench.work.recipe.lines[0].flux
    place.fluxes.choose(used)
    place.fluxes.table.setFocus()
    qtbot.keyClick(place.fluxes.table, Qt.Key.Key_Delete)
    assert "is in the recipe on the bench" in said(place)
    assert bench.work.shelf.flux(used) is not None
    place.fluxes.choose("salt")
    qtbot.keyClick(place.fluxes.table, Qt.Key.Key_Delete)
    assert bench.work.shelf.flux("salt") is None
    bench.undo()
    assert bench.work.shelf.flux("salt") is not None


def test_facts_for_the_cautions_are_ticked_by_hand(place, bench):
    place.fluxes.choose("silica-sand")
    place.fluxes.card._tick("forbidden", True)
    assert "forbidden" in bench.work.shelf.flux("silica-sand").tags
    settle(bench)
    assert place.fluxes.card.facts.text() == "must never go into the pot"


def test_lead_power_is_offered_from_the_formula_where_none_is_entered(place, bench):
    place.fluxes.choose("nitre")
    assert not place.fluxes.card.by_formula.isVisible()
    place.fluxes.begin("formula")
    card = place.fluxes.card
    card.formula.field.setText("C")
    card.formula.field.setModified(True)
    card.commit_pending()
    assert card.by_formula.text() == "Take 33.5"
    card.by_formula.click()
    assert card.component.lead_power == 33.5


# -- pots and moulds ------------------------------------------------------------------------------------------------


def vessel_cell(shelf, row: int, title: str) -> QModelIndex:
    return shelf.model.index(row, [column.title for column in shelf.model.columns].index(title))


def test_the_brimful_follows_every_inside_dimension(place, bench):
    place.show_way("crucibles")
    shelf = place.crucibles
    row = [pot.uid for pot in shelf.model.rows].index("pot-30-44-105")
    # pi*105*(30^2 + 30*44 + 44^2)/3 mm3 = 457 cm3, the frustum
    assert vessel_cell(shelf, row, "Brimful").data() == "457"
    assert shelf.model.setData(vessel_cell(shelf, row, "Depth"), "4 in")
    assert bench.work.shelf.crucible("pot-30-44-105").depth == pytest.approx(101.6)
    settle(bench)
    assert vessel_cell(shelf, row, "Brimful").data() == "442"


def test_a_measured_brimful_counts_and_one_far_off_is_doubted(place, bench):
    place.show_way("crucibles")
    shelf = place.crucibles
    shelf.table.choose_row(0)
    assert shelf.model.setData(vessel_cell(shelf, 0, "Measured"), "52 mL")
    settle(bench)
    assert vessel_cell(shelf, 0, "Brimful").data() == "52"
    assert shelf.card.figures.accessibleName() == "It holds: Brimful 52 cm³, Two thirds 35 cm³, Half 26 cm³"
    assert shelf.model.setData(vessel_cell(shelf, 0, "Measured"), "90")
    settle(bench)
    assert "does not go with" in shelf.card.issues.words


def test_a_rounded_floor_deeper_than_the_pot_is_an_error_in_words(place, bench):
    place.show_way("crucibles")
    shelf = place.crucibles
    shelf.table.choose_row(0)
    assert not shelf.model.setData(vessel_cell(shelf, 0, "Floor"), "round")
    assert "Choose one of" in said(place)
    assert shelf.model.setData(vessel_cell(shelf, 0, "Floor"), "ell")
    assert shelf.model.setData(vessel_cell(shelf, 0, "Round"), "60")
    settle(bench)
    assert vessel_cell(shelf, 0, "Brimful").data() == "–"
    assert "as deep as the whole pot" in shelf.card.issues.words
    assert shelf.card.drawing.accessibleName().endswith("no shape")


def test_pots_and_moulds_are_added_copied_and_removed(place, bench):
    for way, kind in (("crucibles", "pot"), ("moulds", "mould")):
        place.show_way(way)
        shelf = place.shelves[way]
        count = len(shelf.model.rows)
        shelf.add.click()
        settle(bench)
        assert shelf.model.rows[-1].name == f"New {kind}"
        shelf.duplicate(shelf.model.rows[-1])
        assert shelf.model.rows[-1].name == f"New {kind}, copy"
        shelf.remove_rows([count, count + 1])
        assert len(shelf.model.rows) == count


def test_the_pot_of_the_recipe_stays(place, bench):
    place.show_way("crucibles")
    uids = [pot.uid for pot in place.crucibles.model.rows]
    place.crucibles.remove_rows([uids.index(bench.work.recipe.crucible)])
    assert "is the pot of the recipe" in said(place)
    assert len(bench.work.shelf.crucibles) == len(uids)


def test_a_mould_is_changed_by_angle_and_material(place, bench):
    place.show_way("moulds")
    shelf = place.moulds
    shelf.table.choose_row(0)
    assert shelf.model.setData(vessel_cell(shelf, 0, "Half-angle"), "22.5")
    assert not shelf.model.setData(vessel_cell(shelf, 0, "Half-angle"), "95")
    settle(bench)
    shelf.card.metal.setText("steel")
    shelf.card.commit_pending()
    shelf.card.notes.setText("rim chipped")
    place.commit_pending()
    mould = bench.work.shelf.moulds[0]
    assert (mould.half_angle, mould.material, mould.notes) == (22.5, "steel", "rim chipped")


# -- balance, money, habits -----------------------------------------------------------------------------------------


def test_ctrl_d_copies_the_chosen_flux(place, bench, qtbot):
    place.fluxes.choose("salt")
    place.fluxes.table.setFocus()
    qtbot.keyClick(place.fluxes.table, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert bench.work.shelf.flux("salt-copy").made_of == ByFormula("NaCl")


def test_the_sign_of_the_currency_stands_over_the_prices(place, bench):
    bench.do(edits.set_currency, "kr")
    settle(bench)
    assert place.fluxes.model.headerData(3, Qt.Orientation.Horizontal) == "kr / kg"


def test_fields_keep_their_width_in_step_with_the_text_size(place):
    before = place.step.width()
    theme.set_text_size(130)
    try:
        assert place.step.width() == round(1.3 * before)
    finally:
        theme.set_text_size(100)
    assert place.step.width() == before


def test_balance_step_and_currency_are_kept_with_undo(place, bench):
    place.step.setText("0.01")
    place.step.setModified(True)
    place.currency.setText("€")
    place.currency.setModified(True)
    place.commit_pending()
    assert (bench.work.shelf.balance_step, bench.work.shelf.currency) == (0.01, "€")
    bench.undo()
    bench.undo()
    settle(bench)
    assert place.step.value == 0.1
    assert place.currency.text() == ""


def test_everything_that_takes_a_key_has_a_name(place, bench):
    ways = [lambda way=way: place.show_way(way) for way in ("crucibles", "moulds", "fluxes")]
    drafts = [lambda kind=kind: place.fluxes.begin(kind) for kind in ("formula", "analysis", "parts")]
    for look in ways + drafts:
        look()
        for widget in place.findChildren(QWidget):
            if widget.isVisible() and isinstance(widget, (QAbstractButton, QLineEdit, QAbstractItemView)):
                assert widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text()), widget


@pytest.mark.parametrize(("width", "height", "size"), [(1226, 724, 100), (543, 340, 100), (1184, 712, 130)])
def test_nothing_that_can_be_used_is_cut_at_any_size(place, bench, width, height, size):
    theme.set_text_size(size)
    try:
        place.window().resize(width, height)
        place.setGeometry(0, 0, width, height)
        for way in ("crucibles", "moulds", "fluxes"):
            place.show_way(way)
            settle(bench)
            for widget in place.findChildren(QAbstractButton):
                if widget.isVisible() and widget.text():
                    assert widget.width() >= widget.minimumSizeHint().width(), widget.text()
                    assert widget.parentWidget().rect().contains(widget.geometry()), widget.text()
    finally:
        theme.set_text_size(100)
