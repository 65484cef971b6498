"""The outline of the map against brute force, and the goal inside it."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.landscape import boundary, heat, outline
from fluxlab.blend.problem import compile, update
from fluxlab.blend.solve import solve, strict
from fluxlab.blend.types import Goal, KernelChoice
from tests.blend.cases import case
from tests.blend.cases import problem as case_problem
from tests.blend.instances import realistic
from tests.blend.test_closed_forms import degree, problem, share, total

DEGREE, BORATE = "silicate degree", "borate fraction"


@pytest.mark.parametrize("kernel", ["auto", "numpy"])
def test_the_verified_rows_of_the_map(kernel: KernelChoice) -> None:
    expected = case("S09")["expected"]
    c, _ = compile(case_problem(case("S09")["data"], Goal("cost")), kernel)
    found = boundary(c, DEGREE, np.array([r["x_value"] for r in expected["rows"]]), BORATE)
    for interval, row in zip(found, expected["rows"], strict=True):
        assert interval == pytest.approx((row["y_min"], row["y_max"]), abs=1e-8)


def test_the_outline_equals_brute_force_on_a_map_of_900_cells() -> None:
    c, _ = compile(case_problem(case("S09")["data"], Goal("cost")))
    X, Y = np.linspace(1.0, 2.4, 30), np.linspace(0.0, 0.95, 30)
    edges = boundary(c, DEGREE, X, BORATE)
    cells = dict(heat(c, DEGREE, X, BORATE, Y))
    inside = 0
    for i, y in enumerate(Y.tolist()):
        for j, x in enumerate(X.tolist()):
            update(c, limits={DEGREE: (x, x), BORATE: (y, y)})
            holds = strict(c.system(), "auto").status > 0
            edge = edges[j]
            if edge is None or min(abs(y - edge[0]), abs(y - edge[1])) > 1e-7:
                assert holds == (edge is not None and edge[0] <= y <= edge[1])
                assert np.isfinite(cells[i][j]) == holds
            if holds and np.isfinite(cells[i][j]):
                assert cells[i][j] == pytest.approx(solve(c).cost, rel=1e-7)
                inside += 1
    assert 100 < inside < 800


def test_the_names_on_the_outline_are_limits_that_move_it() -> None:
    """Opening the named window widens the reach there; opening another that is not near its limit does not."""
    p = case_problem(case("S09")["data"], Goal("cost"))
    c, _ = compile(p)
    checked = 0
    X = np.linspace(1.3, 1.75, 6)
    for x, edge in zip(X, outline(c, DEGREE, X, BORATE), strict=True):
        assert edge is not None
        for key, outward, end in ((edge.lo_by, -1, edge.lo), (edge.hi_by, 1, edge.hi)):
            if not key:
                continue
            w = p.windows[c.index[key]]
            update(c, limits={key: (w.lo - 0.1 * w.tol, w.hi + 0.1 * w.tol)})
            moved = outline(c, DEGREE, np.array([x]), BORATE)[0]
            update(c, limits={key: (w.lo, w.hi)})
            assert moved is not None
            assert outward * ((moved.lo if outward < 0 else moved.hi) - end) > 1e-7
            checked += 1
    assert checked >= 6


def test_a_value_out_of_reach_has_no_edge() -> None:
    c, _ = compile(case_problem(case("S09")["data"], Goal("cost")))
    assert boundary(c, DEGREE, np.array([0.01, 99.0]), BORATE) == [None, None]


def test_the_reach_of_silica_and_borate_in_closed_form() -> None:
    """No more than T grams in all, degree pinned: the share ends where the total or nothing more of one ends it."""
    c, _ = compile(problem("sb", (0.1, 0.0, 1.0), (degree(1.0, 2.0, 2), share(0.0, 1.0, 2), total(0.0, 45.0, 2))))
    (interval,) = boundary(c, "degree", np.array([1.4]), "share")
    assert interval is not None
    # 2 (0.1 + s) + 3 b = 1.4 with 60 s + 70 b <= 45: all silica needs 36 g; all borate 28 g: only zero ends it.
    assert interval[0] == pytest.approx(0.0, abs=1e-12)
    b = (1.4 - 0.2) / 3
    assert interval[1] == pytest.approx(b / (b + 0.1), rel=1e-9)


def test_only_musts_bound_the_outline_of_musts() -> None:
    wish, must = degree(1.4, 1.6, 2, 2), total(0.0, 45.0, 2, 1)
    narrow = total(0.0, 20.0, 2, 2)
    windows = (wish, share(0.0, 1.0, 2), must, replace(narrow, key="thrift"))
    c, _ = compile(problem("sb", (0.1, 0.0, 1.0), windows))
    X = np.array([1.5])
    assert boundary(c, "degree", X, "share") == [None]
    assert boundary(c, "degree", X, "share", worst=1)[0] is not None
    assert boundary(c, "degree", X, "share", leave_out=("thrift",))[0] is not None


def test_the_rows_of_the_map_come_one_at_a_time() -> None:
    c, _ = compile(realistic(1, 6))
    v = {w.key: w.value for w in solve(c).windows}
    X, Y = np.array([v[DEGREE]]), np.array([-1.0, v[BORATE], 2.0])
    rows = heat(c, DEGREE, X, BORATE, Y)
    first = next(rows)
    assert first[0] == 0
    assert np.isnan(first[1]).all()
    assert [i for i, _ in rows] == [1, 2]


def test_a_problem_that_cannot_be_solved_has_an_empty_map() -> None:
    p = problem("sb", (0.1, 0.0, 1.0), (degree(1.0, 2.0, 2), share(0.0, 1.0, 2)))
    c, _ = compile(p)
    update(c, b=np.array([np.nan, 0.0, 1.0]))
    assert boundary(c, "degree", np.array([1.5]), "share") == [None]
    assert np.isnan(next(heat(c, "degree", np.array([1.5]), "share", np.array([0.5])))[1]).all()
    none, _ = compile(problem("sb", (0.0, 0.0, 0.0), p.windows))
    assert boundary(none, "degree", np.array([1.5]), "share") == [None]
