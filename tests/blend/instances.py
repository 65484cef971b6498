"""Seeded random problems for the solver: realistic ones, and seventeen families that are meant to break it.

Fluxes, yields and window definitions are those of case S03; ores, limits, prices, stocks and locks are drawn. The
numbers are plausible in size, not chemistry.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np

from fluxlab.blend.types import Functional, Goal, Mat, Problem, Vec, Window
from tests.blend.cases import case, problem

ORE_G = 15.0
ABSOLUTE = ("lead button", "sulphur capture", "loose charge volume", "melt volume", "gas released")


@cache
def base_problem(n: int) -> Problem:
    """Case S03 cut to its first n components."""
    p = problem(case("S03")["data"], Goal("cost"))

    def cut(f: Functional | None) -> Functional | None:
        return None if f is None else Functional(f.u, f.v[:n].copy(), f.c)

    windows = []
    for w in p.windows:
        numerator = cut(w.num)
        assert numerator is not None
        windows.append(replace(w, num=numerator, den=cut(w.den)))
    return replace(
        p,
        components=p.components[:n],
        Y=p.Y[:, :n].copy(),
        windows=tuple(windows),
        **{key: getattr(p, key)[:n].copy() for key in ("cost", "lo", "hi", "ref", "scale", "step")},
    )


def values(p: Problem, x: Vec) -> list[float]:
    """Value of every window at a recipe, straight from the definition; nan where there is none."""
    melt = p.b + p.Y @ x

    def at(f: Functional) -> float:
        return float(f.u @ melt + f.v @ x + f.c)

    out = []
    for w in p.windows:
        den = 1.0 if w.den is None else at(w.den)
        out.append(at(w.num) / den if den else float("nan"))
    return out


def sized(p: Problem, ore: float) -> Problem:
    """The problem for another mass of ore: everything that counts grams grows with it."""
    k = ore / ORE_G

    def resized(w: Window) -> Window:
        if w.key == "flux to ore":
            return replace(w, num=Functional(w.num.u, w.num.v / k, w.num.c))
        if w.key in ABSOLUTE:
            return replace(w, num=Functional(w.num.u, w.num.v, w.num.c * k), tol=w.tol * k)
        return w

    return replace(p, scale=p.scale * k, hi=p.hi * k, windows=tuple(resized(w) for w in p.windows))


def realistic(seed: int, n: int = 12, conflicting: bool = False) -> Problem:
    """A random ore with windows around a random recipe, so that they hold; or pushed apart, so that most do not."""
    rng = np.random.default_rng((seed, n, int(conflicting)))
    ore = float(rng.choice([15.0, 30.0, 100.0, 250.0]))
    p = sized(base_problem(n), ore)
    b = rng.gamma(1.0, 1.0, len(p.oxides)) * np.array(case("S03")["data"]["b_mol"]) * ore / ORE_G
    b[:8] += 0.0003 * ore * rng.random(8)
    b[10] = 0.003 * ore
    recipe = rng.gamma(0.9, 0.25, n) * ore
    lead = 10
    if n > 5 and float(b[lead] + p.Y[lead] @ recipe) < 0.0:
        recipe[5] += 1.05 * -float(b[lead] + p.Y[lead] @ recipe) / p.Y[lead, 5]
    p = replace(
        p,
        b=b,
        cost=p.cost * rng.uniform(0.7, 1.4, n),
        ref=np.round(recipe * rng.uniform(0.6, 1.4, n), 1),
        hi=np.where(rng.random(n) < 0.15, recipe * 1.2, np.maximum(3.0 * ore, 1.2 * recipe)),
        scale=np.full(n, 0.3 * ore),
    )
    locked = rng.random(n) < 0.1
    p = replace(p, lo=np.where(locked, recipe, 0.0), hi=np.where(locked, recipe, p.hi))
    windows = []
    for w, v in zip(p.windows, values(p, recipe), strict=True):
        span = float(rng.uniform(0.2, 3.0)) * w.tol
        share = float(rng.uniform(0.1, 0.9))
        lo = v - share * span if np.isfinite(w.lo) else -np.inf
        hi = v + (1.0 - share) * span if np.isfinite(w.hi) else np.inf
        if w.key == "slag PbO not negative":
            lo = 0.0
        priority = int(rng.choice([1, 2])) if w.priority else 0
        if conflicting and priority and rng.random() < 0.35:
            push = float(rng.choice([-1.0, 1.0]) * rng.uniform(1.0, 6.0)) * w.tol
            lo, hi = lo + push, hi + push
        windows.append(replace(w, lo=lo, hi=hi, priority=priority))
    return replace(p, windows=tuple(windows))


def adversarial(family: str, seed: int) -> Problem:
    """One problem of a family."""
    n = (6, 12, 16)[seed % 3]
    rng = np.random.default_rng((seed, sum(map(ord, family))))
    p = realistic(seed, n)
    p = replace(p, goal=Goal(rng.choice(["cost", "mass", "closest"])))
    return FAMILIES[family](p, rng)


def _limits(p: Problem, change: Callable[[Window, int], tuple[float, float]]) -> Problem:
    windows = []
    for k, w in enumerate(p.windows):
        lo, hi = change(w, k)
        windows.append(replace(w, lo=lo, hi=hi))
    return replace(p, windows=tuple(windows))


def _free(p: Problem) -> Problem:
    ore = float(p.scale[0]) / 0.3
    return replace(p, lo=np.zeros_like(p.lo), hi=np.full_like(p.hi, 3.0 * ore))


def _conflict(p: Problem, rng: np.random.Generator) -> Problem:
    def apart(w: Window, k: int) -> tuple[float, float]:
        push = float(rng.uniform(-40.0, 40.0)) * w.tol
        return w.lo + push, w.hi + push

    return _limits(p, apart)


def _no_base(p: Problem, rng: np.random.Generator) -> Problem:
    acid = np.zeros_like(p.b)
    acid[:2] = p.b[:2]
    yields = p.Y.copy()
    yields[2:] = 0.0
    return replace(p, b=acid, Y=yields)


def _zero_ore(p: Problem, rng: np.random.Generator) -> Problem:
    return replace(p, b=np.zeros_like(p.b))


def _all_locked(p: Problem, rng: np.random.Generator) -> Problem:
    return replace(p, lo=p.ref, hi=p.ref)


def _silica_only(p: Problem, rng: np.random.Generator) -> Problem:
    only = np.arange(len(p.ref)) == 2
    return replace(p, lo=np.zeros_like(p.lo), hi=np.where(only, 10.0 * p.scale, 0.0))


def _negative_residual(p: Problem, rng: np.random.Generator) -> Problem:
    return replace(p, b=np.where(rng.random(len(p.b)) < 0.4, -p.b, p.b))


def _zero_rows(p: Problem, rng: np.random.Generator) -> Problem:
    nothing = Functional(np.zeros_like(p.b), np.zeros_like(p.ref), 0.0)
    some = [replace(w, num=nothing) if rng.random() < 0.3 else w for w in p.windows]
    return replace(p, windows=tuple(some))


def _duplicates(p: Problem, rng: np.random.Generator) -> Problem:
    half = len(p.ref) // 2
    copy = np.concatenate((np.arange(half), np.arange(half)))
    names = tuple(f"{p.components[j]} {i}" for i, j in enumerate(copy.tolist()))

    def doubled(f: Functional | None) -> Functional | None:
        return None if f is None else Functional(f.u, f.v[copy], f.c)

    windows = []
    for w in p.windows:
        numerator = doubled(w.num)
        assert numerator is not None
        windows.append(replace(w, num=numerator, den=doubled(w.den)))
    columns = {key: getattr(p, key)[copy] for key in ("cost", "lo", "hi", "ref", "scale", "step")}
    return replace(p, components=names, Y=p.Y[:, copy], windows=tuple(windows), **columns)


def _equalities(p: Problem, rng: np.random.Generator) -> Problem:
    def pinned(w: Window, k: int) -> tuple[float, float]:
        if np.isfinite(w.lo) and np.isfinite(w.hi) and rng.random() < 0.5:
            middle = 0.5 * (w.lo + w.hi)
            return middle, middle
        return w.lo, w.hi

    return _limits(p, pinned)


def _scaled(p: Problem, rng: np.random.Generator) -> Problem:
    return grown(p, float(10.0 ** rng.uniform(-5.0, 5.0)))


def grown(p: Problem, k: float) -> Problem:
    """The same problem with k times the mass of everything: its recipe is k times the recipe."""
    windows = []
    for w in p.windows:
        if w.key == "flux to ore":
            windows.append(replace(w, num=Functional(w.num.u, w.num.v / k, w.num.c)))
        elif w.den is None:
            num = Functional(w.num.u, w.num.v, w.num.c * k)
            windows.append(replace(w, num=num, lo=w.lo * k, hi=w.hi * k, tol=w.tol * k))
        else:
            windows.append(w)
    grams = {key: getattr(p, key) * k for key in ("lo", "hi", "ref", "scale")}
    return replace(p, b=p.b * k, windows=tuple(windows), **grams)


def _hair(p: Problem, rng: np.random.Generator) -> Problem:
    def thin(w: Window, k: int) -> tuple[float, float]:
        if np.isfinite(w.lo) and np.isfinite(w.hi):
            middle = 0.5 * (w.lo + w.hi)
            return middle, middle + 1e-11
        return w.lo, w.hi

    return _limits(p, thin)


def _useless(p: Problem, rng: np.random.Generator) -> Problem:
    j = int(rng.integers(len(p.ref)))
    yields = p.Y.copy()
    yields[:, j] = 0.0

    def without(f: Functional | None) -> Functional | None:
        if f is None:
            return None
        v = f.v.copy()
        v[j] = 0.0
        return Functional(f.u, v, f.c)

    windows = []
    for w in p.windows:
        numerator = without(w.num)
        assert numerator is not None
        windows.append(replace(w, num=numerator, den=without(w.den)))
    return replace(p, Y=yields, windows=tuple(windows))


def _short_stock(p: Problem, rng: np.random.Generator) -> Problem:
    short = rng.random(len(p.ref)) < 0.4
    return replace(p, lo=np.where(short, p.ref + 1.0, p.lo), hi=np.where(short, 0.5 * p.ref, p.hi))


def _all_zero(p: Problem, rng: np.random.Generator) -> Problem:
    return _limits(p, lambda w, k: (0.0, 0.0))


def _single_point(p: Problem, rng: np.random.Generator) -> Problem:
    p = _free(p)
    point = rng.gamma(0.9, 0.25, len(p.ref)) * float(p.scale[0]) / 0.3
    at = values(p, point)
    return _limits(p, lambda w, k: (at[k], at[k]))


def _rank_deficient(p: Problem, rng: np.random.Generator) -> Problem:
    mix = rng.random((3, len(p.ref)))
    mix /= mix.sum(axis=0)
    windows = []
    for w in p.windows:
        num = Functional(w.num.u, w.num.v[:3] @ mix, w.num.c)
        den = None if w.den is None else Functional(w.den.u, w.den.v[:3] @ mix, w.den.c)
        windows.append(replace(w, num=num, den=den))
    return replace(p, Y=p.Y[:, :3] @ mix, windows=tuple(windows))


def _must_and_wish_ends(p: Problem, rng: np.random.Generator) -> Problem:
    windows: list[Window] = []
    for w in p.windows:
        shift = float(rng.uniform(-2.0, 2.0)) * w.tol
        windows.append(replace(w, key=f"{w.key} lo", lo=w.lo + shift, hi=np.inf, priority=min(w.priority, 1)))
        windows.append(replace(w, key=f"{w.key} hi", lo=-np.inf, hi=w.hi, priority=min(w.priority, 2)))
    return replace(p, windows=tuple(windows))


FAMILIES: dict[str, Callable[[Problem, np.random.Generator], Problem]] = {
    "conflict": _conflict,
    "no base": _no_base,
    "zero ore": _zero_ore,
    "all locked": _all_locked,
    "silica only": _silica_only,
    "negative residual": _negative_residual,
    "zero rows": _zero_rows,
    "duplicated components": _duplicates,
    "equality windows": _equalities,
    "scale 1e-5 to 1e5": _scaled,
    "windows 1e-11 wide": _hair,
    "useless component": _useless,
    "stock below lock": _short_stock,
    "all windows zero": _all_zero,
    "single-point set": _single_point,
    "rank deficient": _rank_deficient,
    "must and wish ends": _must_and_wish_ends,
}


def literal_rows(p: Problem) -> tuple[Mat, Vec]:
    """Rows A x >= h over all components in grams, written out from the definition, one side after the other."""
    A, h = [], []
    b = np.maximum(p.b, 0.0)
    for w in p.windows:
        gn, cn = w.num.u @ p.Y + w.num.v, float(w.num.u @ b + w.num.c)
        gd, cd = (0.0 * gn, 1.0) if w.den is None else (w.den.u @ p.Y + w.den.v, float(w.den.u @ b + w.den.c))
        if np.isfinite(w.lo):
            A.append(gn - w.lo * gd)
            h.append(w.lo * cd - cn)
        if np.isfinite(w.hi):
            A.append(w.hi * gd - gn)
            h.append(cn - w.hi * cd)
    return np.array(A), np.array(h)
