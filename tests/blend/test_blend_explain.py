"""Effects equal solving again, conflicts are smallest, reliefs are exact, and every component has a reason."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.explain import conflict, effects, limit_effects, why
from fluxlab.blend.problem import Compiled, compile, update
from fluxlab.blend.solve import solve, strict
from fluxlab.blend.types import HOUSE, KEPT_DOWN, LEAST, LOCKED, STOCK, UNUSED, Goal
from tests.blend.instances import realistic
from tests.blend.test_closed_forms import degree, problem, total

INF = float("inf")


def compiled(seed: int, conflicting: bool = False, n: int = 12) -> Compiled:
    return compile(realistic(seed, n, conflicting))[0]


def test_the_effect_of_an_oxide_equals_solving_again() -> None:
    checked = 0
    for seed in range(20):
        c = compiled(seed)
        p, r = c.problem, solve(c)
        for e in effects(c, r):
            if e.holds_for < 1e-4:
                continue
            i = p.oxides.index(e.cause)
            added = min(0.9 * e.holds_for, 1.0)
            b = p.b.copy()
            b[i] += added / p.oxide_mass[i]
            update(c, b=b)
            after = solve(c)
            update(c, b=p.b)
            assert np.abs(after.x - r.x - added * e.dx).max() <= 1e-6 * added * max(1.0, np.abs(e.dx).max())
            assert e.dcost == pytest.approx(float(p.cost @ e.dx), abs=1e-12)
            checked += 1
    assert checked > 150


def test_an_effect_ends_where_it_says() -> None:
    ended = 0
    for seed in range(8):
        c = compiled(seed)
        p, r = c.problem, solve(c)
        for e in effects(c, r, p.oxides[:4]):
            if not 1e-3 < e.holds_for < 20.0:
                continue
            i = p.oxides.index(e.cause)
            b = p.b.copy()
            b[i] += 1.3 * e.holds_for / p.oxide_mass[i]
            update(c, b=b)
            after = solve(c)
            update(c, b=p.b)
            ended += bool(np.abs(after.x - r.x - 1.3 * e.holds_for * e.dx).max() > 1e-7 * p.scale[0])
    assert ended >= 20


def test_the_effect_of_opening_a_limit_equals_solving_again() -> None:
    """The recipe is smooth but not linear in a limit, so the move is compared over a thousandth of a tolerance."""
    checked = 0
    for seed in range(15):
        c = compiled(seed)
        p, r = c.problem, solve(c)
        for e in limit_effects(c, r):
            w = p.windows[c.index[e.cause]]
            state = r.windows[c.index[e.cause]]
            part = 1e-4
            opened = (w.lo - part * w.tol, w.hi) if state.state == "at_lo" else (w.lo, w.hi + part * w.tol)
            update(c, limits={w.key: opened})
            after = solve(c)
            update(c, limits={w.key: (w.lo, w.hi)})
            if {s.key for s in after.windows if s.price is not None} != {
                s.key for s in r.windows if s.price is not None
            }:
                continue
            size = max(1.0, float(np.abs(e.dx).max()))
            assert np.abs((after.x - r.x) / part - e.dx).max() <= 1e-2 * size
            assert state.price == pytest.approx(-float(p.cost @ e.dx), rel=1e-5, abs=1e-9)
            checked += 1
    assert checked > 50


def test_effects_of_a_relaxed_recipe_are_solved_anew() -> None:
    c = next(c for c in (compiled(s, True) for s in range(20)) if solve(c).status == "relaxed")
    r = solve(c)
    found = effects(c, r, c.problem.oxides[:3])
    for e in found:
        i = c.problem.oxides.index(e.cause)
        b = c.problem.b.copy()
        b[i] += e.holds_for / c.problem.oxide_mass[i]
        update(c, b=b)
        assert solve(c).x - r.x == pytest.approx(e.dx * e.holds_for, abs=1e-9)
        update(c, b=c.problem.b)


def test_without_oxide_masses_effects_are_per_mole() -> None:
    p = realistic(3, 12)
    c, plain = compile(p)[0], compile(replace(p, oxide_mass=None))[0]
    gram, mole = effects(c, solve(c))[9], effects(plain, solve(plain))[9]
    assert (gram.per, mole.per) == ("g", "mol")
    assert mole.dx == pytest.approx(gram.dx * p.oxide_mass[9])
    assert mole.holds_for == pytest.approx(gram.holds_for / p.oxide_mass[9])


def holds(c: Compiled, without: set[str]) -> bool:
    limits = dict.fromkeys(without, (-INF, INF))
    before = {k: (c.problem.windows[c.index[k]].lo, c.problem.windows[c.index[k]].hi) for k in without}
    update(c, limits=limits)
    feasible = strict(c.system(), "auto").status > 0
    update(c, limits=before)
    return feasible


def test_every_conflict_is_smallest() -> None:
    """Leaving out any one window of the core makes the rest of the core hold; the core alone does not."""
    sizes = []
    for seed in range(40):
        c = compiled(seed, True)
        found = conflict(c)
        feasible = strict(c.system(), "auto").status > 0
        assert (found is None) == feasible
        if found is None:
            continue
        sizes.append(len(found.windows))
        others = {w.key for w in c.problem.windows} - set(found.windows)
        assert not holds(c, others)
        for key in found.windows:
            assert holds(c, others | {key})
    assert len(sizes) > 15
    assert max(sizes) > 1


def test_a_relief_is_enough_and_nothing_less_is() -> None:
    checked = 0
    for seed in range(40):
        c = compiled(seed, True)
        found = conflict(c)
        if found is None:
            continue
        assert found.more == (len(found.reliefs) < len(found.windows))
        for relief in found.reliefs:
            w = c.problem.windows[c.index[relief.window]]
            outward = 1.0 if relief.side == "hi" else -1.0
            for extra, enough in ((1e-4, True), (-1e-4, False)):
                limit = relief.needed + outward * extra * w.tol
                update(c, limits={w.key: (w.lo, limit) if relief.side == "hi" else (limit, w.hi)})
                assert (strict(c.system(), "auto").status > 0) == enough
            update(c, limits={w.key: (w.lo, w.hi)})
            checked += 1
    assert checked > 20


def test_wishes_leave_the_core_before_musts() -> None:
    """Two caps on one total, either of which fights the floor: the must stays, the wish goes."""
    floor = total(40.0, INF, 1, 1)
    wish = replace(total(-INF, 30.0, 1, 2), key="wish")
    must = replace(total(-INF, 20.0, 1, 1), key="must")
    found = conflict(compile(problem("s", (0.5, 0, 0.5), (floor, wish, must)))[0])
    assert found is not None
    assert set(found.windows) == {"total", "must"}
    # Relaxing the must alone does not help while the wish stands.
    assert [r.window for r in found.reliefs] == ["total"]
    assert found.reliefs[0].needed == pytest.approx(20.0)
    assert found.more


def test_each_component_names_what_holds_it() -> None:
    """Silica is held up by the least degree, lime fixed by hand, borate not needed."""
    p = problem("scb", (0.1, 0, 1), (degree(1.5, INF, 3),))
    p = replace(p, lo=np.array([0.0, 5.0, 0.0]), hi=np.array([500.0, 5.0, 500.0]), cost=np.ones(3), goal=Goal("cost"))
    p = replace(p, cost=np.array([1.0, 1.0, 9.0]))
    c, _ = compile(p)
    assert why(c, solve(c)) == ("degree", LOCKED, UNUSED)


def test_a_component_at_its_most_or_least_names_the_bound() -> None:
    p = problem("sb", (0.1, 0, 1), (degree(2.0, INF, 2),))
    p = replace(p, hi=np.array([10.0, 500.0]), cost=np.array([1.0, 50.0]), goal=Goal("cost"))
    c, _ = compile(p)
    assert why(c, solve(c)) == (STOCK, "degree")
    c, _ = compile(replace(p, lo=np.array([8.0, 0.0]), cost=np.array([100.0, 1.0])))
    assert why(c, solve(c)) == (LEAST, "degree")


def test_a_component_that_no_window_holds_is_held_by_the_house_recipe() -> None:
    c, _ = compile(problem("s", (0.1, 0, 1), (), house=(12.0,)))
    assert why(c, solve(c)) == (HOUSE,)


def test_a_component_held_down_by_a_cap_says_so() -> None:
    """The house wants 50 g, the cap allows 30."""
    c, _ = compile(problem("s", (0.1, 0, 1), (total(-INF, 30.0, 1),), house=(50.0,)))
    assert why(c, solve(c)) == (KEPT_DOWN + "total",)


def test_opened_windows_are_reasons_too() -> None:
    floor, cap = total(40.0, INF, 1, 1), replace(total(-INF, 30.0, 1, 2), key="cap")
    c, _ = compile(problem("s", (0.5, 0, 0.5), (floor, cap)))
    r = solve(c)
    assert r.status == "relaxed"
    assert why(c, r) == ("total",)


def test_every_component_of_any_recipe_has_a_reason() -> None:
    for seed in range(15):
        for conflicting in (False, True):
            c = compiled(seed, conflicting)
            r = solve(c)
            known = {w.key for w in c.problem.windows} | {LOCKED, LEAST, STOCK, UNUSED, HOUSE}
            for code, grams in zip(why(c, r), r.x, strict=True):
                assert code.removeprefix(KEPT_DOWN) in known
                assert (code == UNUSED) <= (grams == 0.0)
