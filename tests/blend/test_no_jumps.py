"""A small change of any input moves the recipe a little: sweeps, the steepest steps bisected."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.problem import compile
from fluxlab.blend.solve import solve, strict
from fluxlab.blend.types import Goal
from tests.blend.instances import realistic
from tests.blend.sweeps import inputs, worst_jump

NAMES = list(inputs(realistic(0, 6)))


@pytest.mark.parametrize("name", NAMES)
def test_no_input_makes_the_recipe_jump(name: str) -> None:
    for n, conflicting, seed in ((6, False, 1), (12, False, 2), (6, True, 500), (12, True, 3)):
        assert worst_jump(realistic(seed, n, conflicting), name) <= 1e-3


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_no_input_makes_the_recipe_jump_in_many_sweeps(name: str) -> None:
    for n in (6, 12, 16):
        for seed in (8, 9):
            for conflicting in (False, True):
                assert worst_jump(realistic(seed, n, conflicting), name) <= 1e-3


def test_the_sweep_would_notice_a_jump() -> None:
    """Without smoothing a least-cost recipe leaps between corners as prices cross."""
    worst = 0.0
    for seed in range(6):
        p = realistic(seed, 12)
        exact = Goal("cost", smooth=1e-9)
        worst = max(worst, worst_jump(replace(p, goal=exact), "price"))
    assert worst > 1.0


def test_strict_and_nearest_recipe_meet_where_windows_begin_to_conflict() -> None:
    """Narrow a band until nothing fits; just before and just after, the recipes are the same."""
    checked = 0
    for seed in range(12):
        p = realistic(seed, 12)
        _, last, change = inputs(p)["degree limits"]
        c, _ = compile(p)
        change(c, last)
        if strict(c.system(), "auto").status > 0:
            continue
        low, high = 0.0, last
        for _ in range(50):
            middle = 0.5 * (low + high)
            change(c, middle)
            low, high = (middle, high) if strict(c.system(), "auto").status > 0 else (low, middle)
        change(c, low)
        before = solve(c)
        change(c, high)
        after = solve(c)
        assert (before.trace.kind, after.trace.kind) == ("strict", "elastic")
        assert np.abs(before.x - after.x).max() <= 1e-4 * p.scale[0]
        checked += 1
    assert checked >= 3
