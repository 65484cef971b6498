"""The two kernels on bare programs, against scipy and each other."""

import numpy as np
import pytest
from scipy.optimize import linprog, minimize

from fluxlab.blend.goldfarb_idnani import minimise
from fluxlab.blend.kernel import INF, kkt_residual, solve_lp, solve_qp
from fluxlab.blend.types import KernelChoice, Mat, Vec


@pytest.fixture(params=["auto", "numpy"])
def kernel(request: pytest.FixtureRequest) -> KernelChoice:
    choice: KernelChoice = request.param
    return choice


def program(seed: int, n: int = 5, rows: int = 8) -> tuple[np.ndarray, ...]:
    rng = np.random.default_rng(seed)
    A = rng.normal(size=(rows, n))
    A /= np.linalg.norm(A, axis=1)[:, None]
    inside = rng.uniform(0.2, 0.8, n)
    lo = A @ inside - rng.uniform(0.0, 0.3, rows)
    return A, lo, np.zeros(n), np.ones(n), rng.normal(size=n)


def test_linear_programs_agree_with_scipy(kernel: KernelChoice) -> None:
    for seed in range(40):
        A, lo, yl, yu, c = program(seed)
        ours = solve_lp(c, A, lo, None, yl, yu, kernel)
        theirs = linprog(c, A_ub=-A, b_ub=-lo, bounds=list(zip(yl, yu, strict=True)))
        assert ours.status == 1
        assert ours.residual <= 1e-7
        assert float(c @ ours.y) == pytest.approx(theirs.fun, abs=1e-8)


def slsqp(H: Vec, g: Vec, A: Mat, lo: Vec, hi: Vec, yl: Vec, yu: Vec) -> float:
    """The least value by scipy's SLSQP; nan where it fails."""
    answer = minimize(
        lambda y: 0.5 * y @ H @ y + g @ y,
        np.full(len(g), 0.5),
        jac=lambda y: H @ y + g,
        bounds=list(zip(yl, yu, strict=True)),
        constraints=[{"type": "ineq", "fun": lambda y: np.concatenate((A @ y - lo, hi - A @ y))}],
        options={"ftol": 1e-14, "maxiter": 500},
    )
    return float(answer.fun) if answer.success else float("nan")


def test_a_full_hessian_and_two_sided_rows_agree_with_scipy(kernel: KernelChoice) -> None:
    compared = 0
    for seed in range(20):
        A, lo, yl, yu, g = program(seed)
        root = np.random.default_rng(seed + 99).normal(size=(5, 5))
        H, hi = root @ root.T + 0.1 * np.eye(5), lo + 0.4
        if seed % 2:
            hi[0] = lo[0]
        ours = solve_qp(H, g, A, lo, hi, yl, yu, kernel)
        theirs = slsqp(H, g, A, lo, hi, yl, yu)
        if not np.isnan(theirs):
            assert ours.status == 1
            assert 0.5 * ours.y @ H @ ours.y + g @ ours.y == pytest.approx(theirs, abs=1e-7)
            compared += 1
    assert compared > 8


def test_the_check_sees_each_way_of_being_wrong() -> None:
    H, g, A = np.eye(1), -np.ones(1), np.ones((1, 1))
    lower, upper = np.array([0.0, 0.0]), np.array([2.0, INF])

    def residual(y: float, lam_box: float = 0.0, lam_row: float = 0.0) -> float:
        return kkt_residual(H, g, A, lower, upper, np.array([y]), np.array([lam_box, lam_row]))

    assert residual(1.0) == 0.0
    assert residual(1.1) > 0.05
    assert residual(-0.5, lam_row=-1.5) > 0.4
    assert residual(1.5, lam_box=0.5) > 0.3
    assert residual(float("nan")) == float("inf")


def test_two_limits_of_one_row_that_meet_are_an_equality(kernel: KernelChoice) -> None:
    A, at = np.ones((1, 3)), np.ones(1)
    answer = solve_qp(np.eye(3), np.array([0.0, -1.0, 0.0]), A, at, at, np.full(3, -9.0), np.full(3, 9.0), kernel)
    np.testing.assert_allclose(answer.y, [0.0, 1.0, 0.0], atol=1e-12)


def test_a_hessian_that_is_not_positive_is_given_up() -> None:
    status, _, _ = minimise(-np.eye(2), np.ones(2), np.zeros((0, 2)), np.zeros(2), np.ones(2))
    assert status == 0
    indefinite = np.array([[1.0, 2.0], [2.0, 1.0]])
    assert minimise(indefinite, np.ones(2), np.zeros((0, 2)), np.zeros(2), np.ones(2))[0] == 0


def test_rows_that_are_copies_of_each_other_do_no_harm(kernel: KernelChoice) -> None:
    A, lo, yl, yu, g = program(3)
    once = solve_qp(np.eye(5), g, A, lo, None, yl, yu, kernel)
    twice = solve_qp(np.eye(5), g, np.vstack((A, A)), np.concatenate((lo, lo)), None, yl, yu, kernel)
    np.testing.assert_allclose(once.y, twice.y, atol=1e-9)
