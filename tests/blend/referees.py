"""Independent solvers that judge ours: HiGHS for what can hold at all, Clarabel for the best value."""

from typing import Any

import clarabel
import highspy
import numpy as np
from scipy import sparse

from fluxlab.blend.types import Mat, Problem, Vec
from tests.blend.instances import literal_rows


def _quiet_highs() -> Any:
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", 10.0)
    return solver


_HIGHS = _quiet_highs()


def box(p: Problem) -> tuple[Vec, Vec]:
    """Bounds in scale units, a lower bound above the stock taken down to it."""
    return np.minimum(p.lo, p.hi) / p.scale, p.hi / p.scale


def unit_rows(p: Problem) -> tuple[Mat, Vec]:
    """The literal rows in scale units, each of length 1 where it has any."""
    A, h = literal_rows(p)
    A = A * p.scale
    norm = np.linalg.norm(A, axis=1)
    norm = np.where(norm > 1e-12, norm, 1.0)
    return A / norm[:, None], h / norm


def margin(A: Mat, h: Vec, lower: Vec, upper: Vec) -> float:
    """Greatest t with A y >= h + t somewhere in the box, at most 1; nan where HiGHS gives none."""
    rows, n = A.shape
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = n + 1, rows
    lp.col_cost_ = np.append(np.zeros(n), -1.0)
    lp.col_lower_, lp.col_upper_ = np.append(lower, -1e6), np.append(upper, 1.0)
    lp.row_lower_, lp.row_upper_ = h, np.full(rows, np.inf)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.arange(rows + 1) * (n + 1)
    lp.a_matrix_.index_ = np.tile(np.arange(n + 1), rows)
    lp.a_matrix_.value_ = np.hstack((A, -np.ones((rows, 1)))).ravel()
    _HIGHS.passModel(lp)
    _HIGHS.run()
    if _HIGHS.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return float("nan")
    return float(_HIGHS.getSolution().col_value[-1])


def least(H: Vec, g: Vec, A: Mat, h: Vec, lower: Vec, upper: Vec) -> float:
    """Least of y.diag(H).y/2 + g.y with A y >= h in the box, by Clarabel; nan where it gives none."""
    n = len(g)
    eye = np.eye(n)
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.tol_gap_abs = settings.tol_gap_rel = 1e-11
    settings.tol_feas = 1e-11
    solver = clarabel.DefaultSolver(
        sparse.csc_matrix(np.diag(H)),
        g,
        sparse.csc_matrix(np.vstack((-A, eye, -eye))),
        np.concatenate((-h, upper, -lower)),
        [clarabel.NonnegativeConeT(len(h) + 2 * n)],
        settings,
    )
    answer = solver.solve()
    if "Solved" not in str(answer.status):
        return float("nan")
    y = np.array(answer.x)
    return float(0.5 * (H * y) @ y + g @ y)
