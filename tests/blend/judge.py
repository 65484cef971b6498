"""One problem judged from outside: statuses, bounds, window values, what can hold, and the least value."""

import numpy as np

from fluxlab.blend.problem import compile
from fluxlab.blend.solve import solve
from fluxlab.blend.types import KernelChoice, Problem, Result
from tests.blend import referees
from tests.blend.instances import values

CLEAR = 1e-6


def aim(p: Problem) -> tuple[np.ndarray, np.ndarray, float]:
    """Diagonal and linear part of the goal in scale units, and the factor between them and the goal itself."""
    raw = {"cost": p.cost, "mass": np.ones_like(p.cost), "closest": np.zeros_like(p.cost)}[p.goal.kind] * p.scale
    size = float(np.abs(raw).max(initial=0.0))
    smooth = p.goal.smooth if size else 1.0
    linear = raw / size if size else raw
    return np.full(len(raw), smooth), linear - smooth * p.ref / p.scale, smooth


def judge(p: Problem, kernel: KernelChoice = "auto", objective: bool = True) -> Result:
    """Solve and hold the answer against definition, HiGHS and Clarabel; AssertionError says what is wrong."""
    c, _ = compile(p, kernel)
    r = solve(c)
    x = r.x
    assert np.isfinite(x).all()
    assert np.isfinite([r.cost, r.mass, r.residual, r.micros]).all()
    low, high = referees.box(p)
    slack = 1e-9 * p.scale
    assert (x >= low * p.scale - slack).all()
    assert (x <= high * p.scale + slack).all()
    assert r.residual <= 1e-7
    _states_match(p, r)
    if any(w.state == "undefined" for w in r.windows):
        return r
    A, h = referees.unit_rows(p)
    room = referees.margin(A, h, low, high)
    if room > CLEAR:
        assert r.status == "ok", f"HiGHS finds room {room:.2e}, the answer is {r.status}"
    elif room < -CLEAR and r.status == "ok":
        # Nothing holds exactly; then the answer may only miss by what no operator can see.
        assert float(np.maximum(h - A @ (x / p.scale), 0.0).max()) >= -room - CLEAR
    if r.status == "impossible":
        physical = np.repeat([w.priority == 0 for w in p.windows], 2)[_both_ends(p)]
        assert not referees.margin(A[physical], h[physical], low, high) > CLEAR
    if objective and r.status == "ok" and room > CLEAR:
        H, g, _ = aim(p)
        y = x / p.scale
        ours = float(0.5 * (H * y) @ y + g @ y)
        theirs = referees.least(H, g, A, h, low, high)
        if not np.isnan(theirs):
            assert abs(ours - theirs) <= 1e-7 * max(1.0, abs(theirs))
    return r


def _both_ends(p: Problem) -> np.ndarray:
    return np.isfinite([end for w in p.windows for end in (w.lo, w.hi)])


def _states_match(p: Problem, r: Result) -> None:
    q = Problem(
        **{f: getattr(p, f) for f in p.__dataclass_fields__ if f != "b"}, b=np.maximum(p.b, 0.0)
    )  # negative amounts count as none
    plain = values(q, r.x)
    for w, state, v in zip(p.windows, r.windows, plain, strict=True):
        if state.state == "undefined":
            continue
        size = max(abs(v), w.tol)
        assert abs(state.value - v) <= 1e-9 * size
        off = max(w.lo - v, v - w.hi)
        assert (state.state in ("below", "above")) == (off > 1e-3 * w.tol) or abs(off - 1e-3 * w.tol) < 1e-9 * size
        if state.state in ("below", "above"):
            assert abs(state.off_by - off) <= 1e-9 * size
    assert (r.status in ("relaxed", "impossible")) == bool(r.opened)
