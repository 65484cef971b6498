"""The report of a recipe: what holds, what gives way, and that nothing is lost or made."""

import math
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate, rounded_weights
from fluxlab.design.recipe import Line, Shelf, Target, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.start import new_shelf
from fluxlab.materials.flux_types import ByFormula, ByParts, Component, Part
from fluxlab.materials.oxides import MASS
from fluxlab.ore.ore_types import OreType, Share
from tests.works import CLEAN, DIRTY, empty_recipe, grams, musts_broken, with_lines, with_target, work_of

ROUTES = ("roast and melt", "nitre", "iron", "lead collection")


def numbers(value: Any, path: str = "report") -> list[tuple[str, float]]:
    """Every float in a report with its path."""
    if isinstance(value, float):
        return [(path, value)]
    if isinstance(value, Work | Shelf):
        return []
    if is_dataclass(value):
        return [n for f in fields(value) for n in numbers(getattr(value, f.name), f"{path}.{f.name}")]
    if isinstance(value, tuple):
        return [n for i, item in enumerate(value) for n in numbers(item, f"{path}[{i}]")]
    if hasattr(value, "items"):
        return [n for k, item in value.items() for n in numbers(item, f"{path}.{k}")]
    return []


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
def test_every_must_holds_for_a_new_recipe(ore: OreType) -> None:
    report = evaluate(work_of(ore))
    assert report.solve.status == "ok"
    assert musts_broken(report) == []
    assert report.flux_mass == pytest.approx(sum(line.grams for line in report.lines))


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
@pytest.mark.parametrize("route", ROUTES)
def test_charge_and_flux_come_out_as_slag_metal_gas_and_rest(ore: OreType, route: str) -> None:
    found = balance(work_of(ore, route))
    feed, x = found.feed, found.x
    loss = sum(g * y.loss for g, y in zip(x, found.fluxes.yields, strict=True))
    rest = sum(g * (y.unaccounted + sum(y.apart.values())) for g, y in zip(x, found.fluxes.yields, strict=True))
    # Alkali in sulphate, metal and matte are told as the oxides that they would be.
    none = found.none
    slag = float((found.n + none.held + (1.0 - none.kept) * found.whole) @ MASS)
    # Lead of the button left its oxygen in the reducer's gas.
    button = found.button * 223.199 / 207.2
    out = slag + button + loss + rest + sum(feed.apart.values()) + sum(feed.metal.values())
    out += sum(feed.gases.values()) + feed.unnamed + feed.water - feed.oxygen
    assert out == pytest.approx(feed.charge + x.sum(), rel=1e-6 if found.button else 1e-9)


def test_a_weight_fixed_by_hand_stays_and_the_others_move() -> None:
    work = work_of()
    free = evaluate(work)
    fixed = with_lines(
        work, *(Line(line.flux, 90.0 if line.flux == "borax-glass" else None) for line in work.recipe.lines)
    )
    report = evaluate(fixed)
    assert grams(fixed, report)["borax-glass"] == 90.0
    assert report.lines[0].why == "Fixed by you"
    assert grams(fixed, report)["soda-ash-dense"] != pytest.approx(grams(work, free)["soda-ash-dense"], abs=0.1)
    assert musts_broken(report) == []


def test_a_row_never_passes_its_limits_or_the_stock() -> None:
    work = work_of()
    soda = next(c for c in work.shelf.fluxes if c.uid == "soda-ash-dense")
    scarce = replace(
        work,
        shelf=replace(work.shelf, fluxes=tuple(replace(c, stock=20.0) if c is soda else c for c in work.shelf.fluxes)),
    )
    report = evaluate(
        with_lines(scarce, Line("borax-glass", least=40.0), Line("soda-ash-dense"), Line("silica-sand", most=5.0))
    )
    weights = {line.flux: line for line in report.lines}
    assert weights["soda-ash-dense"].grams <= 20.0 + 1e-9
    assert weights["soda-ash-dense"].why == "All there is on the shelf"
    assert weights["borax-glass"].grams >= 40.0 - 1e-9
    assert weights["silica-sand"].grams <= 5.0 + 1e-9


def test_when_targets_fight_the_nearest_recipe_says_what_gave_way() -> None:
    work = with_target(with_target(work_of(), Target("degree", lo=2.0)), Target("basicity", lo=3.0))
    report = evaluate(work)
    assert report.solve.status == "relaxed"
    assert report.solve.gave_way
    assert "cannot all hold together" in report.solve.sentences[-1]
    assert all(line.grams >= 0.0 for line in report.lines)


def test_charcoal_takes_ferric_iron_to_ferrous() -> None:
    work = work_of()
    lines = tuple(line for line in work.recipe.lines if line.flux != "charcoal")
    without = evaluate(with_lines(work, *lines))
    some = evaluate(with_lines(work, *lines, Line("charcoal", 2.0)))
    much = evaluate(with_lines(work, *lines, Line("charcoal", 20.0)))
    assert without.slag.ferric_share == 1.0
    assert 0.0 < some.slag.ferric_share < 1.0
    assert much.slag.ferric_share == 0.0


def test_the_operators_own_ferric_share_counts_before_the_route() -> None:
    assert evaluate(work_of(ferric_share=0.25)).slag.ferric_share == 0.25


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
def test_the_flux_to_ore_wish_is_shown_with_the_recipe_without_it(ore: OreType) -> None:
    report = evaluate(work_of(ore))
    wish = next(t for t in report.targets if t.key == "flux_to_ore")
    assert wish.lo is not None
    assert 1.0 <= wish.lo <= 2.0
    assert wish.lo_kind == "wish"
    assert report.flux_mass_without_wish is not None
    assert report.flux_mass_without_wish <= report.flux_mass + 1e-6
    assert report.without_wish
    without = evaluate(with_target(work_of(ore), replace_target(report.work, "flux_to_ore", on=False)))
    assert without.flux_mass == pytest.approx(report.flux_mass_without_wish, rel=1e-9)


def replace_target(work: Work, key: str, **changes: Any) -> Target:
    return replace(next(t for t in work.recipe.targets if t.key == key), **changes)


def test_a_jar_of_mixed_flux_is_a_flux_too() -> None:
    work = work_of()
    jar = Component(
        "jar",
        "House mix",
        ByParts((Part("borax-glass", 2.0), Part("soda-ash-dense", 1.0, 0.8, 1.2))),
        loose_density=1.1,
    )
    shelf = replace(work.shelf, fluxes=(*work.shelf.fluxes, jar))
    report = evaluate(with_lines(replace(work, shelf=shelf), Line("jar"), Line("silica-sand"), Line("soda-ash-dense")))
    assert grams(work, report)["jar"] > 0.0
    assert musts_broken(report) == []


def test_least_cost_uses_the_cheap_flux() -> None:
    work = work_of()
    prices = {"borax-glass": 8.0, "soda-ash-dense": 1.0, "silica-sand": 1.0}
    shelf = replace(work.shelf, fluxes=tuple(replace(c, price=prices.get(c.uid)) for c in work.shelf.fluxes))
    priced = replace(work, shelf=shelf)
    least_flux = evaluate(priced)
    least_cost = evaluate(replace(priced, recipe=replace(priced.recipe, goal="least cost")))
    assert least_cost.flux_cost is not None
    assert least_flux.flux_cost is not None
    assert least_cost.flux_cost < least_flux.flux_cost


def test_staged_feeding_lowers_the_heap() -> None:
    work = work_of(charge=180.0)
    once, twice = evaluate(work), evaluate(replace(work, recipe=replace(work.recipe, feeds=2)))
    assert once.fill is not None
    assert twice.fill is not None
    assert twice.fill.loose_fraction < once.fill.loose_fraction
    assert len(twice.fill.stages) == 2
    assert sum(s.mass for s in twice.fill.stages) == pytest.approx(twice.charge_total)


@pytest.mark.parametrize("step", [0.01, 0.1, 0.5, 1.0])
@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
def test_rounded_weights_keep_every_must_when_they_say_so(ore: OreType, step: float) -> None:
    work = work_of(ore)
    work = replace(work, shelf=replace(work.shelf, balance_step=step))
    rounded = rounded_weights(work)
    assert all(abs(g / step - round(g / step)) < 1e-6 for g in rounded.grams.values())
    again = evaluate(with_lines(work, *(Line(flux, g) for flux, g in rounded.grams.items())))
    assert rounded.kept
    assert musts_broken(again) == []


def test_a_charge_between_two_steps_is_rounded_before_the_fluxes_are() -> None:
    work = work_of(charge=33.33)
    work = replace(work, shelf=replace(work.shelf, balance_step=0.5))
    rounded = rounded_weights(work)
    weighed = replace(work, recipe=replace(work.recipe, charge=33.5))
    again = evaluate(with_lines(weighed, *(Line(flux, g) for flux, g in rounded.grams.items())))
    assert rounded.kept
    assert musts_broken(again) == []


BAD: dict[str, Work] = {
    "no ore": Work(replace(empty_recipe(), lines=(Line("borax-glass"),)), new_shelf()),
    "nothing at all": Work(empty_recipe(), Shelf()),
    "no charge": work_of(charge=0.0),
    "a charge below nothing": work_of(charge=-5.0),
    "no flux": with_lines(work_of()),
    "no pot and no mould": work_of(crucible="", mould=""),
    "an unknown flux": with_lines(work_of(), Line("unobtainium"), Line("borax-glass")),
    "silica only": with_lines(work_of(), Line("silica-sand")),
    "all fixed": with_lines(work_of(), Line("silica-sand", 10.0), Line("borax-glass", 10.0)),
    "minerals of 130 %": work_of(replace(CLEAN, minerals=(*CLEAN.minerals, Share("Hematite", 30.0)))),
    "an unknown mineral": work_of(replace(CLEAN, minerals=(*CLEAN.minerals, Share("Kryptonite", 3.0)))),
    "an element assay with no explanation": work_of(
        replace(CLEAN, known_by="elements", elements=(Share("Fe", 30.0), Share("Xe", 5.0)), ticked=("Quartz",))
    ),
    "more moisture than charge": work_of(replace(CLEAN, moisture=100.0)),
    "limits the wrong way round": with_target(work_of(), Target("degree", lo=2.5, hi=1.0)),
    "pure silver": work_of(OreType("ag", "Silver", minerals=(Share("Native silver", 100.0),))),
    "a flux of itself": with_lines(
        replace(
            work_of(),
            shelf=replace(new_shelf(), fluxes=(Component("loop", "Loop", ByParts((Part("loop", 1.0),))),)),
        ),
        Line("loop"),
    ),
    "a flux without density": with_lines(
        replace(
            work_of(),
            shelf=replace(
                new_shelf(), fluxes=(*new_shelf().fluxes, Component("x", "X", ByFormula("SiO2"), loose_density=0.0))
            ),
        ),
        Line("x", 10.0),
        Line("borax-glass"),
    ),
    "a pot that cannot be": replace(
        work_of(), shelf=replace(new_shelf(), crucibles=(replace(new_shelf().crucibles[0], depth=-1.0),))
    ),
}


@pytest.mark.parametrize("work", BAD.values(), ids=BAD)
def test_odd_input_gives_a_report_without_a_single_nan(work: Work) -> None:
    report = evaluate(work)
    assert [path for path, number in numbers(report) if not math.isfinite(number)] == []
    assert report.solve.status in ("ok", "relaxed", "impossible", "undefined", "invalid")
    assert len(report.verdicts) == 5


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("an unknown flux", "unobtainium"),
        ("minerals of 130 %", "130"),
        ("an unknown mineral", "Kryptonite"),
        ("a flux of itself", "Loop"),
        ("a charge below nothing", "-5"),
        ("limits the wrong way round", "lower limit"),
    ],
)
def test_odd_input_is_told_in_words(name: str, said: str) -> None:
    assert any(said in issue.sentence for issue in evaluate(BAD[name]).issues)


@pytest.mark.parametrize("pour", [-1e9, 3000.0, 1e5, float("inf"), float("nan")])
def test_a_pour_that_no_furnace_knows_raises_nothing_and_tells_no_viscosity(pour: float) -> None:
    report = evaluate(work_of(pour_temperature=pour))
    assert report.fluid is not None
    assert report.fluid.at_pour is None
    assert report.fluid.issues
    assert [path for path, number in numbers(report) if not math.isfinite(number)] in ([], ["report.fluid.pour"])
    assert text_of(report)


def test_the_metal_is_answered_by_the_pot_and_the_certainty_by_the_chance() -> None:
    report = evaluate(work_of())
    verdicts = {v.key: v for v in report.verdicts}
    assert report.pot is not None
    assert report.chance is not None
    assert verdicts["metal"].answer == report.pot.answer != "unknown"
    assert verdicts["metal"].figure == f"{report.pot.button.mass.value:#.3g} g button"
    assert verdicts["sure"].answer == "unknown" or verdicts["sure"].figure.endswith(" %")


def test_the_gas_of_the_verdict_is_that_of_the_pot_burnt_sulphide_and_steam_among_it() -> None:
    pyrite = replace(CLEAN, minerals=(Share("Pyrite", 100.0),))
    burnt = evaluate(work_of(pyrite, "lead collection", pot_feed="concentrate"))
    assert burnt.pot is not None
    assert burnt.gas_litres == burnt.pot.gas.litres > 10.0
    dry, damp = (evaluate(work_of(replace(CLEAN, moisture=m), pot_feed="concentrate")).gas_litres for m in (0.0, 5.0))
    # 5 g of water of 100 g make 6.8 L of steam told cold; five in a hundred of the ore's own gas go with it
    assert damp - dry == pytest.approx(5.0 / 18.015 * 24.465 - 0.05 * dry, abs=1.0)
