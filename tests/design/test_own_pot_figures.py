"""The operator's own figures of the pot: set, refused, taken back, kept in the document, told in the report."""

import json
from math import inf, nan

import pytest

from fluxlab.design.document import Document
from fluxlab.design.edits import set_pot_figure
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work
from fluxlab.store import document

WORK = demo_work()


def own(work: Work) -> dict[str, float]:
    rows = evaluate(work).pot.figures
    return {row.key: row.value.value for row in rows if row.own}


def test_the_report_reckons_with_the_operators_own_figure_and_says_so() -> None:
    label, work = set_pot_figure(WORK, "handling", 20.0)
    assert label == "In the pot: silver and gold left on pot, mould and tools 20"
    assert own(WORK) == {}
    assert own(work) == {"handling": 20.0}
    assert evaluate(work).pot.button.mass.value < evaluate(WORK).pot.button.mass.value


def test_a_second_figure_of_the_same_name_replaces_the_first() -> None:
    work = set_pot_figure(set_pot_figure(WORK, "handling", 2.0)[1], "handling", 3.0)[1]
    assert work.recipe.pot_figures == (("handling", 3.0),)


@pytest.mark.parametrize(
    ("name", "value"), [("handling", -1.0), ("handling", 101.0), ("handling", nan), ("prill", 0.0), ("prill", inf)]
)
def test_a_figure_that_makes_no_sense_is_refused_in_words(name: str, value: float) -> None:
    label, work = set_pot_figure(WORK, name, value)
    assert "cannot be" in label
    assert work is WORK


def test_a_figure_that_the_pot_does_not_have_is_refused_by_name() -> None:
    label, work = set_pot_figure(WORK, "luck", 1.0)
    assert "luck" in label
    assert work is WORK


def test_taking_a_figure_back_or_undoing_it_gives_the_shipped_one() -> None:
    label, work = set_pot_figure(WORK, "handling", 2.0)
    assert set_pot_figure(work, "handling", None)[1] == WORK
    bench = Document(WORK)
    bench.apply(label, work)
    bench.undo()
    assert bench.work == WORK


def test_a_document_keeps_the_figures_and_one_without_them_opens_as_before() -> None:
    work = set_pot_figure(WORK, "prill", 250.0)[1]
    text = document.recipe_text(work)
    read = document.read_work(text).value
    assert read is not None
    assert read.recipe == work.recipe
    plain = json.loads(text)
    del plain["recipe"]["pot_figures"]
    older = document.read_work(json.dumps(plain)).value
    assert older is not None
    assert older.recipe == WORK.recipe
