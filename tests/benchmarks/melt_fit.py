"""Robust fit of our viscosity regression to measured melts, and its cross-validation grouped by paper.

Gauss-Newton with Cauchy weights and Gaussian priors: groups of oxides are free, single oxides are held near their
group, rare oxides more so. Papers that the fit as it stands disagrees with throughout are left out of the fit half way
("screening"); they are never left out of a score.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from melt_data import Floats, Points
from melt_equations import K_RANGE, LEAST_L, A, reciprocal, regression
from numpy.typing import NDArray

Flags = NDArray[np.bool_]

_RARE = {"Zr", "Cu", "As", "Cr", "La"}
_SINGLE = {"Na", "K", "Li", "Ca", "Mg", "Ba", "Sr", "Fe2", "Mn", "Zn", "Pb", "Fe3"}
_NOISE = 0.15
_CAUCHY = 0.25
_PRIOR_STRENGTH = 8.0
_ROUNDS = 9
_SCREENED_IN_ROUND = 4
FOLDS = 10


@dataclass(frozen=True, slots=True)
class Task:
    """What a fit works on: terms by name, their values (points, terms), weight of each point."""

    names: tuple[str, ...]
    features: Floats
    weights: Floats


def _spread(name: str, shipped: Sequence[str]) -> tuple[float, float]:
    """Prior standard deviations of a term's L and K."""
    if name not in shipped:
        return 8.0, 3.0
    a, _, b = name.partition("*")
    if a == b and a not in ("alk", "RO", "B", "T3"):
        return 10.0, 3.0
    if name in _RARE:
        return 4.0, 1.0
    return (6.0, 2.0) if name in _SINGLE else (30.0, 8.0)


def _disagreeing(source: NDArray[np.int64], residual: Floats) -> Flags:
    """Points of papers whose residuals lie far off together."""
    paper = np.unique(source, return_inverse=True)[1]
    ordered = residual[np.argsort(paper, kind="stable")]
    each = np.split(ordered, np.cumsum(np.bincount(paper))[:-1])
    bad = np.array([abs(np.median(r)) > 0.8 and r.std() < 0.4 for r in each])
    return np.asarray(bad[paper])


def fit(points: Points, task: Task, part: Flags, shipped: Sequence[str]) -> Floats:
    """Coefficients (L and K, terms) fitted to a part of the points."""
    f, u, y = task.features[part], reciprocal(points.temperature[part]), points.log_viscosity[part]
    weight = task.weights[part].copy()
    spread = np.array([_spread(name, shipped) for name in task.names]).T
    ridge = _PRIOR_STRENGTH / spread.ravel() ** 2
    c = np.zeros((2, len(task.names)))
    c[0, task.names.index("1")] = 10.0
    for round_ in range(_ROUNDS):
        low, bent = f @ c[0] > LEAST_L, f @ c[1]
        height, bend = np.maximum(f @ c[0], LEAST_L), np.clip(bent, *K_RANGE)
        rise = u * np.exp(np.minimum(bend * (u - 1.0), 8.0))
        residual = y - (A + height * rise)
        if round_ == _SCREENED_IN_ROUND:
            weight[_disagreeing(points.source[part], residual)] = 0.0
        root = np.sqrt(weight / (1.0 + (residual / _CAUCHY) ** 2)) / _NOISE
        free = (bent > K_RANGE[0]) & (bent < K_RANGE[1])
        slope = np.hstack([f * (rise * low * root)[:, None], f * (height * rise * (u - 1.0) * free * root)[:, None]])
        pull = slope.T @ (residual * root) - ridge * c.ravel()
        step = np.linalg.solve(slope.T @ slope + np.diag(ridge + 1e-9), pull)
        c += step.reshape(c.shape) * (0.6 if round_ < 2 else 1.0)
    return c


def twins(points: Points, weight_percent: Floats) -> NDArray[np.intp]:
    """A number that points share where one paper repeats another: glass, temperature and viscosity alike."""
    key = np.c_[weight_percent / 0.25, points.temperature / 5.0, points.log_viscosity / 0.02]
    return np.unique(np.round(key).astype(int), axis=0, return_inverse=True)[1].ravel()


def folds(points: Points, seed: int) -> NDArray[np.int64]:
    """Number of the fold of each point; a paper is in one fold."""
    papers = np.unique(points.source)
    drawn = np.random.default_rng(seed).integers(0, FOLDS, len(papers))
    return drawn[np.searchsorted(papers, points.source)]


def cross_validated(
    points: Points, task: Task, twin: NDArray[np.intp], shipped: Sequence[str], fold: NDArray[np.int64]
) -> Floats:
    """log10 viscosity of each point by a fit that saw neither its paper nor a twin of it [log10 Pa s]."""
    out = np.empty(len(points.log_viscosity))
    for k in range(FOLDS):
        test = fold == k
        part = ~test & ~np.isin(twin, twin[test])
        c = fit(points, task, part, shipped)
        out[test] = regression(task.features[test], c, points.temperature[test])
    return out
