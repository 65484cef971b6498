"""The ten verified cases, on both kernels."""

import numpy as np
import pytest

from fluxlab.blend.explain import conflict, effects
from fluxlab.blend.fractional import reach
from fluxlab.blend.kernel import has_compiled_kernel
from fluxlab.blend.problem import Compiled, compile, update
from fluxlab.blend.rounding import cheapest_on_grid, round_recipe
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Goal, KernelChoice
from tests.blend.cases import case, problem

KERNELS: list[KernelChoice] = ["auto", "numpy"]
STRICT = ["S01", "S02", "S03", "S05", "S10"]


@pytest.fixture(params=KERNELS)
def kernel(request: pytest.FixtureRequest) -> KernelChoice:
    choice: KernelChoice = request.param
    return choice


def compiled(name: str, kernel: KernelChoice, goal: Goal | None = None) -> Compiled:
    goal = goal or Goal("closest" if name == "S05" else "cost")
    c, notes = compile(problem(case(name)["data"], goal), kernel)
    assert notes == []
    return c


def test_the_compiled_kernel_is_installed_where_the_tests_run() -> None:
    assert has_compiled_kernel()


@pytest.mark.parametrize("name", STRICT)
def test_assembled_rows_equal_the_rows_of_the_case(name: str) -> None:
    c, expected = compiled(name, "auto"), case(name)["matrices"]
    s = c.system()
    A = np.zeros((len(s.h), len(c.cost)))
    A[:, s.free] = s.G * s.norm[:, None] / s.sigma
    pairs = list(zip(s.window.tolist(), ["lo" if side > 0 else "hi" for side in s.side], strict=True))
    order = [pairs.index(p) for p in zip(expected["row_window"], expected["row_side"], strict=True)]
    assert len(order) == int((s.window >= 0).sum())
    full = np.array(expected["A"])
    locked = ~c.is_free
    full_h = np.array(expected["h"]) - full[:, locked] @ c.low[locked]
    full[:, locked] = 0.0
    np.testing.assert_allclose(A[order], full, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose((s.h * s.norm)[order], full_h, rtol=1e-9, atol=1e-10)


@pytest.mark.parametrize("name", STRICT)
def test_strict_answers_equal_the_exact_ones(name: str, kernel: KernelChoice) -> None:
    c, expected = compiled(name, kernel), case(name)["expected"]
    r = solve(c)
    assert r.status == "ok"
    assert r.kernel == ("daqp" if kernel == "auto" else "numpy")
    assert r.residual <= 1e-9
    np.testing.assert_allclose(r.x, expected["x"], atol=1e-8)
    if "cost" in expected:
        assert r.cost == pytest.approx(expected["cost"], rel=1e-9)
    if "window_values" in expected:
        values = [w.value for w in r.windows]
        np.testing.assert_allclose(values, expected["window_values"], rtol=1e-8, atol=1e-9)


@pytest.mark.parametrize("name", STRICT)
def test_limits_that_bind_are_the_ones_with_a_multiplier(name: str, kernel: KernelChoice) -> None:
    data, expected = case(name), case(name)["expected"]
    r = solve(compiled(name, kernel))
    binding = {
        (data["matrices"]["row_window"][i], "at_" + data["matrices"]["row_side"][i])
        for i, lam in enumerate(expected["row_multipliers"])
        if lam > 0.0
    }
    found = {(k, w.state) for k, w in enumerate(r.windows) if w.price is not None}
    assert found == binding


def test_an_exact_least_cost_breaks_ties_towards_the_house_recipe(kernel: KernelChoice) -> None:
    expected = case("S04")["expected"]
    r = solve(compiled("S04", kernel, Goal("cost", smooth=0.0)))
    assert r.status == "ok"
    assert r.cost == pytest.approx(expected["minimum_cost"], rel=1e-8)
    np.testing.assert_allclose(r.x, expected["x_tiebreak"], atol=expected["tolerance_x"])


def test_a_smoothed_least_cost_stays_within_its_promise_of_the_exact_one(kernel: KernelChoice) -> None:
    r = solve(compiled("S04", kernel))
    assert 0.0 <= r.cost / case("S04")["expected"]["minimum_cost"] - 1.0 <= 0.015


def test_the_smallest_conflict_and_what_each_window_alone_would_need(kernel: KernelChoice) -> None:
    expected = case("S06")["expected"]
    c = compiled("S06", kernel)
    assert solve(c).status == "relaxed"
    found = conflict(c)
    assert found is not None
    assert list(found.windows) == expected["minimal_conflict"]
    assert not found.more
    for relief, wanted in zip(found.reliefs, expected["relax_one_alone"], strict=True):
        assert (relief.window, relief.side) == (wanted["window"], wanted["limit"])
        assert relief.asked == wanted["asked"]
        assert relief.needed == pytest.approx(wanted["needed"], rel=1e-8)


def test_the_cheapest_recipe_on_the_balance_equals_exhaustive_enumeration(kernel: KernelChoice) -> None:
    expected = case("S07")["expected"]
    c = compiled("S07", kernel, Goal("cost", smooth=0.0))
    assert solve(c).cost == pytest.approx(expected["continuous_cost"], rel=1e-8)
    x, proved = cheapest_on_grid(c, expected["resolution_g"])
    assert proved
    assert x is not None
    np.testing.assert_allclose(x, expected["x"], atol=1e-9)


def test_the_rounding_cascade_finds_the_same_recipe_there(kernel: KernelChoice) -> None:
    c = compiled("S07", kernel)
    rounded = round_recipe(c, solve(c).x)
    assert rounded.kept_all
    np.testing.assert_allclose(rounded.x, case("S07")["expected"]["x"], atol=1e-9)


def test_the_nominal_recipe_of_the_uncertain_case(kernel: KernelChoice) -> None:
    np.testing.assert_allclose(solve(compiled("S08", kernel)).x, case("S08")["expected"]["nominal_x"], atol=1e-8)


def test_the_reach_of_a_window_and_of_a_second_one_with_the_first_pinned(kernel: KernelChoice) -> None:
    expected = case("S09")["expected"]
    c = compiled("S09", kernel)
    degree, borate = expected["x_window"], expected["y_window"]
    assert reach(c, degree) == pytest.approx(expected["x_range"], abs=1e-8)
    for row in expected["rows"]:
        update(c, limits={degree: (row["x_value"], row["x_value"])})
        assert reach(c, borate) == pytest.approx((row["y_min"], row["y_max"]), abs=1e-8)


def test_one_more_gram_of_an_oxide_moves_the_recipe_as_derived(kernel: KernelChoice) -> None:
    expected = case("S10")["expected"]["one_more_gram_of"]
    c = compiled("S10", kernel)
    found = effects(c, solve(c), tuple(expected))
    for effect in found:
        wanted = expected[effect.cause]
        np.testing.assert_allclose(effect.dx, wanted["dx_per_gram"], atol=1e-8)
        assert effect.dcost == pytest.approx(wanted["dcost_per_gram"], rel=1e-7)
        assert effect.holds_for == pytest.approx(wanted["valid_up_to_grams"], rel=1e-6)
