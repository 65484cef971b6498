"""Shelves put together."""

from dataclasses import replace

from fluxlab.design.recipe import Line, Recipe, Shelf
from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import OreType
from fluxlab.store.shelves import merged, on_shelf
from fluxlab.vessel.vessel_types import Crucible

SODA = Component("soda", "Soda ash", ByFormula("Na2CO3"), purity=0.98)
SAND = Component("sand", "Sand", ByFormula("SiO2"))
NITRE = Component("nitre", "Nitre", ByFormula("KNO3"))
POT = Crucible("pot", "Pot", 20.0, 30.0, 70.0)
RECIPE = Recipe("r", "R", OreType("o", "O"), lines=(Line("soda"),))


def test_what_the_shelf_lacks_comes_with_the_recipe() -> None:
    work, issues = on_shelf(RECIPE, Shelf((SODA,), (POT,)), Shelf((SAND,), balance_step=0.5))
    assert work.shelf == Shelf((SAND, SODA), (POT,), balance_step=0.5)
    assert [i.where for i in issues] == ["shelf.soda", "shelf.pot"]


def test_todays_shelf_counts_and_a_note_says_so() -> None:
    today = Shelf((replace(SODA, purity=0.95),))
    work, issues = on_shelf(RECIPE, Shelf((SODA,)), today)
    assert work.shelf == today
    assert "Soda ash was changed" in issues[0].sentence


def test_stock_and_price_are_no_change() -> None:
    work, issues = on_shelf(RECIPE, Shelf((SODA,)), Shelf((replace(SODA, stock=3.0, price=2.0),)))
    assert issues == ()
    assert work.shelf.fluxes[0].stock == 3.0


def test_changes_of_two_windows_are_both_kept() -> None:
    since = Shelf((SODA, SAND), (POT,))
    ours = Shelf((replace(SODA, stock=10.0), SAND, NITRE), (POT,), currency="£")
    theirs = Shelf((SODA, replace(SAND, stock=20.0)), (), balance_step=1.0)
    both = merged(since, ours, theirs)
    assert both == Shelf(
        (replace(SODA, stock=10.0), replace(SAND, stock=20.0), NITRE), (), balance_step=1.0, currency="£"
    )


def test_ours_wins_where_both_changed_the_same() -> None:
    since = Shelf((SODA,))
    assert merged(since, Shelf((replace(SODA, stock=1.0),)), Shelf((replace(SODA, stock=2.0),))).fluxes[0].stock == 1.0


def test_what_they_removed_but_we_changed_stays() -> None:
    since = Shelf((SODA, SAND))
    assert merged(since, Shelf((replace(SODA, stock=1.0), SAND)), Shelf(())).fluxes == (replace(SODA, stock=1.0),)


def test_what_we_removed_but_they_changed_stays() -> None:
    since = Shelf((SODA, SAND))
    assert merged(since, Shelf(()), Shelf((replace(SODA, stock=1.0), SAND))).fluxes == (replace(SODA, stock=1.0),)


def test_of_the_workshop_card_each_changed_fact_is_kept() -> None:
    since = Shelf(workshop=Workshop(indoors=True))
    ours = Shelf(workshop=Workshop(indoors=False))
    theirs = Shelf(workshop=Workshop(indoors=True, ppe=True))
    assert merged(since, ours, theirs).workshop == Workshop(indoors=False, ppe=True)


def test_a_recipe_is_judged_by_the_workshop_of_today() -> None:
    work, _ = on_shelf(RECIPE, Shelf((SODA,), workshop=Workshop(indoors=False)), Shelf(workshop=Workshop(indoors=True)))
    assert work.shelf.workshop.indoors is True
