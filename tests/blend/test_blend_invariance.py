"""The recipe depends on what is asked, not on how it is written down."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.problem import compile, redefine, update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import Functional, Problem, Vec
from tests.blend.instances import grown, realistic

SEEDS = range(25)


def recipe(p: Problem) -> Vec:
    return solve(compile(p)[0]).x


def reordered(p: Problem, order: np.ndarray) -> Problem:
    def turned(f: Functional) -> Functional:
        return Functional(f.u, f.v[order], f.c)

    windows = tuple(replace(w, num=turned(w.num), den=None if w.den is None else turned(w.den)) for w in p.windows)
    columns = {key: getattr(p, key)[order] for key in ("cost", "lo", "hi", "ref", "scale", "step")}
    names = tuple(p.components[j] for j in order.tolist())
    return replace(p, components=names, Y=p.Y[:, order], windows=windows, **columns)


@pytest.mark.parametrize("conflicting", [False, True])
def test_the_order_of_components_does_not_matter(conflicting: bool) -> None:
    for seed in SEEDS:
        p = realistic(seed, 12, conflicting)
        order = np.random.default_rng(seed).permutation(12)
        assert (np.abs(recipe(reordered(p, order)) - recipe(p)[order]) <= 1e-9 * p.scale).all()


@pytest.mark.parametrize("conflicting", [False, True])
def test_the_order_of_windows_does_not_matter(conflicting: bool) -> None:
    for seed in SEEDS:
        p = realistic(seed, 12, conflicting)
        order = np.random.default_rng(seed).permutation(len(p.windows))
        q = replace(p, windows=tuple(p.windows[k] for k in order.tolist()))
        assert (np.abs(recipe(q) - recipe(p)) <= 1e-9 * p.scale).all()


@pytest.mark.parametrize("conflicting", [False, True])
def test_seven_times_everything_gives_seven_times_the_recipe(conflicting: bool) -> None:
    for seed in SEEDS:
        p = realistic(seed, 12, conflicting)
        assert (np.abs(recipe(grown(p, 7.0)) / 7.0 - recipe(p)) <= 1e-9 * p.scale).all()


def test_the_answer_does_not_depend_on_what_was_typed_before() -> None:
    p, q = realistic(1, 12), realistic(2, 12, True)
    c, _ = compile(p)
    before = solve(c).x
    for factor in (0.5, 1.7, 1.0):
        update(c, b=p.b * factor, cost=q.cost, ref=q.ref, bounds=(p.lo, p.hi * factor))
        solve(c)
    update(c, b=p.b, cost=p.cost, ref=p.ref, bounds=(p.lo, p.hi))
    assert np.array_equal(solve(c).x, before)


def test_an_update_equals_a_fresh_compile() -> None:
    p, q = realistic(3, 12), realistic(4, 12, True)
    c, _ = compile(p)
    limits = {w.key: (v.lo, v.hi) for w, v in zip(p.windows, q.windows, strict=True)}
    update(c, b=q.b, limits=limits, bounds=(q.lo, q.hi), cost=q.cost, ref=q.ref)
    windows = tuple(replace(w, lo=limits[w.key][0], hi=limits[w.key][1]) for w in p.windows)
    fresh = replace(p, b=q.b, lo=q.lo, hi=q.hi, cost=q.cost, ref=q.ref, windows=windows)
    assert np.array_equal(solve(c).x, recipe(fresh))


def test_splitting_a_window_into_a_must_end_and_a_wish_end_of_one_priority_changes_nothing() -> None:
    for seed in range(10):
        p = realistic(seed, 12)
        ends = []
        for w in p.windows:
            ends.append(replace(w, key=f"{w.key} lo", hi=np.inf))
            ends.append(replace(w, key=f"{w.key} hi", lo=-np.inf))
        assert (np.abs(recipe(replace(p, windows=tuple(ends))) - recipe(p)) <= 1e-9 * p.scale).all()


@pytest.mark.parametrize("locked", [False, True])
def test_a_window_given_another_quantity_is_as_if_it_had_been_compiled_with_it(locked: bool) -> None:
    for seed in SEEDS:
        p = realistic(seed, 12)
        if locked:
            p = replace(p, hi=np.where(np.arange(12) % 4 == 0, p.lo, p.hi))
        k = next(i for i, w in enumerate(p.windows) if w.den is None)
        old = p.windows[k].num
        num = Functional(1.1 * old.u, 0.9 * old.v + 1e-3, old.c + 0.01)
        windows = (*p.windows[:k], replace(p.windows[k], num=num), *p.windows[k + 1 :])
        c, fresh = compile(p)[0], compile(replace(p, windows=windows))[0]
        before = c.system()
        kept = before.gn.copy(), before.cn.copy(), None if before.locked is None else before.locked.copy()
        redefine(c, p.windows[k].key, num)
        for name in ("GF", "GL", "locked_part", "den_never", "den_always", "den_size", "den_ref"):
            now, then = getattr(c, name), getattr(fresh, name)
            assert (now is None and then is None) or np.allclose(now, then, rtol=1e-13, atol=0.0), name
        assert (np.abs(solve(c).x - solve(fresh).x) <= 1e-9 * p.scale).all()
        assert np.array_equal(before.gn, kept[0]), "a system made before is left as it was"
        assert np.array_equal(before.cn, kept[1])
        assert before.locked is None or np.array_equal(before.locked, kept[2])
