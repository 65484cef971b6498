"""A limit on the viscosity and the thinnest melt, against closed forms, another optimiser and small steps."""

from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import minimize

from fluxlab.blend.problem import Compiled, compile, update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Functional, Goal, Problem, Vec, Window
from fluxlab.blend.viscosity_cut import Law, melt, solve_under, thinnest
from tests.blend.instances import literal_rows, realistic

KEY = "viscosity"
HOT = 1150.0


def vogel_law(size: int) -> Law:
    """log10 = -A + B / (T - T0), the three linear in mole fractions; figures of plausible size, not chemistry."""
    rng = np.random.default_rng(4)
    A, B, T0 = rng.uniform(1.0, 3.0, size), rng.uniform(500.0, 5000.0, size), rng.uniform(100.0, 500.0, size)

    def law(n: Vec) -> tuple[float, Vec]:
        total = n.sum()
        if not total > 0.0:
            return float("nan"), np.zeros(size)
        x = n / total
        a, b, t = A @ x, B @ x, HOT - T0 @ x
        by_share = -A + B / t + b * T0 / t**2
        return float(-a + b / t), np.asarray((by_share - by_share @ x) / total)

    return law


LAW = vogel_law(16)


@cache
def loosened(seed: int, n: int = 8) -> Problem:
    """A realistic problem with bands wide enough for the viscosity to have a say."""
    p = realistic(seed, n)
    windows = tuple(replace(w, lo=w.lo - 4 * w.tol, hi=w.hi + 4 * w.tol) if w.priority else w for w in p.windows)
    return replace(p, windows=windows)


def limited(p: Problem, most: float) -> Compiled:
    nothing = Functional(np.zeros(len(p.oxides)), np.zeros(len(p.components)), most - 1.0)
    limit = Window(KEY, "viscosity", "", -np.inf, most, nothing, None, 0.02, 1)
    return compile(replace(p, windows=(*p.windows, limit)))[0]


def at(c: Compiled, x: Vec, law: Law = LAW) -> float:
    return law(melt(c, x))[0]


def aimed(p: Problem, x: Vec) -> float:
    """The goal as the solver counts it, in its own units, from the definition."""
    raw = {"cost": p.cost, "mass": np.ones_like(p.cost), "closest": 0.0 * p.cost}[p.goal.kind] * p.scale
    size = float(np.abs(raw).max()) or 1.0
    smooth = p.goal.smooth if np.abs(raw).any() else 1.0
    y, r = x / p.scale, p.ref / p.scale
    return float(raw @ y / size + 0.5 * smooth * ((y - r) @ (y - r)))


def referee(p: Problem, starts: list[Vec], most: float | None, thin: bool = False) -> float:
    """Least of the goal (or of the viscosity and thrift) by scipy's SLSQP from several starts."""
    A, h = literal_rows(p)
    size = np.linalg.norm(A * p.scale, axis=1)
    A, h = A * p.scale / size[:, None], h / size
    rules = [{"type": "ineq", "fun": lambda y: A @ y - h, "jac": lambda y: A}]

    def law(y: Vec) -> tuple[float, Vec]:
        value, slopes = LAW(np.maximum(p.b, 0.0) + p.Y @ (y * p.scale))
        return value, (slopes @ p.Y) * p.scale

    if most is not None:
        rules.append({"type": "ineq", "fun": lambda y: most - law(y)[0], "jac": lambda y: -law(y)[1]})

    def goal(y: Vec) -> float:
        return law(y)[0] + 0.005 * float(y.sum()) if thin else aimed(p, y * p.scale)

    best = np.inf
    for start in starts:
        found = minimize(
            goal, start / p.scale, method="SLSQP", constraints=rules,
            bounds=np.column_stack((np.minimum(p.lo, p.hi), p.hi)) / p.scale[:, None],
            options={"maxiter": 300, "ftol": 1e-12},
        )  # fmt: skip
        kept = (A @ found.x - h).min() > -1e-7 and (most is None or law(found.x)[0] < most + 1e-7)
        if kept and found.fun < best:
            best = float(found.fun)
    return best


def test_a_limit_that_does_not_bind_changes_nothing() -> None:
    for seed in range(6):
        p = loosened(seed)
        plain = solve(compile(p)[0])
        c = limited(p, at(compile(p)[0], plain.x) + 0.1)
        r = solve_under(c, KEY, LAW)
        np.testing.assert_allclose(r.x, plain.x, atol=1e-9 * p.scale.max())
        assert r.windows[c.index[KEY]].value == pytest.approx(at(c, r.x), abs=1e-9)


def test_a_linear_law_is_a_row_like_any_other() -> None:
    """log10 = 0.02 + v.n: solved at once as a window of the problem itself."""
    p = loosened(2)
    v = np.linspace(-1.0, 2.0, len(p.oxides))

    def law(n: Vec) -> tuple[float, Vec]:
        return float(0.02 + v @ n), v

    plain = solve(compile(p)[0])
    most = law(melt(compile(p)[0], plain.x))[0] - 0.05
    row = Window(KEY, "", "", -np.inf, most, Functional(v, np.zeros(len(p.components)), 0.02), None, 0.02, 1)
    expected = solve(compile(replace(p, windows=(*p.windows, row)))[0])
    found = solve_under(limited(p, most), KEY, law)
    np.testing.assert_allclose(found.x, expected.x, atol=1e-6 * p.scale.max())


@pytest.mark.parametrize("kind", ["cost", "mass", "closest"])
def test_the_goal_under_a_limit_is_as_good_as_another_optimiser_finds(kind: str) -> None:
    better = compared = 0
    for seed in range(14):
        p = replace(loosened(seed), goal=Goal(kind))  # type: ignore[arg-type]
        plain = solve(compile(p)[0])
        for drop in (0.02, 0.08):
            c = limited(p, at(compile(p)[0], plain.x) - drop)
            r = solve_under(c, KEY, LAW)
            most = float(c.window_hi[c.index[KEY]])
            theirs = referee(p, [plain.x, r.x, np.clip(p.ref, p.lo, p.hi)], most)
            if r.status != "ok" or not np.isfinite(theirs):
                continue
            assert at(c, r.x) <= most + 1e-6
            ours = aimed(p, r.x)
            assert ours <= theirs + 1e-4 * max(1.0, abs(theirs))
            better += ours < theirs - 1e-6
            compared += 1
    assert compared >= 8


def test_a_limit_that_no_recipe_reaches_gives_way_and_says_by_how_much() -> None:
    p = loosened(1)
    c = limited(p, -30.0)
    r = solve_under(c, KEY, LAW)
    assert r.status == "relaxed"
    state = r.windows[c.index[KEY]]
    assert state.state == "above"
    assert state.value == pytest.approx(at(c, r.x), abs=0.02)
    assert state.off_by == pytest.approx(state.value + 30.0)


def test_the_problem_is_left_with_the_tangent_so_that_it_answers_the_same() -> None:
    for seed in range(5):
        p = loosened(seed)
        plain = solve(compile(p)[0])
        c = limited(p, at(compile(p)[0], plain.x) - 0.05)
        r = solve_under(c, KEY, LAW)
        if r.status == "ok":
            np.testing.assert_allclose(solve(c).x, r.x, atol=2e-4 * p.scale.max())


def worst_step(recipe: object, first: float, last: float, points: int = 40, depth: int = 24) -> float:
    ts = np.linspace(first, last, points)
    found = [recipe(float(t)) for t in ts]  # type: ignore[operator]
    steps = [float(np.abs(b - a).max()) for a, b in pairwise(found)]
    worst = 0.0
    for i in np.argsort(steps)[-3:].tolist():
        (ta, a), (tb, b) = (float(ts[i]), found[i]), (float(ts[i + 1]), found[i + 1])
        for _ in range(depth):
            t = 0.5 * (ta + tb)
            x = recipe(t)  # type: ignore[operator]
            if np.abs(x - a).max() >= np.abs(b - x).max():
                tb, b = t, x
            else:
                ta, a = t, x
        worst = max(worst, float(np.abs(b - a).max()))
    return worst


@pytest.mark.parametrize("seed", [0, 1, 4])
def test_no_jump_when_limit_or_ore_changes_a_little(seed: int) -> None:
    p = loosened(seed)
    per_100 = 30.0 / float(p.scale[0])
    plain = solve(compile(p)[0])
    top = at(compile(p)[0], plain.x)
    c = limited(p, top - 0.04)

    def by_limit(drop: float) -> Vec:
        update(c, limits={KEY: (-np.inf, top - drop)})
        return solve_under(c, KEY, LAW).x * per_100

    assert worst_step(by_limit, -0.05, 0.08) < 1e-3
    d = limited(p, top - 0.04)

    def by_silica(share: float) -> Vec:
        b = p.b.copy()
        b[0] *= 1.0 + share
        update(d, b=b)
        return solve_under(d, KEY, LAW).x * per_100

    assert worst_step(by_silica, -0.2, 0.2) < 1e-3


def test_the_thinnest_melt_is_as_thin_as_another_optimiser_finds() -> None:
    compared = 0
    for seed in range(12):
        p = loosened(seed)
        plain = solve(compile(p)[0])
        if plain.status != "ok":
            continue
        c, _ = compile(replace(p, goal=Goal("closest")))
        r = thinnest(c, LAW)
        assert r.status == "ok"
        ours = at(c, r.x) + 0.005 * float((r.x / p.scale).sum())
        theirs = referee(p, [plain.x, r.x, np.clip(p.ref, p.lo, p.hi)], None, thin=True)
        assert ours <= theirs + 0.01
        assert at(c, r.x) <= at(c, plain.x) + 1e-9
        np.testing.assert_allclose(solve(c).x, r.x, atol=1e-6 * p.scale.max())
        compared += 1
    assert compared >= 8


def test_a_law_that_tells_nothing_holds_nothing() -> None:
    p = loosened(0)
    plain = solve(compile(p)[0])

    def silent(n: Vec) -> tuple[float, Vec]:
        return float("nan"), np.zeros(len(n))

    c = limited(p, 0.3)
    np.testing.assert_allclose(solve_under(c, KEY, silent).x, plain.x, atol=1e-9)
    d, _ = compile(replace(p, goal=Goal("closest")))
    assert np.isfinite(thinnest(d, silent).x).all()


def test_fixed_rows_stay_fixed_and_their_viscosity_is_told() -> None:
    p = loosened(3)
    fixed = replace(p, lo=p.ref, hi=p.ref)
    c = limited(fixed, -30.0)
    r = solve_under(c, KEY, LAW)
    np.testing.assert_array_equal(r.x, p.ref)
    assert r.windows[c.index[KEY]].value == pytest.approx(at(c, p.ref))


def test_numbers_that_are_none_are_refused_and_answered() -> None:
    c = limited(loosened(0), 0.0)
    update(c, b=np.full(len(c.b), np.nan))
    assert solve_under(c, KEY, LAW).status == "invalid"
    assert thinnest(c, LAW).status == "invalid"
