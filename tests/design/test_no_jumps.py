"""A small change of the input moves the recipe a little: sweep, take the largest steps, bisect them."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.ore.ore_types import Share
from tests.works import CLEAN, with_lines, with_target, work_of


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
    sulphides_under_litharge,
)


def largest_remaining_step(sweep: Callable[[float], Work], points: int = 25, steepest: int = 3) -> float:
    at = np.linspace(0.0, 1.0, points)
    recipes = [balance(sweep(t)).x for t in at]
    moves = [np.abs(b - a).max() for a, b in pairwise(recipes)]
    left = 0.0
    for i in np.argsort(moves)[-steepest:]:
        low, high, x_low, x_high = at[i], at[i + 1], recipes[i], recipes[i + 1]
        for _ in range(22):
            middle = 0.5 * (low + high)
            x_middle = balance(sweep(middle)).x
            if np.abs(x_middle - x_low).max() > np.abs(x_high - x_middle).max():
                high, x_high = middle, x_middle
            else:
                low, x_low = middle, x_middle
        left = max(left, float(np.abs(x_high - x_low).max()))
    return left


@pytest.mark.parametrize("sweep", SWEEPS, ids=lambda f: f.__name__)
def test_the_recipe_never_jumps(sweep: Callable[[float], Work]) -> None:
    assert largest_remaining_step(sweep) < 1e-3
