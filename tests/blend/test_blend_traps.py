"""Data that breaks solvers: each is refused in words, repaired with a note, or decided before any solver sees it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.blend import kernel
from fluxlab.blend.explain import conflict, effects, limit_effects, why
from fluxlab.blend.problem import compile, update
from fluxlab.blend.rounding import round_recipe
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Functional, Goal, Note, Problem, Result, Window
from fluxlab.blend.words import note_issue, sentences
from fluxlab.issue import Severity
from tests.blend.instances import realistic
from tests.blend.test_closed_forms import degree, problem, total

INF = float("inf")
BAD = [float("nan"), INF, -INF]


def solved(p: Problem) -> Result:
    return solve(compile(p)[0])


def codes(p: Problem) -> set[str]:
    return {n.code for n in solved(p).notes}


@pytest.mark.parametrize("bad", BAD)
@pytest.mark.parametrize("field", ["Y", "b", "cost", "lo", "ref", "scale"])
def test_a_figure_that_is_no_number_is_refused_by_name(field: str, bad: float) -> None:
    p = realistic(0, 6)
    array = getattr(p, field).copy()
    array.flat[0] = bad
    r = solved(replace(p, **{field: array}))
    assert r.status == "invalid"
    assert np.isfinite(r.x).all()
    assert np.isfinite([r.cost, r.mass]).all()
    issues = [note_issue(p, n) for n in r.notes]
    assert any(i.severity is Severity.ERROR and i.sentence for i in issues)


def test_a_stock_that_is_no_number_is_refused_and_an_open_one_is_not() -> None:
    p = realistic(0, 6)
    hi = p.hi.copy()
    hi[1] = float("nan")
    assert solved(replace(p, hi=hi)).status == "invalid"
    hi[1] = INF
    assert solved(replace(p, hi=hi)).status == "ok"


@pytest.mark.parametrize(("lo", "hi"), [(float("nan"), 1.0), (INF, INF), (-INF, -INF), (0.0, float("nan"))])
def test_a_limit_that_is_no_number_is_refused(lo: float, hi: float) -> None:
    r = solved(problem("s", (0.1, 0, 1), (degree(lo, hi, 1),)))
    assert r.status == "invalid"
    assert Note("not_a_number", "degree") in r.notes


def test_a_window_turned_inside_out_is_refused_as_empty() -> None:
    r = solved(problem("s", (0.1, 0, 1), (degree(2.0, 1.0, 1),)))
    assert (r.status, r.notes[0].code, r.notes[0].subject) == ("invalid", "empty_window", "degree")


@pytest.mark.parametrize("tol", [0.0, -1.0, float("nan")])
def test_a_tolerance_must_be_more_than_zero(tol: float) -> None:
    assert "bad_tolerance" in codes(problem("s", (0.1, 0, 1), (replace(degree(1, 2, 1), tol=tol),)))


def test_bad_numbers_mended_by_an_update_are_forgotten() -> None:
    p = realistic(0, 6)
    c, _ = compile(p)
    update(c, b=np.full(len(p.b), np.nan), bounds=(p.lo, np.full(6, np.nan)), limits={p.windows[0].key: (2.0, 1.0)})
    assert solve(c).status == "invalid"
    update(c, b=p.b, bounds=(p.lo, p.hi), limits={p.windows[0].key: (p.windows[0].lo, p.windows[0].hi)})
    assert np.array_equal(solve(c).x, solved(p).x)


def test_shapes_that_disagree_are_our_own_fault_and_raise() -> None:
    p = realistic(0, 6)
    with pytest.raises(ValueError, match="shape"):
        compile(replace(p, cost=p.cost[:-1]))
    with pytest.raises(ValueError, match="share a key"):
        compile(replace(p, windows=p.windows + p.windows[:1]))


def test_a_degree_without_any_base_is_undefined_and_said_so() -> None:
    r = solved(problem("s", (1.0, 0, 0), (degree(1.0, 2.0, 1),)))
    assert r.status == "undefined"
    assert r.windows[0].state == "undefined"
    assert "cannot be worked out" in sentences(problem("s", (1.0, 0, 0), (degree(1.0, 2.0, 1),)), r)[1]


def test_an_empty_charge_does_not_pass_for_a_degree_that_holds() -> None:
    """acid O >= K base O is satisfied by nothing at all: the guard keeps the ratio defined."""
    r = solved(problem("sc", (0, 0, 0), (degree(1.5, 2.0, 2),)))
    value = r.windows[0].value
    assert r.status == "ok"
    assert 1.5 - 1e-6 <= value <= 2.0 + 1e-6
    assert r.x[1] > 0.0
    assert Note("no_oxides") in r.notes


def test_no_ore_gives_the_house_recipe_projected() -> None:
    p = problem("sc", (0, 0, 0), (degree(1.5, 2.0, 2),), house=(30.0, 28.0))
    assert np.allclose(solved(p).x, [30.0, 28.0])  # 2*0.5/0.5 = 2.0: already inside


def test_a_row_that_no_flux_changes_is_decided_as_a_constant() -> None:
    only_c = Functional(np.array([0.0, 0.0, 1.0]), np.zeros(1))
    inside = Window("c", "lime oxide", "mol", 0.0, 2.0, only_c, None, 0.1, 1)
    outside = replace(inside, hi=0.5)
    held, broken = (problem("s", (0.1, 0, 1), (degree(1.5, INF, 1), w)) for w in (inside, outside))
    assert Note("fixed", "c", 1.0) in solved(held).notes
    r = solved(broken)
    assert Note("fixed_outside", "c", 1.0) in r.notes
    assert [w.key for w in r.opened] == ["c"]
    assert r.x == pytest.approx(solved(held).x)
    found = conflict(compile(broken)[0])
    assert found is not None
    assert found.windows == ("c",)


def test_less_than_no_oxide_is_counted_as_none() -> None:
    p = problem("s", (-0.1, 0, 1), (degree(1.5, INF, 1),))
    assert Note("negative_amount", "S", -0.1) in solved(p).notes
    assert solved(p).x == pytest.approx(solved(problem("s", (0.0, 0, 1), (degree(1.5, INF, 1),))).x)


def test_more_wanted_than_in_stock_takes_the_stock() -> None:
    p = replace(problem("s", (0.1, 0, 1), (degree(1.5, INF, 1),)), lo=np.array([50.0]), hi=np.array([20.0]))
    r = solved(p)
    assert r.x == pytest.approx([20.0])
    assert Note("more_than_stock", "s", 20.0) in r.notes


def test_everything_fixed_is_judged_without_a_solver() -> None:
    p = replace(problem("s", (0.1, 0, 1), (degree(1.5, INF, 1),)), lo=np.array([5.0]), hi=np.array([5.0]))
    r = solved(p)
    assert (r.solves, r.kernel, r.locked) == (0, "none", ("s",))
    assert r.x == pytest.approx([5.0])
    assert [w.key for w in r.opened] == ["degree"]


def test_a_problem_without_windows_uses_nothing() -> None:
    r = solved(problem("sc", (0.1, 0, 1), ()))
    assert r.status == "ok"
    assert np.array_equal(r.x, [0.0, 0.0])


def test_prices_all_zero_fall_back_to_the_house_recipe() -> None:
    p = replace(problem("s", (0.1, 0, 1), (), house=(7.0,)), cost=np.zeros(1), goal=Goal("cost"))
    assert "no_prices" in codes(p)
    assert solved(p).x == pytest.approx([7.0])


def test_an_open_stock_behaves_like_a_large_one() -> None:
    p = realistic(5, 12)
    far = np.where(p.lo < p.hi, 1e3 * p.scale, p.hi)
    free = np.where(p.lo < p.hi, INF, p.hi)
    assert np.allclose(solved(replace(p, hi=far)).x, solved(replace(p, hi=free)).x, atol=1e-8 * p.scale[0])


def test_the_compiled_kernel_missing_is_survived(monkeypatch: pytest.MonkeyPatch) -> None:
    p = realistic(2, 12)
    with_it = solved(p).x
    monkeypatch.setattr(kernel, "_daqp", lambda: None)
    r = solved(p)
    assert r.kernel == "numpy"
    assert np.allclose(r.x, with_it, atol=1e-8 * p.scale[0])


def test_an_answer_of_the_compiled_kernel_that_fails_the_check_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    real = kernel._daqp()

    def wrong(*args: object, **settings: object) -> object:
        y, value, flag, info = real(*args, **settings)
        return y + 1e-4, value, flag, info

    monkeypatch.setattr(kernel, "_daqp", lambda: wrong)
    p = realistic(2, 12)
    r = solved(p)
    assert r.kernel == "numpy"
    assert r.residual <= 1e-7


def test_a_compiled_kernel_that_cries_infeasible_is_overruled(monkeypatch: pytest.MonkeyPatch) -> None:
    p = realistic(2, 12)
    right = solved(p).x
    size = len(p.cost)

    def never(H: object, f: np.ndarray, *args: object, **settings: object) -> object:
        return np.full(len(f), np.nan), 0.0, -1, {"lam": np.full(size, np.nan)}

    monkeypatch.setattr(kernel, "_daqp", lambda: never)
    r = solved(p)
    assert (r.status, r.kernel) == ("ok", "numpy")
    assert np.allclose(r.x, right, atol=1e-8 * p.scale[0])


def test_a_row_of_nan_that_the_compiled_kernel_would_ignore_is_caught_by_the_check() -> None:
    A = np.array([[np.nan]])
    answer = kernel.solve_qp(np.eye(1), np.zeros(1), A, np.ones(1), None, np.zeros(1), np.ones(1))
    assert answer.status <= 0


def test_a_zero_row_that_cannot_hold_is_found_infeasible_by_both_kernels() -> None:
    for choice in ("auto", "numpy"):
        answer = kernel.solve_qp(
            np.eye(2), np.zeros(2), np.zeros((1, 2)), np.ones(1), None, np.zeros(2), np.ones(2), choice
        )
        assert answer.status == -1


def test_kernel_statuses_are_plain_python() -> None:
    for choice in ("auto", "numpy"):
        answer = kernel.solve_qp(np.eye(1), -np.ones(1), np.eye(1), np.zeros(1), None, np.zeros(1), np.ones(1), choice)
        assert type(answer.status) is int
        assert type(answer.residual) is float


numbers = st.one_of(
    st.floats(-1e6, 1e6), st.sampled_from([0.0, -0.0, 1e-300, 1e300, float("nan"), INF, -INF, 5e-324, 1e-12])
)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_no_data_whatever_makes_the_solver_raise(data: st.DataObject) -> None:
    n, m = 3, 3
    array = lambda k: np.array(data.draw(st.lists(numbers, min_size=k, max_size=k)))  # noqa: E731
    windows = tuple(
        Window(
            f"w{k}", f"w{k}", "", data.draw(numbers), data.draw(numbers), Functional(array(m), array(n), 0.0),
            Functional(array(m), array(n), 0.0) if data.draw(st.booleans()) else None,
            data.draw(numbers), data.draw(st.sampled_from([0, 1, 2, 3])),
        )
        for k in range(data.draw(st.integers(0, 3)))
    )  # fmt: skip
    p = Problem(
        ("a", "b", "c"), ("x", "y", "z"), array(m * n).reshape(m, n), array(m), array(n), array(n), array(n), array(n),
        np.full(n, 30.0), np.full(n, 0.1), windows, Goal(data.draw(st.sampled_from(["cost", "mass", "closest"]))),
    )  # fmt: skip
    with np.errstate(all="ignore"):
        c, _ = compile(p)
        r = solve(c)
        assert r.x.shape == (n,)
        if r.status != "invalid":
            assert np.isfinite(r.x).all()
        why(c, r), conflict(c), sentences(p, r), round_recipe(c, r.x)
        effects(c, r), limit_effects(c, r)


def test_the_total_of_two_fluxes_is_shared_without_a_target_for_either() -> None:
    r = solved(problem("sc", (0.1, 0, 1), (total(30.0, 30.0, 2),)))
    assert r.x == pytest.approx([15.0, 15.0])
