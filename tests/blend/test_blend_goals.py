"""Aims in order, and how near the nearest recipe is."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import linprog

from fluxlab.blend.problem import compile
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Goal, KernelChoice
from tests.blend.instances import literal_rows, realistic, values
from tests.blend.test_closed_forms import degree, problem, share, total

KERNELS: list[KernelChoice] = ["auto", "numpy"]


def least(p: object, cost: np.ndarray, extra: tuple[np.ndarray, float] | None = None) -> float:
    """Least value of a linear aim by scipy, with one more row cost.x <= limit if given."""
    A, h = literal_rows(p)
    if extra is not None:
        A, h = np.vstack((A, -extra[0])), np.append(h, -extra[1])
    return float(linprog(cost, A_ub=-A, b_ub=-h, bounds=np.column_stack((p.lo, p.hi))).fun)


@pytest.mark.parametrize("kernel", KERNELS)
def test_an_exact_goal_reaches_the_minimum_of_the_linear_program(kernel: KernelChoice) -> None:
    for seed in range(12):
        p = replace(realistic(seed, 12), goal=Goal("cost", smooth=0.0))
        r = solve(compile(p, kernel)[0])
        assert r.status == "ok"
        assert r.cost == pytest.approx(least(p, p.cost), rel=1e-7)


def test_a_smoothed_goal_stays_near_the_minimum() -> None:
    extra = []
    for seed in range(60):
        p = realistic(seed, 12)
        extra.append(solve(compile(p)[0]).cost / least(p, p.cost) - 1.0)
    assert min(extra) >= -1e-8
    assert float(np.median(extra)) <= 0.002
    assert max(extra) <= 0.05


@pytest.mark.parametrize("kernel", KERNELS)
def test_a_second_goal_is_met_as_far_as_the_first_gives(kernel: KernelChoice) -> None:
    """Least cost, then least mass with 1 % of the cost to give: mass as scipy finds it, to the smoothing."""
    for seed in range(8):
        p = replace(realistic(seed, 12), goal=Goal("cost", then=(Goal("mass"),)))
        cheapest = least(p, p.cost)
        r = solve(compile(p, kernel)[0])
        assert r.status == "ok"
        assert r.cost <= cheapest * 1.01 * (1 + 1e-7)
        lightest = least(p, np.ones(12), (p.cost, cheapest * 1.01))
        assert lightest * (1 - 1e-7) <= r.mass <= lightest * 1.05


def test_goals_in_order_relax_by_the_first_one_where_windows_conflict() -> None:
    p = next(p for p in (realistic(s, 12, True) for s in range(30)) if solve(compile(p)[0]).status == "relaxed")
    in_order = replace(p, goal=Goal("cost", then=(Goal("mass"),)))
    assert np.allclose(solve(compile(in_order)[0]).x, solve(compile(p)[0]).x, atol=1e-9)


def test_the_nearest_recipe_is_as_near_as_a_fine_grid_finds() -> None:
    """Three fluxes, four wishes that fight: priced violation against 61 x 61 x 61 recipes and their neighbourhood."""
    worst, judged = 0.0, 0
    axis = np.linspace(0.0, 60.0, 61)
    grid = np.stack(np.meshgrid(axis, axis, axis, indexing="ij"), axis=-1).reshape(-1, 3)
    for seed in range(15):
        rng = np.random.default_rng(seed)
        k, y, t = float(rng.uniform(1.0, 3.0)), float(rng.uniform(0.1, 0.6)), float(rng.uniform(10.0, 60.0))
        windows = (degree(k, k + 0.1, 3, 2), replace(share(y, y + 0.04, 3), priority=2), total(t, t + 3.0, 3, 2))
        alkali = replace(degree(0.2, 0.4, 3, 2), key="inverse", num=degree(1, 2, 3).den, den=degree(1, 2, 3).num)
        p = problem("sbc", tuple(rng.uniform(0.05, 0.6, 3)), (*windows, alkali))
        p = replace(p, hi=np.full(3, 60.0))
        r = solve(compile(p)[0])
        if r.status != "relaxed":
            continue

        def missed(x: np.ndarray, p: object = p) -> np.ndarray:
            melt = p.b + x @ p.Y.T
            out = np.zeros(len(x))
            for w in p.windows:
                den = 1.0 if w.den is None else melt @ w.den.u + x @ w.den.v + w.den.c
                v = (melt @ w.num.u + x @ w.num.v + w.num.c) / den
                out += np.maximum(np.maximum(w.lo - v, v - w.hi), 0.0) / w.tol
            return out

        coarse = grid[np.argsort(missed(grid))[:30]]
        fine = (coarse[:, None, :] + rng.uniform(-1.0, 1.0, (1, 3000, 3))).reshape(-1, 3)
        best = float(missed(np.clip(fine, 0.0, 60.0)).min())
        ours = float(missed(r.x[None])[0])
        assert ours == pytest.approx(sum(w.off_tol for w in r.opened), abs=0.01)
        worst = max(worst, ours / best - 1.0)
        judged += 1
    assert judged >= 10
    assert worst <= 0.04


def test_window_values_are_those_of_the_definition() -> None:
    p = realistic(4, 12, True)
    r = solve(compile(p)[0])
    np.testing.assert_allclose([w.value for w in r.windows], values(p, r.x), rtol=1e-11, atol=1e-12)
