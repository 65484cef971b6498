"""The lot on the Ore place: told, weighed, assayed, forgotten; recoveries with their ranges."""

import pytest
from PySide6.QtCore import Qt

from fluxlab.design import edits
from fluxlab.design.start import demo_work
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.heaps_part import LOT_DENSITY, heaps_of
from fluxlab.gui.ore.lot_part import NOT_TOLD
from fluxlab.gui.ore.place import OPEN_VIEW, OrePlace
from fluxlab.ore.ore_types import Grade, Lot
from tests.gui.parts import enter, page_in_window, settle

OUNCES = "oz/short ton"
LOT = Lot(18_400.0, 663.0, silver=Grade(20.0, OUNCES), tail_silver=Grade(1.5, OUNCES))


@pytest.fixture
def bench():
    return Bench(demo_work())


@pytest.fixture
def place(bench, qtbot):
    with page_in_window(qtbot, bench, OrePlace) as page:
        yield page


def lot(bench: Bench):
    return bench.work.recipe.ore.lot


def test_without_a_lot_one_sentence_stands_and_a_button(place, bench):
    assert place.lot.nothing.words == NOT_TOLD
    assert not place.lot.card.isVisible()
    place.lot.tell.click()
    settle(bench)
    assert lot(bench) == Lot()
    assert place.lot.card.isVisible()
    assert not place.lot.told.isVisible() or "None" not in place.lot.told.words
    bench.undo()
    settle(bench)
    assert lot(bench) is None


def test_weights_and_grades_are_typed_in_the_units_of_the_trade(place, bench, qtbot):
    place.lot.tell.click()
    settle(bench)
    enter(qtbot, place.lot.masses["mass"], "18.4 kg")
    enter(qtbot, place.lot.masses["concentrate"], "663")
    enter(qtbot, place.lot.grades["silver"].field, "20")
    enter(qtbot, place.lot.grades["tail_silver"].field, "51.4 g/t")
    settle(bench)
    assert (lot(bench).mass, lot(bench).concentrate) == (18_400.0, 663.0)
    assert lot(bench).silver == Grade(20.0, OUNCES)
    assert lot(bench).tail_silver == Grade(51.4, "g/t")
    assert bench.document.undo_label == "Silver of the tailing 51.4 g/t"


def test_recovery_and_ratio_are_told_with_ranges_and_grounds(place, bench):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    said = place.lot.lines.accessibleName()
    assert "Silver on the table 93 %" in said
    assert "by the grades" in said
    assert "Lot to concentrate 27.8 : 1 by weight" in place.lot.told.words
    assert "memory and judgement" in place.lot.told.words


def test_the_lot_stands_as_the_first_heap_for_its_part_in_this_charge(place, bench):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    first, second, third = heaps_of(bench.report)
    assert first.name == "lot, its part"
    assert (second.reached_by, third.reached_by) == ("table", "roast")
    raw = bench.report.ore.roast.raw_mass
    assert first.volume == pytest.approx(raw * 18_400.0 / 663.0 / LOT_DENSITY)
    assert place.material.way.accessibleName() == "From lot to calcine"


def test_grades_that_contradict_each_other_are_said_beside_them(place, bench):
    bench.do(edits.set_lot, Lot(18_400.0, 663.0, silver=Grade(20.0, OUNCES), tail_silver=Grade(25.0, OUNCES)))
    settle(bench)
    assert "no poorer than the lot" in place.lot.issues.words


def test_a_weight_below_zero_is_refused_and_the_old_one_stays(place, bench, qtbot):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    enter(qtbot, place.lot.masses["mass"], "-5")
    settle(bench)
    assert lot(bench).mass == 18_400.0


def test_no_lot_takes_everything_back_in_one_step(place, bench):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    place.lot.forget.click()
    settle(bench)
    assert lot(bench) is None
    bench.undo()
    settle(bench)
    assert lot(bench) == LOT


def test_what_was_open_is_open_at_the_next_start(place):
    assert place.left_at() == {OPEN_VIEW: ""}
    place.put_back({OPEN_VIEW: "programme"})
    assert place.left_at() == {OPEN_VIEW: "programme"}
    assert place.material.own.is_folded


def own_part(bench, place):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    part = place.lot.own
    part.set_folded(False)
    part.groups["assays and weights"].set_folded(False)
    settle(bench)
    return part


def test_own_figures_of_the_lot_are_made_only_when_unfolded(bench, place):
    bench.do(edits.set_lot, LOT)
    settle(bench)
    assert place.lot.own.is_folded
    assert place.lot.own.fields == {}
    part = own_part(bench, place)
    assert set(part.fields) == {"head", "concentrate", "tail", "weighing", "charge"}
    assert set(part.groups) == {"assays and weights", "sampling", "what is said"}


def test_an_own_error_is_taken_with_a_decimal_comma_shown_and_undone(qtbot, bench, place, decimal_comma):
    field = own_part(bench, place).fields["tail"]
    assert (field.text(), field.placeholderText()) == ("", "8")
    before = bench.report.ore.lot.metals[0].two_product_percent
    enter(qtbot, field, "30,5")
    settle(bench)
    assert lot(bench).figures == (("tail", 30.5),)
    after = bench.report.ore.lot.metals[0].two_product_percent
    assert after.high - after.low > before.high - before.low
    assert field.text() == "30,5"
    assert place.lot.own._title.note == "1 of your own"
    bench.undo()
    settle(bench)
    assert lot(bench).figures == ()
    assert field.text() == ""


def test_clearing_an_own_error_gives_the_shipped_one_back(qtbot, bench, place):
    field = own_part(bench, place).fields["tail"]
    enter(qtbot, field, "30")
    settle(bench)
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert lot(bench).figures == ()


def test_a_senseless_own_error_is_refused_in_words(qtbot, bench, place):
    field = own_part(bench, place).fields["tail"]
    enter(qtbot, field, "400")
    settle(bench)
    assert lot(bench).figures == ()
    assert "Give 0.01 to 100 %" in field.accessibleDescription()
    enter(qtbot, field, "6")
    settle(bench)
    assert lot(bench).figures == (("tail", 6.0),)


def test_the_chance_of_the_sample_stands_on_the_card(bench, place):
    bench.do(edits.set_lot, Lot(18_400.0, 663.0, silver=Grade(800.0), sample=500.0, top_size=2.0))
    settle(bench)
    assert "its sample ± 12 (6 – 25) % by chance (one standard deviation)" in place.lot.told.words
    assert "sampling: Gy, from memory" in place.lot.told.words
    assert "concentrate 26.6 times as rich as the lot" in place.lot.told.words
