"""Own figures of the pot on the Flux place: under headings, made when unfolded, refused in words."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fluxlab.design.start import demo_work
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.place import FluxPlace
from tests.works import DIRTY


@pytest.fixture
def place(qtbot) -> FluxPlace:
    made = FluxPlace(Bench(demo_work()))
    qtbot.addWidget(made)
    made.resize(1226, 724)
    made.show()
    return made


def typed(field, text: str) -> None:
    field.setText(text)
    field.setModified(True)
    field.commit()


def unfolded(part, group: str):
    """The own figures of the pot with one heading unfolded."""
    part.set_folded(False)
    part.groups[group].set_folded(False)
    QApplication.processEvents()
    return part


def test_an_own_figure_of_the_pot_is_taken_shown_and_given_back(place) -> None:
    part = unfolded(place.slag.own_pot, "metals")
    field = part.fields["handling"]
    assert field.text() == ""
    before = place.bench.report.pot.button.mass.value
    typed(field, "20")
    place.bench.flush()
    assert dict(place.bench.work.recipe.pot_figures) == {"handling": 20.0}
    assert place.bench.report.pot.button.mass.value < before
    row = next(r for r in place.bench.report.pot.figures if r.key == "handling")
    assert row.own
    assert row.shipped.value < 5.0
    assert "judgement" in row.shipped_source
    typed(field, "")
    place.bench.flush()
    assert place.bench.work.recipe.pot_figures == ()


def test_a_senseless_own_figure_is_refused_in_words(place) -> None:
    part = unfolded(place.slag.own_pot, "metals")
    typed(part.fields["handling"], "300")
    assert place.bench.work.recipe.pot_figures == ()
    assert "cannot be" in part.fields["handling"].accessibleDescription()


def test_own_figures_stand_under_six_headings_and_are_made_only_when_unfolded(place) -> None:
    part = place.slag.own_pot
    assert part.fields == {}
    assert part.groups == {}
    part.set_folded(False)
    assert list(part.groups) == [
        "metals", "sulphur and matte", "slag and drops", "gas, swelling and foam",
        "reducers, nitre and litharge", "heat",
    ]  # fmt: skip
    assert part.fields == {}
    part.groups["heat"].set_folded(False)
    heat = {row.key for row in place.bench.report.pot.figures if row.group == "heat"}
    assert set(part.fields) == heat


def test_only_elements_of_the_charge_ask_for_their_shares_and_a_lost_one_is_put_away(place) -> None:
    part = unfolded(place.slag.own_pot, "metals")
    assert "metal:Pb" in part.fields
    assert "metal:Ag" not in part.fields
    assert "metal:Hg" not in part.fields
    place.bench.do(lambda work: ("other ore", replace(work, recipe=replace(work.recipe, ore=DIRTY))))
    place.bench.flush()
    shown = {key for key, field in part.fields.items() if field.isVisibleTo(part)}
    assert "metal:Pb" not in shown
    assert "fume:Ag" in shown


def test_the_tab_key_goes_through_the_figures_from_top_to_bottom(place) -> None:
    part = unfolded(place.slag.own_pot, "metals")
    rows = [row.key for row in place.bench.report.pot.figures if row.group == "metals"]
    assert list(part.fields) == rows
    for before, after in pairwise(rows):
        there = part.fields[before].nextInFocusChain()
        while there.focusPolicy() == Qt.FocusPolicy.NoFocus:
            there = there.nextInFocusChain()
        assert there is part.fields[after]


def test_own_figures_are_read_with_a_comma_undone_and_counted_in_their_heading(decimal_comma, place) -> None:
    part = unfolded(place.slag.own_pot, "sulphur and matte")
    assert part.fields["iron_excess"].placeholderText() == "1,25"
    typed(part.fields["iron_excess"], "1,4")
    place.bench.flush()
    assert place.bench.work.recipe.pot_figures == (("iron_excess", 1.4),)
    assert part.groups["sulphur and matte"]._title.note == "1 of your own"
    place.bench.undo()
    place.bench.flush()
    assert place.bench.work.recipe.pot_figures == ()
    assert part.fields["iron_excess"].text() == ""


def test_shares_that_come_to_more_than_all_are_refused_in_the_field(place) -> None:
    part = unfolded(place.slag.own_pot, "metals")
    typed(part.fields["metal:Pb"], "80")
    typed(part.fields["fume:Pb"], "30")
    place.bench.flush()
    assert place.bench.work.recipe.pot_figures == (("metal:Pb", 80.0),)
    assert "more than 100 %" in part.fields["fume:Pb"].accessibleDescription()
