"""A small change of the input moves the recipe a little: sweep, take the largest steps, bisect them."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.ore.ore_types import Share
from tests.works import CLEAN, musts_broken, with_lines, with_target, work_of


def charge(t: float) -> Work:
    return work_of(charge=60.0 + 120.0 * t)


def quartz(t: float) -> Work:
    return work_of(replace(CLEAN, minerals=(*CLEAN.minerals[2:], Share("Quartz", 100.0 * t))))


def calcite_past_the_gas_limit(t: float) -> Work:
    return work_of(replace(CLEAN, minerals=(*CLEAN.minerals, Share("Calcite", 40.0 * t))), pot_feed="concentrate")


def degree_into_conflict(t: float) -> Work:
    return with_target(work_of(), Target("degree", lo=1.0 + 5.0 * t))


def charcoal(t: float) -> Work:
    work = work_of()
    return with_lines(work, *work.recipe.lines[:3], Line("charcoal", 8.0 * t))


def lead_button(t: float) -> Work:
    return with_target(
        work_of(route="lead collection", pot_feed="calcine"), Target("lead_button", lo=80.0 * t, hi=80.0)
    )


def cover(t: float) -> Work:
    return with_target(work_of(), Target("cover", lo=10.0 + 40.0 * t))


def cold_pour(t: float) -> Work:
    work = with_target(cover(0.7), Target("viscosity", on=False))
    return replace(work, recipe=replace(work.recipe, pour_temperature=600.0 + 1000.0 * t))


def pour_where_viscosities_end(t: float) -> Work:
    work = with_target(work_of(), Target("viscosity", hi=100.0))
    return replace(work, recipe=replace(work.recipe, pour_temperature=600.0 + 100.0 * t))


def sulphides_under_litharge(t: float) -> Work:
    ore = replace(CLEAN, minerals=(Share("Pyrite", 20.0 * t), Share("Galena", 10.0), Share("Quartz", 60.0)))
    work = work_of(ore, "lead collection", pot_feed="concentrate")
    return with_lines(work, *work.recipe.lines, Line("nitre"))


def sulphides_under_litharge_of_any_viscosity(t: float) -> Work:
    return with_target(sulphides_under_litharge(t), Target("viscosity", on=False))


def sulphide_for_iron(t: float) -> Work:
    minerals = (Share("Pyrite", 20.0 * t), Share("Galena", 10.0), Share("Hematite", 20.0), Share("Quartz", 50.0))
    return work_of(replace(CLEAN, minerals=minerals), "iron", pot_feed="concentrate")


def sulphide_for_nitre(t: float) -> Work:
    minerals = (Share("Pyrite", 20.0 * t), Share("Galena", 10.0 * t), Share("Hematite", 5.0), Share("Quartz", 70.0))
    return work_of(replace(CLEAN, minerals=minerals), "nitre", pot_feed="concentrate")


def budget(t: float) -> Work:
    return with_target(work_of(), Target("reducer_budget", lo=2.0 * t))


def ferric_oxide_under_a_budget(t: float) -> Work:
    work = work_of(replace(CLEAN, minerals=(Share("Hematite", 10.0 * t), Share("Quartz", 90.0))))
    return with_target(work, Target("reducer_budget", lo=0.9))


SWEEPS = (
    charge,
    quartz,
    calcite_past_the_gas_limit,
    degree_into_conflict,
    charcoal,
    lead_button,
    cover,
    cold_pour,
    pour_where_viscosities_end,
    sulphides_under_litharge_of_any_viscosity,
    sulphide_for_iron,
    sulphide_for_nitre,
    budget,
    ferric_oxide_under_a_budget,
)


def remaining_steps(
    sweep: Callable[[float], Work], points: int = 25, steepest: int = 3
) -> list[tuple[float, float, float]]:
    """The largest steps that bisection leaves [g], each with the two places between which it stands."""
    at = np.linspace(0.0, 1.0, points)
    recipes = [balance(sweep(t)).x for t in at]
    moves = [np.abs(b - a).max() for a, b in pairwise(recipes)]
    left = []
    for i in np.argsort(moves)[-steepest:]:
        low, high, x_low, x_high = at[i], at[i + 1], recipes[i], recipes[i + 1]
        for _ in range(22):
            middle = 0.5 * (low + high)
            x_middle = balance(sweep(middle)).x
            if np.abs(x_middle - x_low).max() > np.abs(x_high - x_middle).max():
                high, x_high = middle, x_middle
            else:
                low, x_low = middle, x_middle
        left.append((float(np.abs(x_high - x_low).max()), float(low), float(high)))
    return sorted(left, reverse=True)


@pytest.mark.parametrize("sweep", SWEEPS, ids=lambda f: f.__name__)
def test_the_recipe_never_jumps(sweep: Callable[[float], Work]) -> None:
    assert remaining_steps(sweep)[0][0] < 1e-3


def test_where_two_recipes_are_as_good_under_a_limit_on_viscosity_it_is_one_of_them() -> None:
    """The law of the viscosity is no straight line: here litharge thins the melt about as cheaply as borax and soda do,
    and between them nothing does. No recipe could change over without a step; both keep every must and weigh alike.
    """
    step, *sides = remaining_steps(sulphides_under_litharge)[0]
    assert step > 1e-3
    works = [sulphides_under_litharge(t) for t in sides]
    reports = [evaluate(work) for work in works]
    assert [musts_broken(report) for report in reports] == [[], []]
    assert reports[0].flux_mass == pytest.approx(reports[1].flux_mass, rel=0.015)
