"""Chances against plain counting, and recipes that reach the chance asked for."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.chance import draw, probability, robust
from fluxlab.blend.problem import Compiled, compile
from fluxlab.blend.solve import solve, strict
from fluxlab.blend.types import Goal, KernelChoice, Mat, Minerals, Vec
from tests.blend.cases import case
from tests.blend.cases import problem as case_problem
from tests.blend.instances import realistic, values
from tests.blend.test_closed_forms import degree, problem, total

INF = float("inf")


def counted(c: Compiled, x: Vec, B: Mat) -> np.ndarray:
    """Whether each window holds in each sample, one sample and one window at a time."""
    p = c.problem
    held = []
    for b in B:
        at = values(replace(p, b=b), x)
        held.append([w.lo - 1e-6 * w.tol <= v <= w.hi + 1e-6 * w.tol for w, v in zip(p.windows, at, strict=True)])
    return np.array(held)


@pytest.mark.parametrize("kernel", ["auto", "numpy"])
def test_the_verified_case_of_forty_samples(kernel: KernelChoice) -> None:
    data, expected = case("S08")["data"], case("S08")["expected"]
    c, _ = compile(case_problem(data, Goal("cost")), kernel)
    B = np.array(data["b_samples_mol"])
    assert probability(c, solve(c).x, B).all == expected["nominal_probability"]
    r, chance = robust(c, B, data["target_probability"])
    np.testing.assert_allclose(r.x, expected["x"], atol=1e-8)
    assert chance.all == expected["probability"]
    assert r.status == "ok"


def test_chances_equal_plain_counting() -> None:
    for seed in range(6):
        c, _ = compile(realistic(seed, 12))
        B = draw(c.b, 0.06, 300, seed)
        r = robust(c, B, 0.9)[0] if seed % 2 else solve(c)
        chance, held = probability(c, r.x, B), counted(c, r.x, B)
        musts = np.array([w.priority <= 1 for w in c.problem.windows])
        assert chance.all == pytest.approx(held.all(axis=1).mean())
        assert chance.musts == pytest.approx(held[:, musts].all(axis=1).mean())
        np.testing.assert_allclose(chance.windows, held.mean(axis=0))
        assert chance.samples == 300


def test_the_weakest_window_is_the_must_that_fails_most() -> None:
    c, _ = compile(realistic(1, 12))
    r = solve(c)
    chance = probability(c, r.x, draw(c.b, 0.1, 500, 3))
    musts = {w.key: chance.windows[k] for k, w in enumerate(c.problem.windows) if w.priority <= 1}
    assert chance.musts < 1.0
    assert chance.windows[c.index[chance.weakest]] == min(musts.values())


def test_a_recipe_on_its_limits_seldom_holds_and_a_robust_one_costs_more() -> None:
    reached = 0
    for seed in range(30):
        p = realistic(seed, 12)
        wide = tuple(replace(w, lo=w.lo - 3 * w.tol, hi=w.hi + 3 * w.tol) if w.priority else w for w in p.windows)
        c, _ = compile(replace(p, windows=wide))
        B = draw(c.b, 0.06, 400, seed)
        plain = solve(c)
        r, chance = robust(c, B, 0.95)
        before = probability(c, plain.x, B).all
        assert chance.all >= before
        assert r.status == "ok"
        if chance.all >= 0.95:
            reached += 1
            assert before < 0.95 or np.allclose(r.x, plain.x) or r.cost >= plain.cost - 1e-9
    assert reached >= 3


def test_the_lowest_order_statistic_that_reaches_the_target_is_taken() -> None:
    """One flux, one limit: the recipe is the quantile itself."""
    c, _ = compile(problem("s", (0.1, 0, 1), (degree(1.5, INF, 1),)))
    B = np.column_stack((np.full(101, 0.1), np.zeros(101), np.linspace(0.9, 1.1, 101)))
    r, chance = robust(c, B, 0.9)
    # 2 (0.1 + x/60) >= 1.5 base in 91 of 101 samples: base at place 91.
    base = np.linspace(0.9, 1.1, 101)[90]
    assert r.x[0] == pytest.approx(60.0 * (0.75 * base - 0.1), rel=1e-9)
    assert chance.all == pytest.approx(91 / 101)


def test_the_chance_is_measured_on_a_second_set_where_there_is_one() -> None:
    c, _ = compile(problem("s", (0.1, 0, 1), (degree(1.5, INF, 1),)))
    B, fresh = draw(c.b, 0.05, 400, 1), draw(c.b, 0.05, 4000, 2)
    r, chance = robust(c, B, 0.9, check=fresh)
    assert chance.samples == 4000
    assert chance.all == probability(c, r.x, fresh).all
    assert chance.all == pytest.approx(0.9, abs=0.05)


def test_only_musts_are_tightened_where_only_musts_are_asked_for() -> None:
    must, wish = degree(1.5, INF, 1, 1), replace(total(-INF, 42.0, 1, 2), key="wish")
    c, _ = compile(problem("s", (0.1, 0, 1), (must, wish)))
    B = draw(c.b, 0.03, 500, 1)
    r, chance = robust(c, B, 0.95, aim="musts")
    assert chance.musts >= 0.95
    assert r.x[0] > solve(c).x[0]
    assert r.x[0] <= 42.0 + 1e-9
    assert chance.windows[1] == 1.0


def test_a_target_out_of_reach_gives_the_best_chance_found() -> None:
    """A band so narrow that no silica holds it for more than about a third of the ores."""
    c, _ = compile(problem("s", (0.1, 0, 1), (degree(1.5, 1.56, 1),)))
    B = draw(c.b, 0.05, 1000, 1)
    r, chance = robust(c, B, 0.95)
    # Every recipe of this flux, tried.
    most = max(probability(c, np.array([x]), B).all for x in np.linspace(35.0, 45.0, 201))
    assert chance.all < 0.95
    assert chance.all >= most - 0.1
    assert chance.weakest == "degree"
    assert r.status == "ok"


def test_windows_that_conflict_already_give_the_nearest_recipe_and_its_chance() -> None:
    c, _ = compile(problem("s", (0.5, 0, 0.5), (total(40.0, INF, 1), replace(total(-INF, 30.0, 1, 2), key="cap"))))
    r, chance = robust(c, draw(c.b, 0.05, 100, 1))
    assert r.status == "relaxed"
    assert (chance.all, chance.musts) == (0.0, 1.0)


def test_samples_repeat_for_a_seed_and_never_go_below_nothing() -> None:
    b = np.array([0.0, 0.1, 2.0])
    first, again, other = draw(b, 0.8, 500, 7), draw(b, 0.8, 500, 7), draw(b, 0.8, 500, 8)
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)
    assert (first >= 0.0).all()
    assert (first[:, 0] == 0.0).all()


def test_the_spread_of_oxides_is_the_one_asked_for() -> None:
    B = draw(np.array([1.0, 2.0]), np.array([0.05, 0.1]), 20000, 1)
    np.testing.assert_allclose(B.mean(axis=0), [1.0, 2.0], rtol=5e-3)
    np.testing.assert_allclose(B.std(axis=0), [0.05, 0.2], rtol=3e-2)


def test_minerals_are_drawn_in_their_ranges_and_their_oxides_move_together() -> None:
    minerals = Minerals(
        np.array([0.2, 0.1, 0.3]), np.array([0.4, 0.2, 0.4]), np.array([0.6, 0.3, 0.5]),
        np.array([[1.0, 2.0, 0.0], [0.0, 0.0, 3.0], [0.5, 0.0, 0.0]]),
    )  # fmt: skip
    b = minerals.likely @ minerals.oxides + 0.1
    B = draw(b, minerals, 20000, 1)
    # Oxide 2 belongs to mineral 1 alone, oxide 3 to mineral 2 alone: their samples give the shares back.
    first, second = (B[:, 1] - 0.1) / 2.0, (B[:, 2] - 0.1) / 3.0
    third = (B[:, 0] - 0.1 - first) / 0.5
    np.testing.assert_allclose(first + second + third, 1.0, atol=1e-12)
    assert first.min() > 0.2 / 1.4 - 1e-9
    assert first.max() < 0.6 / 0.6 + 1e-9
    assert np.corrcoef(first, second)[0, 1] < -0.1


def test_a_mineral_known_exactly_keeps_its_share_relative_to_the_others() -> None:
    known = Minerals(np.full(2, 0.5), np.full(2, 0.5), np.full(2, 0.5), np.eye(2))
    assert np.allclose(draw(np.full(2, 0.5), known, 50, 1), 0.5)


def test_a_triangle_has_its_mean_at_the_third_of_its_corners() -> None:
    """One mineral that varies against one that is nearly everything: renormalising hardly matters."""
    low, likely, high = 0.001, 0.002, 0.006
    minerals = Minerals(np.array([low, 1.0]), np.array([likely, 1.0]), np.array([high, 1.0]), np.eye(2))
    B = draw(minerals.likely, minerals, 40000, 2)
    assert B[:, 0].mean() == pytest.approx((low + likely + high) / 3, rel=1e-2)


def test_a_robust_recipe_holds_its_chance_in_all_realistic_problems() -> None:
    for seed in range(12):
        c, _ = compile(realistic(seed, 6))
        assert strict(c.system(), "auto").status > 0
        B = draw(c.b, 0.02, 200, seed)
        r, chance = robust(c, B, 0.5)
        assert chance.all == probability(c, r.x, B).all
        assert chance.all == pytest.approx(counted(c, r.x, B).all(axis=1).mean())
