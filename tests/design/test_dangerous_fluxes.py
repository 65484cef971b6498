"""A flux of the operator's own fires its rule by its formula alone, in a jar too, even when no fact is ticked."""

from dataclasses import replace

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Work
from fluxlab.materials.flux_types import ByFormula, ByParts, Component, Part
from tests.works import with_lines, work_of


def rules(*own: Component, lines: tuple[Line, ...]) -> dict[str, str]:
    work = work_of()
    shelf = replace(work.shelf, fluxes=(*work.shelf.fluxes, *own))
    report = evaluate(with_lines(Work(work.recipe, shelf), *lines, Line("borax-glass"), Line("soda-ash-dense")))
    return {c.rule: c.level for c in report.cautions}


SALTPETRE = Component("own", "White salt", ByFormula("KNO3"), lead_power=-4.0)


@pytest.mark.parametrize(
    ("formula", "rule"),
    [("NH4Cl", "R14"), ("KClO3", "R14"), ("KClO4", "R14"), ("Na2O2", "R14"), ("Al", "R14"), ("PbCO3", "R18")],
)
def test_an_unticked_flux_is_known_by_its_formula(formula: str, rule: str) -> None:
    own = Component("own", "Powder from the tin", ByFormula(formula))
    assert rule in rules(own, lines=(Line("own", 5.0),))
    assert "R14" not in rules(lines=())


def test_an_unticked_nitrate_is_a_nitrate() -> None:
    assert "R09" in rules(SALTPETRE, lines=(Line("own", 60.0),))
    assert rules(SALTPETRE, lines=(Line("own", 9.0), Line("charcoal", 3.0)))["R11"] == "block"
    assert "R11" not in rules(SALTPETRE, lines=(Line("own", 9.0),))


def test_a_dangerous_part_is_found_in_a_jar_within_a_jar() -> None:
    inner = Component("inner", "Inner", ByParts((Part("own", 1.0), Part("silica-sand", 1.0))))
    outer = Component("outer", "Outer", ByParts((Part("inner", 1.0), Part("borax-glass", 1.0))))
    chlorate = Component("own", "Tin", ByFormula("KClO3"))
    assert rules(chlorate, inner, outer, lines=(Line("outer", 10.0),))["R14"] == "block"
    assert "R09" in rules(SALTPETRE, inner, outer, lines=(Line("outer", 300.0),))


def test_fluorspar_with_an_unticked_hydrate_is_a_block() -> None:
    own = Component("own", "Crystals", ByFormula("Na2B4O7·10H2O"))
    found = rules(own, lines=(Line("fluorspar", 3.0), Line("own", 20.0)))
    assert found["R20"] == "block"
    assert "R20" not in rules(lines=(Line("fluorspar", 1.0),))
