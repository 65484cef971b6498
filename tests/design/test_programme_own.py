"""Own figures of the roast's programme: set, refused, undone as values, kept in documents, told in the report."""

import json
from dataclasses import replace

import pytest

from fluxlab.design import edits
from fluxlab.design.document import Document
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.report_text import text_of
from fluxlab.design.start import demo_work
from fluxlab.ore.roast_types import RoastPlan
from fluxlab.store import document

PLAN = RoastPlan("planned")


@pytest.fixture
def work() -> Work:
    return edits.set_roast(demo_work(), PLAN)[1]


def plain(text: str) -> str:
    return " ".join(text.split())


def test_an_own_figure_is_set_named_and_given_back(work: Work) -> None:
    label, own = edits.set_programme_figure(work, "doubling", 45.0)
    assert label == "Roast: rise of heat that burns twice as fast 45"
    assert own.recipe.roast == replace(PLAN, figures=(("doubling", 45.0),))
    label, back = edits.set_programme_figure(own, "doubling", None)
    assert label.endswith("as shipped")
    assert back == work


def test_a_senseless_figure_leaves_the_work_and_says_why(work: Work) -> None:
    why, same = edits.set_programme_figure(work, "doubling", -1.0)
    assert same == work
    assert "Give 5 to 1000 °C." in why


def test_the_report_lists_the_figures_of_this_ore_with_their_flags(work: Work) -> None:
    roast = evaluate(work).ore.roast
    assert roast is not None
    minerals = {row.name for row in evaluate(work).ore.minerals}
    named = {row.key.partition(":")[2] for row in roast.figures if row.key.startswith(("minutes:", "ignition:"))}
    assert named
    assert named <= minerals
    for row in roast.figures:
        assert not row.own
        assert "memory" in row.source or "judgement" in row.source


def test_an_own_figure_is_told_as_own_and_moves_the_calcine(work: Work) -> None:
    own = edits.set_programme_figure(work, "minutes:Galena", 400.0)[1]
    before, after = evaluate(work).ore.roast, evaluate(own).ore.roast
    assert before is not None
    assert after is not None
    (mine,) = [row for row in after.figures if row.own]
    assert (mine.key, mine.value.value, mine.source, mine.shipped.value) == (
        "minutes:Galena", 400.0, "the operator's own", 60.0,
    )  # fmt: skip
    assert after.sulphide_sulphur_percent.value > 1.5 * before.sulphide_sulphur_percent.value
    told = plain(text_of(evaluate(own)))
    assert "own figure Galena burns through at 600 °C, fine and in a bed of 10 mm, in: 400 min" in told
    assert "in place of 60 min" in told


def test_an_own_figure_of_air_counts_in_a_perfect_roast_too(work: Work) -> None:
    perfect = edits.set_roast(work, RoastPlan())[1]
    wanted = edits.set_programme_figure(perfect, "air_most", 8.0)[1]
    before, after = evaluate(perfect).ore.roast, evaluate(wanted).ore.roast
    assert before is not None
    assert after is not None
    assert before.air_litres.high is not None
    assert after.air_litres.high == pytest.approx(2.0 * before.air_litres.high)


def test_own_figures_survive_a_document_and_an_older_one_opens_as_shipped(work: Work) -> None:
    own = edits.set_programme_figure(work, "liquid:PbO SiO2", 690.0)[1]
    text = document.recipe_text(own)
    read = document.read_work(text)
    assert read.value is not None
    assert read.value.recipe.roast == own.recipe.roast
    older = json.loads(text)
    del older["recipe"]["roast"]["figures"]
    opened = document.read_work(json.dumps(older))
    assert opened.value is not None
    assert opened.value.recipe.roast == PLAN


def test_undo_takes_an_own_figure_back(work: Work) -> None:
    open_recipe = Document(work)
    assert open_recipe.apply(*edits.set_programme_figure(work, "bed", 12.0))
    assert open_recipe.work.recipe.roast.figures == (("bed", 12.0),)
    open_recipe.undo()
    assert open_recipe.work == work


def test_the_air_of_the_tray_says_where_it_is_from(work: Work) -> None:
    def told(given: Work) -> str:
        return plain(text_of(evaluate(given)))

    assert "air: from memory: an open tray wants two to four times the air that it uses" in told(work)
    own = edits.set_programme_figure(work, "air_least", 1.5)[1]
    assert "air: from memory" in told(own)
    assert "air: the operator's own" not in told(own)
    own = edits.set_programme_figure(own, "air_most", 3.0)[1]
    assert "air: the operator's own;" in told(own)
