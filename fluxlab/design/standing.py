"""Where a figure stands against its target, and how small a miss still counts as standing on the end: told here alone.

Target report, verdicts, ways out and chances all go by this.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import log, log10, pi
from typing import Literal

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.design.recipe import Target
from fluxlab.design.report_types import TargetReport
from fluxlab.design.windows import as_volume, shape, words
from fluxlab.materials.oxides import Vec
from fluxlab.slag.viscosity import log_viscosity_slopes

State = Literal["inside", "at lo", "at hi", "below", "above", "undefined", "off"]
_EDGE = 1e-3
"""Part of a tolerance to which the solver works; so near its end a figure simply stands on it."""
_DIGITS = 1e-5
"""Part of a tolerance by which rounds of the solver may differ."""
_HALF_A_PLACE = 0.5


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a figure stands, and by how much it is past the end of its target [unit of the target].

    One that is past the end and still "at lo" or "at hi" misses it by no more than its `margin`.
    """

    state: State
    off_by: float = 0.0


def standing(found: Balance, t: Target, value: float | None) -> Standing:
    """Where the figure of a target stands in a solved recipe."""
    if not t.on:
        return Standing("off")
    if value is None:
        return Standing("undefined")
    edge = _EDGE * float(words(t.key)["tolerance"])
    for end, past, beside, missed in (
        (t.lo, (t.lo or 0.0) - value, "at lo", "below"),
        (t.hi, value - (t.hi or 0.0), "at hi", "above"),
    ):
        if end is not None and past > edge:
            near = past <= _printed(t) and past <= margin(found, t, value)
            return Standing(beside if near else missed, past)  # type: ignore[arg-type]
    if t.lo is not None and value <= t.lo + edge:
        return Standing("at lo")
    return Standing("at hi" if t.hi is not None and value >= t.hi - edge else "inside")


def margin(found: Balance, t: Target, value: float) -> float:
    """By how much a figure may miss the end of its target and still stand on it [unit of the target].

    No weight is known better than one step of the operator's balance, so a miss that one step of the row which moves
    the figure most makes or mends is none that he could tell or act upon. Two bounds besides: a miss of half the last
    place in which the figure is printed can be read off and is a miss, however coarse the balance; and what is left
    within the solver's own accuracy is never one.
    """
    own = _EDGE * float(words(t.key)["tolerance"])
    return max(own, min(_printed(t), one_step(found, t, value)))


def _printed(t: Target) -> float:
    """Half the last place in which the figure of a target is printed [unit of the target]."""
    return float(_HALF_A_PLACE * 10.0 ** -int(words(t.key)["decimals"]))


def one_step(found: Balance, t: Target, value: float) -> float:
    """How far one step of the balance, on the row that counts most, moves the figure [unit of the target]."""
    p, count = found.compiled.problem, len(found.x)
    weighed = found.x > 0.0
    moves = np.abs(_per_gram(found, t, value, p.Y[:, :count]))[weighed] * p.step[:count][weighed]
    return float(moves.max(initial=0.0))


def _per_gram(found: Balance, t: Target, value: float, Y: Vec) -> Vec:
    """How far a gram of each row moves the figure of a target [unit of the target per g]."""
    if t.key == "viscosity":
        slopes = np.nan_to_num(log_viscosity_slopes(found.n, found.setting.temperature))
        return np.asarray(value * log(10.0) * (slopes @ Y))
    made = shape(found.setting, t)
    if made is None:
        return np.zeros(Y.shape[1])
    num, den = made
    top, bottom = num.u @ Y + num.v, 1.0
    if den is not None:
        bottom = float(den.u @ found.n + den.v @ found.x) + den.c
        top = top - value * (den.u @ Y + den.v)
    pot = found.setting.pot
    if t.key == "cover" and pot is not None:
        bottom = pi * pot.radius(pot.level(found.setting.cover_metal) + max(value, 0.0)) ** 2 / 1000.0
    return np.asarray(top / bottom) if abs(bottom) > 0.0 else np.zeros(Y.shape[1])


def just_missed(target: TargetReport) -> bool:
    """Whether a target is missed by so little that it counts as standing on its end."""
    return target.on and target.state in ("at lo", "at hi") and target.off_by > 0.0


def allowances(found: Balance, targets: Iterable[TargetReport]) -> Mapping[str, float]:
    """By how much the windows of targets on their ends may be missed, by key [unit of the window].

    As much as they are missed, and no less than the accuracy of the solver: an ore without ranges stands there too.
    """
    on_end = (t for t in targets if t.on and t.state in ("at lo", "at hi"))
    return {f"{t.key}#{t.state.removeprefix('at ')}": _as_window(found, _at_least(t)) * (1.0 + 1e-9) for t in on_end}


def _at_least(t: TargetReport) -> TargetReport:
    """A target on its end, missed by no less than the last digits of an answer."""
    return replace(t, off_by=max(t.off_by, _DIGITS * float(words(t.key)["tolerance"])))


def _as_window(found: Balance, t: TargetReport) -> float:
    """A miss as the solver has it: a cover as melt, a viscosity as its logarithm."""
    if t.key == "viscosity" and t.hi:
        return log10((t.hi + t.off_by) / t.hi)
    if t.key != "cover":
        return t.off_by
    ends = (t.lo, t.lo - t.off_by) if t.lo is not None and t.state == "at lo" else (t.hi, (t.hi or 0.0) + t.off_by)
    low, high = (as_volume(found.setting, end or 0.0) for end in ends)
    return abs(high - low)
