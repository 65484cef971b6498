"""Rounded recipes keep what they claim to keep."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from fluxlab.blend.problem import Compiled, compile
from fluxlab.blend.rounding import cheapest_on_grid, round_recipe
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Goal, Rounded, Vec
from tests.blend.instances import realistic, values
from tests.blend.test_closed_forms import degree, problem, share, total

INF = float("inf")


def broken(c: Compiled, x: Vec, worst: int = 99) -> set[str]:
    """Windows up to a priority number that a recipe misses by more than a thousandth of a tolerance."""
    p = c.problem
    return {
        w.key
        for w, v in zip(p.windows, values(p, x), strict=True)
        if w.priority <= worst and max(w.lo - v, v - w.hi) > 1e-3 * w.tol * (1 + 1e-6) + 1e-12
    }


def on_grid(c: Compiled, x: Vec, step: float) -> bool:
    return bool(np.abs(x / step - np.rint(x / step)).max() < 1e-9)


def claims_hold(c: Compiled, x: Vec, rounded: Rounded, step: float) -> None:
    assert on_grid(c, rounded.x, step)
    p, before = c.problem, broken(c, x)
    free = p.lo < p.hi
    assert (rounded.x[free] <= p.hi[free] + 1e-9).all()
    assert (rounded.x[free] >= p.lo[free] - 1e-9).all()
    new = broken(c, rounded.x) - before
    assert rounded.kept_all == (not new)
    assert {w.key for w in rounded.broken} == new
    assert rounded.kept_musts == (not (broken(c, rounded.x, 1) - before))
    assert rounded.cost == pytest.approx(float(p.cost @ rounded.x))
    assert rounded.mass == pytest.approx(float(rounded.x.sum()))


@pytest.mark.parametrize("n", [6, 12, 16])
@pytest.mark.parametrize("conflicting", [False, True])
def test_rounding_never_breaks_a_window_that_it_claims_to_keep(n: int, conflicting: bool) -> None:
    kept = []
    for seed in range(25):
        c, _ = compile(realistic(seed, n, conflicting))
        r = solve(c)
        rounded = round_recipe(c, r.x)
        claims_hold(c, r.x, rounded, 0.1)
        kept.append(rounded.kept_musts)
    assert sum(kept) >= 0.9 * len(kept)


def test_a_coarse_balance_is_treated_the_same() -> None:
    for seed in range(20):
        c, _ = compile(realistic(seed, 12))
        r = solve(c)
        claims_hold(c, r.x, round_recipe(c, r.x, 0.5), 0.5)


def test_a_recipe_already_on_the_grid_stays() -> None:
    c, _ = compile(problem("s", (0.1, 0, 1), (total(10.0, 20.0, 1),)))
    rounded = round_recipe(c, np.array([12.3]))
    assert rounded.method == "nearest"
    assert rounded.x == pytest.approx([12.3])


def test_a_stock_between_two_steps_is_never_overdrawn() -> None:
    p = replace(problem("s", (0.1, 0, 1), (total(1.0, INF, 1, 2),)), hi=np.array([7.26]))
    c, _ = compile(p)
    rounded = round_recipe(c, np.array([7.26]))
    assert rounded.x == pytest.approx([7.2])


def test_a_weight_fixed_off_the_grid_goes_to_its_nearest_point_and_the_others_make_up() -> None:
    p = problem("ss", (0.1, 0, 1), (total(30.0, 30.0, 2),))
    p = replace(p, lo=np.array([7.34, 0.0]), hi=np.array([7.34, 100.0]))
    c, _ = compile(p)
    rounded = round_recipe(c, solve(c).x)
    assert rounded.kept_all
    assert rounded.x == pytest.approx([7.3, 22.7])


def test_a_balance_too_coarse_says_which_window_leaves_least_room() -> None:
    wide, narrow = degree(1.0, 3.0, 1), total(10.02, 10.06, 1)
    c, _ = compile(problem("s", (0.1, 0, 0.3), (wide, replace(narrow, tol=0.01))))
    r = solve(c)
    rounded = round_recipe(c, r.x)
    assert r.status == "ok"
    assert (rounded.method, rounded.kept_all, rounded.kept_musts) == ("failed", False, False)
    assert rounded.too_coarse == "total"
    assert rounded.x == pytest.approx([10.0])


def test_musts_are_kept_where_a_wish_cannot_be() -> None:
    must, wish = total(10.0, 10.2, 1, 1), replace(total(10.02, 10.06, 1, 2), key="wish", tol=0.01)
    c, _ = compile(problem("s", (0.1, 0, 0.3), (must, wish)))
    rounded = round_recipe(c, solve(c).x)
    assert rounded.kept_musts
    assert not rounded.kept_all
    assert [w.key for w in rounded.broken] == ["wish"]


def test_what_gave_way_before_rounding_is_not_counted_against_it() -> None:
    floor, cap = total(40.03, INF, 1, 1), replace(total(-INF, 30.0, 1, 2), key="cap")
    c, _ = compile(problem("s", (0.5, 0, 0.5), (floor, cap)))
    r = solve(c)
    rounded = round_recipe(c, r.x)
    assert rounded.kept_all
    assert rounded.x == pytest.approx([40.1])


def test_the_search_equals_enumeration_on_small_problems() -> None:
    checked = 0
    for seed in range(30):
        rng = np.random.default_rng(seed)
        K, y = float(rng.uniform(1.0, 2.0)), float(rng.uniform(0.2, 0.4))
        p = problem("sbc", (0.02, 0, 0.05), (degree(K, K + 0.1, 3), share(y, y + 0.05, 3), total(3.0, 4.0, 3)))
        p = replace(p, cost=rng.uniform(0.5, 2.0, 3), goal=Goal("cost"), hi=np.full(3, 3.0), scale=np.full(3, 3.0))
        c, _ = compile(p)
        grid = np.array(list(product(np.arange(0, 3.05, 0.1), repeat=3)))
        melt = p.b + grid @ p.Y.T
        degree_of = (2 * melt[:, 0] + 3 * melt[:, 1]) / melt[:, 2]
        share_of = melt[:, 1] / (melt[:, 0] + melt[:, 1])
        ok = (degree_of >= K - 1e-9) & (degree_of <= K + 0.1 + 1e-9) & (share_of >= y - 1e-9)
        ok &= (share_of <= y + 0.05 + 1e-9) & (np.abs(grid.sum(axis=1) - 3.5) <= 0.5 + 1e-9)
        x, proved = cheapest_on_grid(c, 0.1)
        assert proved
        if not ok.any():
            assert x is None
            continue
        assert x is not None
        assert float(p.cost @ x) == pytest.approx(float((grid[ok] @ p.cost).min()), rel=1e-9)
        checked += 1
    assert checked > 10
