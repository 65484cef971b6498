"""The operator's own figures of the roast: what can be set, and that it counts."""

from dataclasses import replace

import pytest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.roast_own import OwnFigure, own_figures
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.roast_types import RoastPlan
from tests.works import work_of

PLANNED = edits.set_roast(demo_work(), RoastPlan("planned"))[1]


def by_key(work: Work) -> dict[tuple[str, str], OwnFigure]:
    return {(f.kind, f.name): f for f in own_figures(work)}


def test_a_perfect_roast_and_no_roast_have_no_figures() -> None:
    assert own_figures(demo_work()) == ()
    assert own_figures(edits.set_pot_feed(PLANNED, "concentrate")[1]) == ()


def test_what_neither_burns_nor_splits_has_no_field() -> None:
    names = {name for kind, name in by_key(PLANNED) if kind == "conversion"}
    assert {"Galena", "Pyrite", "Calcite"} <= names
    assert not {"Quartz", "Native gold"} & names


def test_metals_that_the_ore_does_not_hold_have_no_field() -> None:
    found = by_key(PLANNED)
    assert ("sulphate", "Pb") in found
    assert ("sulphate", "Mn") not in found
    assert ("arsenate", "") not in found
    assert ("antimony_fumed", "") not in found
    with_arsenic = edits.add_share(PLANNED, "minerals", Share("Arsenopyrite", 5.0))[1]
    assert ("arsenate", "") in by_key(with_arsenic)


def test_an_own_share_counts_in_the_report_and_none_gives_the_program_its_figure_back() -> None:
    before = evaluate(PLANNED).ore.roast
    label, work = edits.set_roast_share(PLANNED, "sulphate", "Pb", 0.9)
    assert label == "Roast: Pb left as sulphate 90 %"
    own = by_key(work)["sulphate", "Pb"]
    assert (own.own, own.reckoned) == (pytest.approx(90.0), pytest.approx(90.0))
    after = evaluate(work).ore.roast
    assert before is not None
    assert after is not None
    assert after.sulphate_sulphur_percent.value > 1.2 * before.sulphate_sulphur_percent.value
    again = edits.set_roast_share(work, "sulphate", "Pb", None)[1]
    assert again == PLANNED


def test_setting_a_share_again_replaces_it() -> None:
    once = edits.set_roast_share(PLANNED, "conversion", "Galena", 0.5)[1]
    twice = edits.set_roast_share(once, "conversion", "Galena", 0.7)[1]
    assert twice.recipe.roast.conversion == (("Galena", 0.7),)


def test_an_own_scalar_counts() -> None:
    work = edits.set_roast_figure(PLANNED, "silver_loss", 0.04)[1]
    found = by_key(work)["silver_loss", ""]
    assert (found.own, found.reckoned) == (pytest.approx(4.0), pytest.approx(4.0))


def test_an_assay_used_as_it_is_has_no_minerals_and_no_figures() -> None:
    ore = OreType("o", "Assayed", known_by="elements", elements=(Share("Pb", 40.0), Share("S", 20.0)), as_is=True)
    work = work_of(ore)
    assert own_figures(edits.set_roast(work, replace(RoastPlan(), kind="planned"))[1]) == ()
