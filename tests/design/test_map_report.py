"""The slag map against brute force: every cell asked of another solver, every recipe measured by the report."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import linprog

from fluxlab.blend.types import MUST, Vec
from fluxlab.design.balance import balance
from fluxlab.design.likely import likely
from fluxlab.design.map_axes import MapProblem, axis_pairs, map_problem
from fluxlab.design.map_field import Melts, coarse_first, field, grid
from fluxlab.design.map_report import cloud, map_frame, map_outline, recipe_at, viscosity_limit
from fluxlab.design.map_safe import safe_outline
from fluxlab.design.map_types import Outline
from fluxlab.design.melt_law import pour_viscosity
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.target_report import value_of
from fluxlab.materials.oxides import INDEX
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.samples import CHECK, TRAIN
from tests.works import CLEAN, DIRTY, with_lines, with_target
from tests.works import work_of as whole_work_of


def work_of(ore: OreType = CLEAN, route: str = "roast and melt", **recipe: object) -> Work:
    """A work without a limit on the viscosity, which the map draws by its field and not by its outline."""
    return with_target(whole_work_of(ore, route, **recipe), Target("viscosity", on=False))


FREE = (Line("borax-glass"), Line("soda-ash-dense"), Line("silica-sand"))
WORKS: dict[str, Work] = {
    "clean": work_of(),
    "dirty": work_of(DIRTY, charge=60.0),
    "sand fixed": with_lines(work_of(), *FREE[:2], Line("silica-sand", 30.0)),
    "narrow": with_target(work_of(), Target("degree", lo=1.85, hi=2.1, hi_kind="must")),
    "lead collection": work_of(route="lead collection"),
}


def problem_of(work: Work, which: int = 0) -> MapProblem:
    found = balance(work)
    return map_problem(found, axis_pairs(found)[which])


def can_hold(m: MapProblem, x: float, y: float) -> bool:
    """Whether the musts can hold with both axes pinned, asked of scipy's HiGHS row by row from the definitions."""
    c, p = m.compiled, m.compiled.problem
    A, h, E, e = [], [], [], []
    for w in p.windows:
        gn, cn = w.num.u @ p.Y + w.num.v, float(w.num.u @ c.b + w.num.c)
        gd, cd = (0.0 * gn, 1.0) if w.den is None else (w.den.u @ p.Y + w.den.v, float(w.den.u @ c.b + w.den.c))
        if w.key in ("@x", "@y"):
            at = x if w.key == "@x" else y
            E.append(gn - at * gd)
            e.append(at * cd - cn)
        elif w.priority <= MUST:
            if np.isfinite(w.lo):
                A.append(gn - w.lo * gd)
                h.append(w.lo * cd - cn)
            if np.isfinite(w.hi):
                A.append(w.hi * gd - gn)
                h.append(cn - w.hi * cd)
    size = np.linalg.norm(A, axis=1)
    bounds = np.column_stack((np.minimum(p.lo, p.hi), p.hi))
    found = linprog(
        np.zeros(len(p.cost)),
        A_ub=-np.array(A) / size[:, None],
        b_ub=-np.array(h) / size,
        A_eq=E,
        b_eq=e,
        bounds=bounds,
    )
    return bool(found.status == 0)


def reach(o: Outline, x: float) -> tuple[float, float] | None:
    if not o.xs or not o.xs[0] <= x <= o.xs[-1]:
        return None
    return float(np.interp(x, o.xs, o.low)), float(np.interp(x, o.xs, o.high))


@pytest.mark.parametrize("name", WORKS)
def test_the_outline_is_where_another_solver_finds_that_the_musts_can_hold(name: str) -> None:
    m = problem_of(WORKS[name])
    o = map_outline(m)
    inside = 0
    for x in np.linspace(m.pair.x.low, m.pair.x.high, 14)[1:-1].tolist():
        ends = reach(o, x)
        for y in np.linspace(m.pair.y.low, m.pair.y.high, 14)[1:-1].tolist():
            if ends is not None and min(abs(y - ends[0]), abs(y - ends[1])) < 2e-3:
                continue
            expected = ends is not None and ends[0] <= y <= ends[1]
            assert can_hold(m, x, y) == expected, (x, y, ends)
            inside += expected
    assert inside > 3


@pytest.mark.parametrize("which", [0, 1, 2])
@pytest.mark.parametrize("name", ["clean", "sand fixed"])
def test_the_sides_run_round_the_region_and_each_is_drawn_by_its_limit(name: str, which: int) -> None:
    work = WORKS[name]
    m = problem_of(work, which)
    o = map_outline(m)
    assert o.sides
    for a, b in pairwise((*o.sides, o.sides[0])):
        assert a.points[-1] == b.points[0]
    named = 0
    for side in o.sides:
        assert len(side.points) >= 2
        assert bool(side.words) == bool(side.limit)
        if "#" not in side.limit:
            continue
        name_, end = side.limit.split("#")
        target = next(t for t in m.found.targets if t.key == name_)
        at = recipe_at(m, *side.points[len(side.points) // 2])
        n, x = slag(m, at.weights), np.array([g for _, g in at.weights])
        value = value_of(m.found, target, n, x)
        asked = target.lo if end == "lo" else target.hi
        assert value == pytest.approx(asked, rel=2e-3), side.words
        named += 1
    assert named >= 2


def slag(m: MapProblem, weights: tuple[tuple[str, float], ...]) -> Vec:
    n: Vec = m.found.feed.oxides + m.found.fluxes.Y @ np.array([g for _, g in weights])
    return n


@pytest.mark.parametrize("name", [n for n in WORKS if n != "lead collection"])
def test_a_recipe_at_a_point_lies_there_and_holds_what_the_outline_says(name: str) -> None:
    m = problem_of(WORKS[name])
    o = map_outline(m)
    degree, borate = (next(t for t in m.found.targets if t.key == k) for k in ("degree", "borate"))
    for k in range(3, len(o.xs) - 3, 9):
        for share in (0.1, 0.5, 0.9):
            x, y = o.xs[k], o.low[k] + share * (o.high[k] - o.low[k])
            point = recipe_at(m, x, y)
            n, weights = slag(m, point.weights), np.array([g for _, g in point.weights])
            assert (point.x, point.y) == pytest.approx((x, y), abs=1e-6)
            assert value_of(m.found, degree, n, weights) == pytest.approx(x, abs=1e-6)
            assert value_of(m.found, borate, n, weights) == pytest.approx(y, abs=1e-6)
            assert point.holds
            assert point.broken == ()
            for t in m.found.targets:
                value = value_of(m.found, t, n, weights)
                if t.on and value is not None:
                    assert t.lo is None or t.lo_kind == "wish" or value >= t.lo - 2e-3
                    assert t.hi is None or t.hi_kind == "wish" or value <= t.hi + 2e-2


def test_outside_the_outline_the_broken_must_is_named() -> None:
    m = problem_of(WORKS["clean"])
    point = recipe_at(m, 1.5, 0.6)
    assert (point.x, point.y) == pytest.approx((1.5, 0.6), abs=1e-6)
    assert not point.holds
    assert point.broken == ("Borate share at most 0.50 does not hold",)


def test_a_point_out_of_reach_gives_the_nearest_one_that_is_not() -> None:
    """With the sand fixed no borax brings the borate share to one."""
    m = problem_of(WORKS["sand fixed"])
    point = recipe_at(m, 2.0, 1.0)
    assert point.y < 1.0
    assert all(np.isfinite(g) for _, g in point.weights)


def test_the_recipe_on_the_bench_is_the_recipe_at_its_own_point() -> None:
    for work in WORKS.values():
        found = balance(work)
        m = map_problem(found, axis_pairs(found)[0])
        here = m.at(found.result.x)
        if found.result.status == "ok":
            assert [g for _, g in recipe_at(m, *here).weights] == pytest.approx(found.x.tolist(), abs=1e-5)


def test_fixed_rows_never_move_in_a_drag() -> None:
    m = problem_of(WORKS["sand fixed"])
    for x in np.linspace(m.pair.x.low, m.pair.x.high, 8):
        for y in np.linspace(m.pair.y.low, m.pair.y.high, 8):
            assert dict(recipe_at(m, float(x), float(y)).weights)["silica-sand"] == 30.0


@pytest.mark.parametrize("name", ["clean", "sand fixed", "dirty"])
def test_a_drag_right_across_the_map_never_jumps(name: str) -> None:
    m = problem_of(WORKS[name])
    (x0, y0), (x1, y1) = (m.pair.x.low, m.pair.y.low), (m.pair.x.high, m.pair.y.high)

    def weights(t: float) -> Vec:
        point = recipe_at(m, x0 + t * (x1 - x0), y0 + t * (y1 - y0))
        return np.array([g for _, g in point.weights])

    ts = np.linspace(0.0, 1.0, 40)
    found = [weights(float(t)) for t in ts]
    steps = [float(np.abs(b - a).max()) for a, b in pairwise(found)]
    for i in np.argsort(steps)[-3:].tolist():
        (ta, a), (tb, b) = (float(ts[i]), found[i]), (float(ts[i + 1]), found[i + 1])
        for _ in range(24):
            t = 0.5 * (ta + tb)
            w = weights(t)
            if np.abs(w - a).max() >= np.abs(b - w).max():
                tb, b = t, w
            else:
                ta, a = t, w
        assert np.abs(b - a).max() < 1e-3


# --- the field -------------------------------------------------------------------------------------------------------

SILICA = Melts(
    lambda n, t: n[:, INDEX["SiO2"]] / n.sum(axis=1) + t / 1e6,
    lambda n, t: n[:, INDEX["SiO2"]] > 0.4 * n.sum(axis=1),
)


def test_the_field_is_the_law_at_the_recipe_of_each_point() -> None:
    m = problem_of(WORKS["clean"])
    o = map_outline(m)
    xs = grid(m.pair.x, 9)
    compared = 0
    for row in field(m, SILICA, 9, 7):
        assert row.y == grid(m.pair.y, 7)[row.row]
        for x, value, solid in zip(xs, row.log_viscosity, row.crystals, strict=True):
            ends = reach(o, x)
            if ends is None or not ends[0] < row.y < ends[1]:
                continue
            point = recipe_at(m, x, row.y)
            assert value == pytest.approx(0.00115 + share_of_silica(slag(m, point.weights)), abs=1e-6)
            assert solid == (share_of_silica(slag(m, point.weights)) > 0.4)
            compared += 1
    assert compared > 10


def share_of_silica(n: Vec) -> float:
    return float(n[INDEX["SiO2"]] / n.sum())


def test_every_row_of_the_field_comes_once_and_coarse_ones_first() -> None:
    for rows in (1, 2, 7, 60):
        assert sorted(coarse_first(rows)) == list(range(rows))
    gaps = np.diff(sorted(coarse_first(60)[:9]))
    assert gaps.max() <= 2 * gaps.min() + 4
    m = problem_of(WORKS["clean"])
    rows_ = field(m, SILICA, 3, 5)
    assert next(rows_).row == 0
    rows_.close()


def test_points_that_no_recipe_reaches_are_left_blank() -> None:
    m = problem_of(with_lines(work_of(), Line("silica-sand")))
    found = list(field(m, SILICA, 6, 6))
    blank = [np.isnan(v) for row in found for v in row.log_viscosity]
    assert any(blank)
    assert all(not s for row in found for v, s in zip(row.log_viscosity, row.crystals, strict=True) if np.isnan(v))


# --- the ore's cloud and what is safe --------------------------------------------------------------------------------


def test_the_cloud_holds_nine_in_ten_of_the_likely_ores() -> None:
    work = WORKS["clean"]
    m = problem_of(work)
    drawn = likely(work, m.found, TRAIN)
    ring = np.array(cloud(m, m.found.result.x, drawn).points)
    degree, borate = (next(t for t in m.found.targets if t.key == k) for k in ("degree", "borate"))
    at = []
    for b in drawn.oxides[:400]:
        n = b + m.found.fluxes.Y @ m.found.x
        at.append([value_of(m.found, t, n, m.found.x) for t in (degree, borate)])
    inside = [encloses(ring, np.array(p)) for p in at]
    assert np.mean(inside) == pytest.approx(0.9, abs=0.05)


def encloses(ring: np.ndarray, p: np.ndarray) -> bool:
    """Whether a convex ring has the point on one side of all its edges."""
    a, b = ring, np.roll(ring, -1, axis=0)
    turn = (b[:, 0] - a[:, 0]) * (p[1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (p[0] - a[:, 0])
    return bool((turn >= -1e-12).all() or (turn <= 1e-12).all())


def test_an_ore_without_ranges_has_no_cloud() -> None:
    ore = WORKS["clean"].recipe.ore
    sure = replace(ore, minerals=tuple(replace(s, low=None, high=None) for s in ore.minerals))
    work = work_of(sure)
    found = balance(work)
    assert map_frame(work, found, axis_pairs(found)[0]).cloud.points == ()


def chance_at(work: Work, m: MapProblem, x: float, y: float) -> float:
    """Chance of all musts at the recipe of a point, sample by sample from the definitions of the targets."""
    point = recipe_at(m, x, y)
    weights = np.array([g for _, g in point.weights])
    drawn = likely(work, m.found, CHECK, count=200)
    together = []
    for b in drawn.oxides:
        n = b + m.found.fluxes.Y @ weights
        good = True
        for t in m.found.targets:
            value = value_of(m.found, t, n, weights)
            if t.on and value is not None and t.key not in ("cover", "parts"):
                good &= t.lo is None or t.lo_kind == "wish" or value >= t.lo - 1e-6
                good &= t.hi is None or t.hi_kind == "wish" or value <= t.hi + 1e-6
        together.append(good)
    return float(np.mean(together))


@pytest.mark.parametrize("name", ["clean", "sand fixed"])
def test_the_safe_part_lies_inside_and_every_recipe_in_it_keeps_its_chance(name: str) -> None:
    work = WORKS[name]
    m = problem_of(work)
    whole = map_outline(m)
    safe = safe_outline(work, m, whole, 0.9)
    assert safe.xs[0] > whole.xs[0]
    for a, b in pairwise((*safe.sides, safe.sides[0])):
        assert a.points[-1] == b.points[0]
    for x, low, high in list(zip(safe.xs, safe.low, safe.high, strict=True))[::5]:
        ends = reach(whole, x)
        assert ends is not None
        assert ends[0] - 1e-9 <= low <= high <= ends[1] + 1e-9
        for y in (low, 0.5 * (low + high), high):
            assert chance_at(work, m, x, y) >= 0.84
        if low > ends[0] + 0.02:
            assert chance_at(work, m, x, low - 0.01) <= 0.93


def test_where_nothing_is_safe_the_safe_part_is_empty() -> None:
    work = with_target(work_of(), Target("degree", lo=1.9, hi=1.92, hi_kind="must"))
    m = problem_of(work)
    assert safe_outline(work, m, map_outline(m)).xs == ()


# --- which maps there are --------------------------------------------------------------------------------------------


def test_every_row_that_can_move_makes_a_map_with_flux_to_ore() -> None:
    found = balance(WORKS["sand fixed"])
    pairs = axis_pairs(found)
    assert [(p.x.key, p.y.key) for p in pairs] == [
        ("degree", "borate"),
        ("flux_to_ore", "flux:borax-glass"),
        ("flux_to_ore", "flux:soda-ash-dense"),
    ]
    for p in pairs:
        frame = map_frame(WORKS["sand fixed"], found, p)
        assert frame.here is not None
        assert p.x.low <= frame.here[0] <= p.x.high
        assert p.y.low <= frame.here[1] <= p.y.high
        assert frame.outline.sides


def test_the_degree_on_the_map_is_the_one_of_the_target() -> None:
    work = with_target(work_of(), Target("degree", lo=1.5, hi=2.0, convention="S"))
    found = balance(work)
    pair = axis_pairs(found)[0]
    assert pair.x.label == "Silicate degree (S)"
    here = map_problem(found, pair).at(found.result.x)
    assert here[0] == pytest.approx(value_of(found, next(t for t in found.targets if t.key == "degree")))


def test_no_ore_and_no_flux_make_no_map_and_no_fault() -> None:
    for work in (with_lines(work_of()), replace(work_of(), recipe=replace(work_of().recipe, charge=0.0))):
        found = balance(work)
        for pair in axis_pairs(found):
            frame = map_frame(work, found, pair)
            assert frame.outline.sides == () or frame.outline.xs
            m = map_problem(found, pair)
            list(field(m, SILICA, 3, 3))
            recipe_at(m, 1.5, 0.3)


# --- a limit on the viscosity ----------------------------------------------------------------------------------------


def test_a_drag_keeps_the_melt_thin_where_it_can_and_says_so_where_it_cannot() -> None:
    work = with_target(whole_work_of(), Target("viscosity", hi=0.3))
    m = problem_of(work)
    assert viscosity_limit(m.found) == pytest.approx(np.log10(0.3))
    assert [g for _, g in recipe_at(m, *m.at(m.found.result.x)).weights] == pytest.approx(m.found.x.tolist(), abs=0.05)
    held = broken = 0
    for x in (1.2, 2.0, 2.9):
        for y in (0.25, 0.45):
            point = recipe_at(m, x, y)
            thick = pour_viscosity(slag(m, point.weights), 1150.0)
            words = "Viscosity at the pour at most 0.30 Pa·s does not hold"
            assert (thick > 0.3 + 1e-3) == (words in point.broken)
            held, broken = held + point.holds, broken + (words in point.broken)
    assert held
    assert broken


def test_a_limit_on_the_viscosity_takes_its_part_off_what_is_safe() -> None:
    m = problem_of(with_target(whole_work_of(), Target("viscosity", hi=0.5)))
    free = problem_of(work_of())
    whole = map_outline(m)
    tight, wide = safe_outline(whole_work_of(), m, whole, 0.8), safe_outline(work_of(), free, map_outline(free), 0.8)
    assert area(tight) < 0.9 * area(wide)


def area(o: Outline) -> float:
    return float(np.trapezoid(np.array(o.high) - np.array(o.low), o.xs)) if o.xs else 0.0
