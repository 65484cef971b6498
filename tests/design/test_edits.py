"""Every edit does what its name says, is labelled for undo, and leaves its input alone."""

import inspect
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from fluxlab.design import edits
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.start import demo_work
from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import Grade, Lot, Share
from fluxlab.ore.roast_types import RoastPlan
from fluxlab.vessel.vessel_types import Crucible, Mould

WORK = demo_work()
OWN = Component("own", "Own powder", ByFormula("SiO2"))
POT, MOULD = Crucible("own", "Own pot", 20.0, 30.0, 60.0), Mould("own", "Own mould")

# edit, its arguments, what of the work then holds
CASES: list[tuple[Callable[..., Any], tuple[Any, ...], Callable[[Work], bool]]] = [
    (edits.set_charge, (100.0,), lambda w: w.recipe.charge == 100.0),
    (edits.set_pot_feed, ("concentrate",), lambda w: w.recipe.pot_feed == "concentrate"),
    (edits.fix_weight, ("silica-sand", 30.0), lambda w: w.recipe.lines[2].grams == 30.0),
    (edits.fix_weight, ("fluorspar", 3.0), lambda w: w.recipe.lines[-1] == Line("fluorspar", 3.0)),
    (edits.set_limits, ("silica-sand", 5.0, 50.0), lambda w: w.recipe.lines[2] == Line("silica-sand", None, 5.0, 50.0)),
    (edits.add_flux, ("fluorspar",), lambda w: w.recipe.lines[-1].flux == "fluorspar"),
    (edits.remove_flux, ("charcoal",), lambda w: all(line.flux != "charcoal" for line in w.recipe.lines)),
    (edits.move_flux, ("charcoal", 0), lambda w: w.recipe.lines[0].flux == "charcoal"),
    (edits.hide_flux, ("charcoal", True), lambda w: w.recipe.lines[3].hidden),
    (edits.paste_weights, ([("borax-glass", 50.0), ("potash", 4.0)],), lambda w: w.recipe.lines[-1].grams == 4.0),
    (edits.stay_close, ((("silica-sand", 50.0),),), lambda w: w.recipe.goal == "closest to house recipe"),
    (edits.swap_flux, ("silica-sand", "silica-flour"), lambda w: w.recipe.lines[2] == Line("silica-flour")),
    (edits.swap_flux, ("silica-sand", "charcoal"), lambda w: len(w.recipe.lines) == 3),
    (edits.set_target, (Target("degree", lo=1.5),), lambda w: w.recipe.targets[0].lo == 1.5),
    (
        edits.set_targets,
        ((Target("degree", lo=1.5), Target("borate", lo=0.3)),),
        lambda w: w.recipe.targets[1].lo == 0.3,
    ),
    (edits.set_target, (Target("cap:CaO", hi=9.0),), lambda w: w.recipe.targets[-1].key == "cap:CaO"),
    (edits.set_route, ("lead collection",), lambda w: w.recipe.lines[-1].flux == "wheat-flour"),
    (edits.set_goal, ("least cost",), lambda w: w.recipe.goal == "least cost"),
    (edits.set_ferric_share, (0.5,), lambda w: w.recipe.ferric_share == 0.5),
    (edits.set_pour_temperature, (1200.0,), lambda w: w.recipe.pour_temperature == 1200.0),
    (edits.set_hold, (15.0,), lambda w: w.recipe.hold == 15.0),
    (edits.set_feeds, (3,), lambda w: w.recipe.feeds == 3),
    (
        edits.set_crystal_figure,
        ("Undissolved quartz||low", 900.0),
        lambda w: w.recipe.crystal_figures == (("Undissolved quartz||low", 900.0),),
    ),
    (edits.set_pot_figure, ("handling", 2.0), lambda w: w.recipe.pot_figures == (("handling", 2.0),)),
    (edits.set_mould_preheat, (None,), lambda w: w.recipe.mould_preheat is None),
    (edits.set_dry, (False,), lambda w: not w.recipe.dry),
    (edits.set_scrap, (True,), lambda w: w.recipe.scrap),
    (edits.set_crucible, ("",), lambda w: w.recipe.crucible == ""),
    (edits.set_mould, ("",), lambda w: w.recipe.mould == ""),
    (edits.rename_recipe, ("Second melt",), lambda w: w.recipe.name == "Second melt"),
    (edits.set_notes, ("thin",), lambda w: w.recipe.notes == "thin"),
    (edits.keep_as_house, ([("borax-glass", 80.0)],), lambda w: w.recipe.house == (("borax-glass", 80.0),)),
    (edits.set_ore, (replace(WORK.recipe.ore, name="other"), "Rename"), lambda w: w.recipe.ore.name == "other"),
    (edits.set_known_by, ("oxides",), lambda w: w.recipe.ore.known_by == "oxides"),
    (edits.set_share, ("minerals", 0, Share("Galena", 50.0)), lambda w: w.recipe.ore.minerals[0].likely == 50.0),
    (edits.add_share, ("oxides", Share("SiO2", 40.0)), lambda w: w.recipe.ore.oxides == (Share("SiO2", 40.0),)),
    (edits.remove_share, ("minerals", 0), lambda w: w.recipe.ore.minerals[0].what == "Pyrite"),
    (edits.paste_shares, ("minerals", [Share("Pyrite", 30.0)]), lambda w: w.recipe.ore.minerals[1].likely == 30.0),
    (edits.tick_mineral, ("Quartz", True), lambda w: w.recipe.ore.ticked == ("Quartz",)),
    (edits.set_grade, ("gold", Grade(5.0)), lambda w: w.recipe.ore.gold == Grade(5.0)),
    (edits.set_lot, (Lot(18_400.0, 663.0),), lambda w: w.recipe.ore.lot == Lot(18_400.0, 663.0)),
    (edits.set_lot_figure, ("tail", 6.5), lambda w: w.recipe.ore.lot == Lot(figures=(("tail", 6.5),))),
    (edits.set_roast, (RoastPlan("planned"),), lambda w: w.recipe.roast == RoastPlan("planned")),
    (edits.set_programme_figure, ("bed", 12.0), lambda w: w.recipe.roast == RoastPlan(figures=(("bed", 12.0),))),
    (edits.set_roast_kind, ("planned",), lambda w: w.recipe.roast.kind == "planned"),
    (edits.plan_roast, (780.0, 60.0), lambda w: w.recipe.roast == RoastPlan("planned", 780.0, 60.0)),
    (
        edits.lay_bed,
        (20.0, False, 0.3),
        lambda w: w.recipe.roast == RoastPlan("perfect", 740.0, 90.0, 20.0, False, 0.3),
    ),
    (edits.weigh_roast, (120.0, 95.0), lambda w: w.recipe.roast == RoastPlan("weighed", before=120.0, after=95.0)),
    (edits.set_roast_figure, ("sulphate", (("Pb", 0.2),)), lambda w: w.recipe.roast.sulphate == (("Pb", 0.2),)),
    (
        edits.set_roast_share,
        ("conversion", "Galena", 0.6),
        lambda w: w.recipe.roast.conversion == (("Galena", 0.6),),
    ),
    (edits.put_flux, (OWN,), lambda w: w.shelf.flux("own") == OWN),
    (edits.remove_shelf_flux, ("salt",), lambda w: w.shelf.flux("salt") is None),
    (edits.put_crucible, (POT,), lambda w: w.shelf.crucible("own") == POT),
    (edits.remove_crucible, ("pot-30-44-105",), lambda w: w.shelf.crucible("pot-30-44-105") is None),
    (edits.put_mould, (MOULD,), lambda w: w.shelf.mould("own") == MOULD),
    (edits.remove_mould, ("cone-20-100",), lambda w: w.shelf.mould("cone-20-100") is None),
    (edits.set_balance_step, (0.01,), lambda w: w.shelf.balance_step == 0.01),
    (edits.set_currency, ("€",), lambda w: w.shelf.currency == "€"),
    (edits.set_workshop, (Workshop(indoors=True),), lambda w: w.shelf.workshop.indoors is True),
]


@pytest.mark.parametrize(("edit", "arguments", "then"), CASES, ids=lambda case: getattr(case, "__name__", ""))
def test_an_edit_changes_what_it_says(
    edit: Callable[..., Any], arguments: tuple[Any, ...], then: Callable[[Work], bool]
) -> None:
    assert not then(WORK)
    before = demo_work()
    label, work = edit(WORK, *arguments)
    assert then(work)
    assert label.strip()
    assert before == WORK


@pytest.mark.parametrize(
    ("before", "after", "label"),
    [
        (100.0, 96.5, "Roast weighed 100 → 96.5 g"),
        (100.0, None, "Roast before 100 g"),
        (None, 96.5, "Roast after 96.5 g"),
        (None, None, "Roast not weighed"),
    ],
)
def test_a_roast_weight_is_labelled_by_what_is_known_of_it(
    before: float | None, after: float | None, label: str
) -> None:
    assert edits.weigh_roast(WORK, before, after)[0] == label


def test_every_edit_has_a_case() -> None:
    tried = {case[0].__name__ for case in CASES} | {"free_all"}
    assert tried == set(edits.__all__)
    assert all(inspect.isfunction(getattr(edits, name)) for name in edits.__all__)


def test_free_all_lets_every_row_go() -> None:
    _, fixed = edits.paste_weights(WORK, [("borax-glass", 50.0), ("silica-sand", 20.0)])
    label, free = edits.free_all(fixed)
    assert label == "Free all rows"
    assert free == WORK


def test_a_new_charge_takes_fixed_rows_their_limits_and_the_house_recipe_along() -> None:
    _, work = edits.fix_weight(WORK, "borax-glass", 80.0)
    _, work = edits.set_limits(work, "silica-sand", 10.0, 50.0)
    _, work = edits.set_charge(work, 100.0)
    assert work.recipe.lines[0].grams == 40.0
    assert work.recipe.lines[2] == Line("silica-sand", None, 5.0, 25.0)
    assert dict(work.recipe.house)["borax-glass"] == 45.0


def test_an_edit_of_what_is_not_there_changes_nothing() -> None:
    for _, same in (
        edits.set_limits(WORK, "nothing", 1.0, 2.0),
        edits.move_flux(WORK, "nothing", 0),
        edits.hide_flux(WORK, "nothing", True),
        edits.add_flux(WORK, "borax-glass"),
        edits.remove_shelf_flux(WORK, "nothing"),
    ):
        assert same == WORK


def test_a_new_route_takes_off_what_only_the_old_one_worked_with() -> None:
    _, lead = edits.set_route(WORK, "lead collection")
    assert "charcoal" not in [line.flux for line in lead.recipe.lines]
    _, back = edits.set_route(lead, "roast and melt")
    assert sorted(line.flux for line in back.recipe.lines) == sorted(line.flux for line in WORK.recipe.lines)
    assert back.recipe.targets == WORK.recipe.targets


@pytest.mark.parametrize(
    "edit",
    [
        lambda w: edits.fix_weight(w, "charcoal", 2.0),
        lambda w: edits.fix_weight(w, "charcoal", 0.0),
        lambda w: edits.set_limits(w, "charcoal", None, 3.0),
    ],
)
def test_a_new_route_keeps_what_the_operator_set(edit: Callable[[Work], tuple[str, Work]]) -> None:
    _, work = edit(WORK)
    _, lead = edits.set_route(work, "lead collection")
    assert [x for x in lead.recipe.lines if x.flux == "charcoal"] == [
        x for x in work.recipe.lines if x.flux == "charcoal"
    ]


def test_a_route_that_eats_graphite_takes_a_clay_pot_with_room() -> None:
    assert pot(WORK).material == "clay-graphite"
    label, nitre = edits.set_route(WORK, "nitre")
    assert pot(nitre).material == "clay"
    assert label == f"Route nitre, pot: {pot(nitre).name}"
    label, iron = edits.set_route(nitre, "iron")
    assert (label, iron.recipe.crucible) == ("Route iron", nitre.recipe.crucible)


def test_a_route_without_its_pot_on_the_shelf_keeps_the_pot() -> None:
    only = replace(WORK, shelf=replace(WORK.shelf, crucibles=(pot(WORK),)))
    assert edits.set_route(only, "nitre")[1].recipe.crucible == WORK.recipe.crucible
    none = replace(WORK, recipe=replace(WORK.recipe, crucible=""))
    assert edits.set_route(none, "nitre")[1].recipe.crucible == ""


def pot(work: Work) -> Crucible:
    found = work.shelf.crucible(work.recipe.crucible)
    assert found is not None
    return found
