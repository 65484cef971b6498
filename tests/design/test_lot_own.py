"""Own figures of the lot: set, refused, undone as values, kept in documents, told in the report."""

import json
from dataclasses import replace

import pytest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.report_text import text_of
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import Grade, Lot
from fluxlab.store import document
from fluxlab.store.beforehand import beforehand_of

LOT = Lot(18_400.0, 663.0, silver=Grade(800.0), tail_silver=Grade(60.0), sample=500.0, top_size=2.0)


@pytest.fixture
def work() -> Work:
    return edits.set_lot(demo_work(), LOT)[1]


def plain(text: str) -> str:
    return " ".join(text.split())


def test_an_own_figure_is_set_named_and_given_back(work: Work) -> None:
    label, own = edits.set_lot_figure(work, "tail", 6.5)
    assert label == "Lot: error of a grade of the tailing 6.5"
    assert own.recipe.ore.lot == replace(LOT, figures=(("tail", 6.5),))
    label, back = edits.set_lot_figure(own, "tail", None)
    assert label.endswith("as shipped")
    assert back == work


def test_a_senseless_figure_leaves_the_work_and_says_why(work: Work) -> None:
    why, same = edits.set_lot_figure(work, "tail", -1.0)
    assert same == work
    assert "Give 0.01 to 100 %" in why


def test_every_figure_of_the_report_can_be_set_and_is_then_told_as_own(work: Work) -> None:
    lot = evaluate(work).ore.lot
    assert lot is not None
    assert len(lot.figures) == 15
    for row in lot.figures:
        assert not row.own
        assert row.source == row.shipped_source != ""
        own = 0.5 * row.shipped.value if row.key != "factor" else 3.0
        told = evaluate(edits.set_lot_figure(work, row.key, own)[1]).ore.lot
        assert told is not None
        (mine,) = [f for f in told.figures if f.own]
        assert (mine.key, mine.value.value, mine.source) == (row.key, own, "the operator's own")
        assert mine.shipped == row.shipped


def test_own_figures_are_told_in_the_text_and_only_then(work: Work) -> None:
    assert "own figure" not in plain(text_of(evaluate(work)))
    told = plain(text_of(evaluate(edits.set_lot_figure(work, "tail", 6.5)[1])))
    assert "own figure error of a grade of the tailing: 6.5 %, in place of 8 %" in told


def test_the_sampling_error_is_told_with_its_range(work: Work) -> None:
    """800 g/t is 919 g/t of Ag2S: 0.125 x 7842 x 0.008 x (1/500 - 1/18 400) = 0.01526, its root 12.35 %."""
    assert "sampling of the lot ± 12.4 (6.2 to 24.7) %, one standard deviation" in plain(text_of(evaluate(work)))


def test_own_figures_of_the_lot_survive_a_document(work: Work) -> None:
    own = edits.set_lot_figure(work, "liberation", 25.0)[1]
    read = document.read_work(document.recipe_text(own))
    assert read.value is not None
    assert read.value.recipe.ore.lot == own.recipe.ore.lot


def test_a_document_without_own_figures_of_the_lot_opens_as_shipped(work: Work) -> None:
    older = json.loads(document.recipe_text(work))
    del older["recipe"]["ore"]["lot"]["figures"]
    read = document.read_work(json.dumps(older))
    assert read.value is not None
    assert read.value.recipe.ore.lot == LOT


def test_a_melt_is_held_against_the_own_error_of_its_grade(work: Work) -> None:
    own = edits.set_lot_figure(work, "concentrate", 2.5)[1]
    assert (beforehand_of(evaluate(work)).grade_error, beforehand_of(evaluate(own)).grade_error) == (4.0, 2.5)


def test_a_melt_is_held_against_the_own_doubt_of_one_charge(work: Work) -> None:
    own = edits.set_lot_figure(work, "charge", 3.0)[1]
    assert (beforehand_of(evaluate(work)).charge_error, beforehand_of(evaluate(own)).charge_error) == (1.0, 3.0)


def test_the_enrichment_is_told(work: Work) -> None:
    """620 oz/short ton is 21 257 g/t, and the lot 800 g/t: 26.6 times."""
    assert "concentrate 26.6 (" in plain(text_of(evaluate(work)))
