"""An oxide or element assay as elements, and the minerals that explain it best."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials.formulas import Formula, read
from fluxlab.materials.minerals import Mineral, holding, minerals
from fluxlab.materials.oxides import Vec
from fluxlab.ore.mix_types import Entry, Explained, Mix
from fluxlab.ore.nnls import nnls
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.shares import checked, sum_issue, to_whole

_RELATIVE = 0.05
_FLOOR = 0.05
"""Weight of an assayed element in the fit: one standard deviation is 5 % of it, at least 0.05 % of the sample, unless
its own range is given; judgement."""
_RANGE = 3.29
"""Width of a 9-in-10 range in standard deviations."""
_SHORTFALL = (0.8, 0.5)
"""An element is called unexplained when a fifth of it and more than 0.5 % of the sample is missing; judgement."""
LOSS = frozenset({"LOI", "L.O.I."})


def readable(shares: Sequence[Share], where: str) -> tuple[list[tuple[Share, Formula]], list[Issue]]:
    """The assayed shares whose name is an element or a formula, and what was wrong with the others; loss on ignition
    is left out."""
    good, issues = checked(shares, where)
    named: list[tuple[Share, Formula]] = []
    for share in good:
        found = None if share.what in LOSS else read(share.what, where)
        if isinstance(found, Issue):
            issues.append(found)
        elif found is not None:
            named.append((share, found))
    return named, issues


@dataclass(frozen=True, slots=True)
class _Problem:
    """The fit: contents of the ticked minerals by element [g/g], weights of rows [-], minerals seen by the assay."""

    elements: tuple[str, ...]
    contents: Vec
    weights: Vec
    seen: NDArray[np.bool_]

    def fit(self, values: Vec) -> Vec:
        """Shares of the minerals of which something was assayed [g/g]."""
        shares = np.zeros(len(self.seen))
        if self.seen.any():
            shares[self.seen] = nnls(self.contents[:, self.seen] * self.weights[:, None], values * self.weights)
        return shares

    def shares(self, values: Vec) -> Vec:
        """Shares of all ticked minerals [g/g]: those of which nothing was assayed divide what is left evenly."""
        shares = self.fit(values)
        blind = ~self.seen
        if blind.any():
            shares[blind] = max(0.0, 1.0 - float(shares.sum())) / int(blind.sum())
        return shares


def explained_by_minerals(ore: OreType) -> Mix:
    """The mix of the ticked minerals that explains the assay best, by least squares with no negative share.

    Minerals of which nothing was assayed (quartz where silicon was not) share what is left to 100 %.
    """
    where = f"ore.{ore.known_by}"
    named, issues = readable(ore.oxides if ore.known_by == "oxides" else ore.elements, where)
    ticked, more = _ticked(ore)
    issues.extend(more)
    if not any(share.likely > 0.0 for share, _ in named):
        issues.append(error(where, "The assay is empty.", "Give what the laboratory found."))
        return Mix((), issues=tuple(issues))
    if not ticked:
        return Mix((), issues=tuple(issues))
    problem = _problem(named, ticked)
    values = _values(named, problem.elements)
    shares, fit = problem.shares(values), problem.fit(values)
    explained = tuple(
        Explained(e, 100.0 * float(v), 100.0 * float(x))
        for e, v, x in zip(problem.elements, values, problem.contents @ fit, strict=True)
    )
    residual = sum(abs(e.assayed - e.explained) for e in explained)
    if not fit.any():
        sentence = "None of the ticked minerals explains this assay."
        issues.append(
            error("ore.ticked", sentence, "Tick minerals that hold what was found, or use the assay as it is.")
        )
        return Mix((), 0.0, residual, explained, issues=tuple(issues))
    issues.extend(_said_of_elements(explained, where))
    issues.extend(
        _said_of_sum(
            100.0 * float(fit.sum()), [m.name for m, s in zip(ticked, problem.seen, strict=True) if not s], where
        )
    )
    low, high = _ranges(problem, named, shares)
    entries = [
        Entry(m, float(shares[i]), float(low[i]), float(high[i]), "from the assay")
        for i, m in enumerate(ticked)
        if high[i] > 1e-9
    ]
    # what nothing was assayed of fills up to the whole
    missing = max(1.0 - float(shares.sum()), 0.0)
    return Mix(to_whole(entries), 0.0, residual, explained, missing=missing, issues=tuple(issues))


def _ticked(ore: OreType) -> tuple[list[Mineral], list[Issue]]:
    known = minerals()
    issues = [
        error("ore.ticked", f"“{name}” is not in the list of minerals; it is left out.", "Pick it from the list.")
        for name in ore.ticked
        if name not in known
    ]
    if not ore.ticked:
        sentence = "No minerals are ticked that could explain the assay."
        issues.append(error("ore.ticked", sentence, "Tick the minerals you expect, or use the assay as it is."))
    return [known[name] for name in dict.fromkeys(ore.ticked) if name in known], issues


def _problem(named: Sequence[tuple[Share, Formula]], ticked: Sequence[Mineral]) -> _Problem:
    elements = tuple(dict.fromkeys(s for _, f in named for s in f.atoms if s != "O"))
    contents = np.array([[m.read.mass_fractions.get(e, 0.0) for m in ticked] for e in elements])
    spread = np.maximum(_RELATIVE * _values(named, elements), _FLOOR / 100.0)
    for share, f in named:
        width = ((share.high or 0.0) - (share.low or 0.0)) / 100.0 / _RANGE
        for symbol, part in f.mass_fractions.items():
            if width > 0.0 and symbol != "O":
                spread[elements.index(symbol)] = max(width * part, _FLOOR / 1000.0)
    return _Problem(elements, contents, 1.0 / spread, contents.sum(axis=0) > 0.0)


def _values(named: Sequence[tuple[Share, Formula]], elements: Sequence[str]) -> Vec:
    """Assayed elements [g/g] in the order of `elements`."""
    values = np.zeros(len(elements))
    for share, f in named:
        for symbol, part in f.mass_fractions.items():
            if symbol != "O":
                values[elements.index(symbol)] += share.likely / 100.0 * part
    return values


def _said_of_elements(explained: Sequence[Explained], where: str) -> list[Issue]:
    issues = []
    for e in explained:
        if e.explained < _SHORTFALL[0] * e.assayed and e.assayed - e.explained > _SHORTFALL[1]:
            names = ", ".join(m.name for m in holding(e.element)[:3])
            sentence = f"The ticked minerals explain {e.explained:.1f} of {e.assayed:.1f} % {e.element}."
            remedy = f"Tick a mineral that holds it ({names})." if names else "Use the assay as it is."
            issues.append(warning(where, sentence, remedy))
    return issues


def _said_of_sum(total: float, blind: Sequence[str], where: str) -> list[Issue]:
    if blind and total < 100.0:
        sentence = f"The assay says nothing of {' and '.join(blind)}: taken as the {100.0 - total:.1f} % that is left."
        return [note(where, sentence)]
    issue = sum_issue(total, where, "minerals found")
    return [issue] if issue else []


def _ranges(problem: _Problem, named: Sequence[tuple[Share, Formula]], likely: Vec) -> tuple[Vec, Vec]:
    """Low and high of the shares [g/g]: one assayed share after the other at its ends, moves added as a root of
    squares."""
    below, above = np.zeros_like(likely), np.zeros_like(likely)
    for i, (share, f) in enumerate(named):
        for end in (share.low, share.high):
            if end is None or end == share.likely:
                continue
            moved = [*named[:i], (Share(share.what, end), f), *named[i + 1 :]]
            move = problem.shares(_values(moved, problem.elements)) - likely
            below += np.minimum(move, 0.0) ** 2
            above += np.maximum(move, 0.0) ** 2
    return np.maximum(likely - np.sqrt(below), 0.0), likely + np.sqrt(above)
