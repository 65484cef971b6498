"""Documents as text: what they hold, and what becomes of damaged or foreign ones."""

import json

import pytest

from fluxlab.design.recipe import Line, Recipe, Shelf, Work
from fluxlab.materials.flux_types import ByFormula, ByParts, Component, Part
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.store import document
from fluxlab.vessel.vessel_types import Crucible, Mould

SHELF = Shelf(
    fluxes=(
        Component("borax", "Borax glass", ByFormula("Na2B4O7")),
        Component("jar", "Jar of “grey” flux", ByParts((Part("soda", 2.0), Part("inner", 1.0)))),
        Component("inner", "Inner jar", ByParts((Part("sand", 1.0),))),
        Component("soda", "Soda ash", ByFormula("Na2CO3")),
        Component("sand", "Sand", ByFormula("SiO2")),
        Component("nitre", "Nitre", ByFormula("KNO3")),
    ),
    crucibles=(Crucible("small", "Small pot", 20.0, 30.0, 70.0), Crucible("big", "Big pot", 30.0, 44.0, 105.0)),
    moulds=(Mould("cone", "Cone"), Mould("other", "Other")),
    notes="private",
)
WORK = Work(
    Recipe(
        "r1",
        "Première",
        OreType("o1", "Black ore", minerals=(Share("Galena", 30.5),)),
        lines=(Line("jar", 12.5), Line("gone")),
        house=(("borax", 30.0),),
        crucible="big",
        mould="cone",
    ),
    SHELF,
)


def only_issue(text: str) -> str:
    read = document.read_work(text)
    assert read.value is None
    (issue,) = read.issues
    return f"{issue.sentence} {issue.remedy}"


def test_an_export_holds_what_the_recipe_uses_and_no_more() -> None:
    plain = json.loads(document.recipe_text(WORK))
    assert plain["fluxlab"] == 1
    assert plain["kind"] == "recipe"
    assert [c["uid"] for c in plain["shelf"]["fluxes"]] == ["borax", "jar", "inner", "soda", "sand"]
    assert [c["uid"] for c in plain["shelf"]["crucibles"]] == ["big"]
    assert [m["uid"] for m in plain["shelf"]["moulds"]] == ["cone"]
    assert plain["shelf"]["notes"] == ""


def test_jars_that_name_each_other_do_not_hang_the_export() -> None:
    shelf = Shelf(
        fluxes=(Component("a", "A", ByParts((Part("b", 1.0),))), Component("b", "B", ByParts((Part("a", 1.0),))))
    )
    work = Work(Recipe("r", "R", OreType("o", "O"), lines=(Line("a"),)), shelf)
    assert len(json.loads(document.recipe_text(work))["shelf"]["fluxes"]) == 2


def test_an_export_is_read_back_as_the_same_recipe() -> None:
    read = document.read_work(document.recipe_text(WORK))
    assert read.value is not None
    assert read.value.recipe == WORK.recipe
    assert document.recipe_text(read.value) == document.recipe_text(WORK)


def test_a_draft_keeps_the_whole_shelf() -> None:
    assert document.read_work(document.draft_text(WORK)).value == WORK


def test_shelf_and_ore_documents_are_read_back_equal() -> None:
    assert document.read_shelf(document.shelf_text(SHELF)).value == SHELF
    assert document.read_ore(document.ore_text(WORK.recipe.ore)).value == WORK.recipe.ore


def test_the_text_is_readable_to_people() -> None:
    assert "Première" in document.recipe_text(WORK)
    assert "“grey”" in document.recipe_text(WORK)


def test_every_truncated_export_is_said_to_be_cut_off() -> None:
    text = document.recipe_text(WORK).strip()
    for length in range(1, len(text), 7):
        assert "cut off" in only_issue(text[:length]), text[max(0, length - 20) : length]
    assert "empty" in only_issue("")
    assert "empty" in only_issue(" \n")


def test_an_export_of_a_newer_version_asks_for_an_update() -> None:
    plain = json.loads(document.recipe_text(WORK)) | {"fluxlab": 2, "weather": {}}
    said = only_issue(json.dumps(plain))
    assert "newer fluxlab" in said
    assert "Update the program" in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[1, 2]", "no fluxlab document"),
        ("{}", "no fluxlab document"),
        ('"fluxlab"', "no fluxlab document"),
        ('{"fluxlab": "1"}', "number of the format"),
        ('{"fluxlab": true}', "number of the format"),
        ('{"fluxlab": 0}', "number of the format"),
        ('{"fluxlab": 1, "kind": "shelf", "shelf": {}}', "exported as recipe"),
        ('{"fluxlab": 1, "kind": ["recipe"]}', "wanted is “recipe”"),
        ('{"fluxlab": 1, "kind": "recipe", "melts": []}', "not known: melts"),
        ('{"fluxlab": 1, "kind": "recipe"}', "recipe must be a group of keys"),
        ('{"fluxlab": 1, "fluxlab": 1}', "stands there twice"),
        ('{"fluxlab": NaN}', "NaN is not a number"),
        ('{"fluxlab": 1, "x": -Infinity}', "-Infinity is not a number"),
        ('{"fluxlab": ' + "9" * 5000 + "}", "too many digits"),
        ("{'fluxlab': 1}", "line 1, column 2"),
        ("<html></html>}", "no JSON text"),
        ("[" * 100_000 + "]" * 100_000, "nested too deep"),
    ],
)
def test_a_foreign_text_is_refused_in_a_sentence(text: str, words: str) -> None:
    assert words in only_issue(text)


def test_problems_of_recipe_and_shelf_come_together() -> None:
    plain = json.loads(document.recipe_text(WORK))
    plain["recipe"]["charge_g"] = "a lot"
    plain["shelf"]["balance_step_g"] = -0.1
    read = document.read_work(json.dumps(plain))
    assert [i.where for i in read.issues] == ["recipe.charge_g", "shelf.balance_step_g"]
