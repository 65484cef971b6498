"""Problems of one and two fluxes, whose answers can be written down."""

import numpy as np
import pytest

from fluxlab.blend.problem import compile
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Functional, Goal, KernelChoice, Problem, Vec, Window

INF = float("inf")
# Oxides S (acid, 2 O), B (acid, 3 O), C (base, 1 O); components silica, borate and lime at one oxide each.
SILICA, BORATE, LIME = 60.0, 70.0, 56.0


def problem(
    components: str, b: tuple[float, float, float], windows: tuple[Window, ...], house: tuple[float, ...] | None = None
) -> Problem:
    columns = {"s": (1 / SILICA, 0, 0), "b": (0, 1 / BORATE, 0), "c": (0, 0, 1 / LIME)}
    n = len(components)
    return Problem(
        oxides=("S", "B", "C"),
        components=tuple(components),
        Y=np.array([columns[k] for k in components], dtype=float).T,
        b=np.array(b, dtype=float),
        cost=np.ones(n),
        lo=np.zeros(n),
        hi=np.full(n, 1000.0),
        ref=np.zeros(n) if house is None else np.array(house),
        scale=np.full(n, 30.0),
        step=np.full(n, 0.1),
        windows=windows,
        goal=Goal("mass") if house is None else Goal("closest"),
    )


def f(s: float, b: float, c: float, n: int) -> Functional:
    return Functional(np.array([s, b, c]), np.zeros(n))


def degree(lo: float, hi: float, n: int, priority: int = 1) -> Window:
    return Window("degree", "silicate degree", "", lo, hi, f(2, 3, 0, n), f(0, 0, 1, n), 0.05, priority)


def share(lo: float, hi: float, n: int) -> Window:
    return Window("share", "borate share", "", lo, hi, f(0, 1, 0, n), f(1, 1, 0, n), 0.02, 1)


def total(lo: float, hi: float, n: int, priority: int = 1) -> Window:
    none = np.zeros(3)
    return Window("total", "flux", "g", lo, hi, Functional(none, np.ones(n)), None, 1.0, priority)


@pytest.fixture(params=["auto", "numpy"])
def kernel(request: pytest.FixtureRequest) -> KernelChoice:
    choice: KernelChoice = request.param
    return choice


def recipe(p: Problem, kernel: KernelChoice) -> Vec:
    r = solve(compile(p, kernel)[0])
    assert r.status == "ok"
    return r.x


def test_silica_alone_meets_a_least_degree_exactly(kernel: KernelChoice) -> None:
    """2 (b_S + x/M) / b_C = K gives x = M (K b_C / 2 - b_S)."""
    x = recipe(problem("s", (0.1, 0.0, 1.0), (degree(1.5, INF, 1),)), kernel)
    assert x[0] == pytest.approx(SILICA * (1.5 * 1.0 / 2 - 0.1), rel=1e-12)


def test_lime_alone_meets_a_greatest_degree_exactly(kernel: KernelChoice) -> None:
    """2 b_S / (b_C + x/M) = K gives x = M (2 b_S / K - b_C)."""
    x = recipe(problem("c", (1.0, 0.0, 0.2), (degree(-INF, 1.6, 1),)), kernel)
    assert x[0] == pytest.approx(LIME * (2 * 1.0 / 1.6 - 0.2), rel=1e-12)


def test_nothing_is_added_where_the_ore_is_inside_its_band(kernel: KernelChoice) -> None:
    x = recipe(problem("sc", (0.8, 0.0, 1.0), (degree(1.5, 1.7, 2),)), kernel)
    assert np.array_equal(x, [0.0, 0.0])


def test_silica_and_borate_at_a_degree_and_a_share_solve_two_equations(kernel: KernelChoice) -> None:
    """With t mol of acid oxides, share y of them borate: 2 (1 - y) t + 3 y t = K b_C."""
    K, y, base, s0 = 2.0, 0.25, 1.2, 0.1
    x = recipe(problem("sb", (s0, 0.0, base), (degree(K, K, 2), share(y, y, 2))), kernel)
    acid = K * base / (2 * (1 - y) + 3 * y)
    np.testing.assert_allclose(x, [SILICA * ((1 - y) * acid - s0), BORATE * y * acid], rtol=1e-11)


def test_the_house_recipe_is_projected_onto_a_total(kernel: KernelChoice) -> None:
    """Nearest point of x1 + x2 = T to r: both move by half the gap."""
    x = recipe(problem("sc", (0.5, 0.0, 0.5), (total(60.0, 60.0, 2),), house=(10.0, 30.0)), kernel)
    np.testing.assert_allclose(x, [20.0, 40.0], rtol=1e-12)


def test_equal_components_share_the_work_equally(kernel: KernelChoice) -> None:
    x = recipe(problem("ss", (0.1, 0.0, 1.0), (degree(1.5, INF, 2),)), kernel)
    np.testing.assert_allclose(x, [0.5 * SILICA * 0.65] * 2, rtol=1e-12)


def test_two_equal_wishes_that_conflict_meet_halfway_in_tolerances() -> None:
    """x >= 40 and x <= 30 with one weight: the quadratic part splits the gap evenly when the tolerances are equal."""
    windows = (total(40.0, INF, 1, 2), Window("cap", "cap", "g", -INF, 30.0, total(0, 1, 1).num, None, 1.0, 2))
    r = solve(compile(problem("s", (0.5, 0.0, 0.5), windows))[0])
    assert r.status == "relaxed"
    assert r.x[0] == pytest.approx(35.0, abs=0.1)
    assert [w.state for w in r.windows] == ["below", "above"]


def test_a_must_stands_against_a_wish() -> None:
    windows = (total(40.0, INF, 1, 1), Window("cap", "cap", "g", -INF, 30.0, total(0, 1, 1).num, None, 1.0, 2))
    r = solve(compile(problem("s", (0.5, 0.0, 0.5), windows))[0])
    assert r.x[0] == pytest.approx(40.0, abs=1e-9)
    assert [w.key for w in r.opened] == ["cap"]
    assert r.opened[0].off_by == pytest.approx(10.0)
    assert r.opened[0].off_tol == pytest.approx(10.0)


def test_a_physical_row_stands_against_a_must() -> None:
    windows = (total(40.0, INF, 1, 1), Window("pot", "pot", "g", -INF, 30.0, total(0, 1, 1).num, None, 1.0, 0))
    r = solve(compile(problem("s", (0.5, 0.0, 0.5), windows))[0])
    assert r.status == "relaxed"
    assert r.x[0] == pytest.approx(30.0, abs=1e-9)


def test_physical_rows_that_cannot_hold_are_missed_by_as_little_as_can_be() -> None:
    """x >= 40 and x <= 30, both physical, equal tolerances: least squares is halfway, whatever a must says."""
    pots = (
        Window("least", "least", "g", 40.0, INF, total(0, 1, 1).num, None, 1.0, 0),
        Window("most", "most", "g", -INF, 30.0, total(0, 1, 1).num, None, 1.0, 0),
        total(90.0, INF, 1, 1),
    )
    r = solve(compile(problem("s", (0.5, 0.0, 0.5), pots))[0])
    assert r.status == "impossible"
    assert r.x[0] == pytest.approx(35.0, abs=1e-4)


@pytest.mark.parametrize("tol", [0.5, 1.0, 2.0])
def test_the_price_of_a_limit_is_what_one_tolerance_saves(tol: float) -> None:
    window = Window("total", "flux", "g", 40.0, INF, total(0, 1, 1).num, None, tol, 1)
    r = solve(compile(problem("s", (0.5, 0.0, 0.5), (window,)))[0])
    assert r.windows[0].state == "at_lo"
    assert r.windows[0].price == pytest.approx(tol, rel=1e-9)


def test_prices_can_be_left_out() -> None:
    c, _ = compile(problem("s", (0.5, 0.0, 0.5), (total(40.0, INF, 1, 1),)))
    bare, full = solve(c, priced=False), solve(c)
    assert (bare.windows[0].state, bare.windows[0].price) == ("at_lo", None)
    assert full.windows[0].price is not None
    assert np.array_equal(bare.x, full.x)
