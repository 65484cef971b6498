"""What the weight before and after says of a roast: which states explain it, and how much sulphur they leave.

Likely states are tried by the thousand, the same ones at every run, and count by how near they come to the weight. A
small loss can hide sulphate, so that the answer is a range and the kinds of roast that would weigh the same.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import isfinite, sqrt

import numpy as np
from numpy.typing import NDArray

from fluxlab.issue import Issue, error, warning
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.mix_types import Entry
from fluxlab.ore.roast_arrays import METALS, Arr, Arrays, Outcome, States, arrays, outcome
from fluxlab.ore.roast_kinetics import Course, course
from fluxlab.ore.roast_state import planned_state, states_around
from fluxlab.ore.roast_tables import settings
from fluxlab.ore.roast_types import Explanation, Ranges, RoastPlan, RoastReading, RoastState

POINTS = 2039
_FREEDOM = 4.0
"""Degrees of freedom of the weighing's error: a slip of the hand is likelier than a normal law says; judgement."""
_WORTH_A_WORD = 0.05
_NINE_IN_TEN = (0.05, 0.5, 0.95)
_FEW = 40.0
"""States that have to count, or the range is said to be rough."""


def roast_reading(a: Arrays, entries: Sequence[Entry], plan: RoastPlan, c: Course, moisture: float) -> RoastReading:
    """Which roast states explain the weights of the plan, and what sulphur and arsenic they leave [% of the calcine].

    `moisture` [g/g] is that of the material as it went on the tray; the change is reckoned on the dry weight. Weights
    that say nothing (none, or no weight before) give a reading that is not explained and says so.
    """
    states, found, predicted = _tried(tuple(entries), replace(plan, before=None, after=None))
    shares = np.array([e.likely for e in entries])
    asked = _weighed(plan, moisture)
    if isinstance(asked, Issue):
        even = np.ones(len(predicted)) / len(predicted)
        return _read(0.0, 0.0, False, planned_state(a, shares, plan, c), predicted, found, even, (), (asked,))
    weighed, error_of_weights = asked
    s = settings(c.own)["weighing"]
    sigma = sqrt(error_of_weights**2 + s["model"] ** 2)
    off = (predicted - weighed) / sigma
    nearest = float(np.abs(off).min(initial=np.inf))
    weights = (1.0 + off**2 / _FREEDOM) ** (-(_FREEDOM + 1.0) / 2.0)
    weights /= weights.sum()
    if not nearest <= s["worst"]:
        planned = planned_state(a, shares, plan, c)
        issue = _unexplained(weighed, predicted, moisture)
        even = np.ones(len(predicted)) / len(predicted)
        return _read(weighed, sigma, False, planned, predicted, found, even, (), (issue,))
    effective = float(1.0 / (weights @ weights))
    issues = () if effective >= _FEW else (_rough(weighed),)
    state = _mean_state(a, states, found, weights)
    kinds = _explanations(found, weights, s["little_sulphur"] / 100.0)
    return _read(weighed, sigma, True, state, predicted, found, weights, kinds, issues)


def ends_of(entries: Sequence[Entry], plan: RoastPlan) -> tuple[float, float]:
    """Least and most change of the dry weight that the states tried show [% of raw]."""
    _, _, predicted = _tried(tuple(entries), replace(plan, before=None, after=None))
    return float(predicted.min()), float(predicted.max())


@lru_cache(maxsize=8)
def _tried(entries: tuple[Entry, ...], plan: RoastPlan) -> tuple[States, Outcome, Arr]:
    """The states tried, what each leaves, and the change of weight that it would show [% of raw]; the weights of the
    plan play no part, so that a new weight is judged at once."""
    a = arrays(tuple(e.mineral for e in entries))
    way = course(a, np.array([e.likely for e in entries]), plan)
    states, dust = states_around(a, entries, plan, way, POINTS, doubtful=True)
    found = outcome(a, states)
    return states, found, 100.0 * (found.calcine * (1.0 - dust) - 1.0)


def ranges_of(found: Outcome, change: Arr, weights: Arr, source: str) -> Ranges:
    """Change [% of raw], sulphur and arsenic [% of the calcine] of weighted states, as middle and range."""
    percent = 100.0 / np.maximum(found.calcine, 1e-12)
    sulphide, sulphate = percent * found.sulphide_sulphur, percent * found.sulphate_sulphur
    of = quantiles(
        np.stack((change, sulphide + sulphate, sulphide, sulphate, percent * found.arsenic)), weights, source
    )
    return Ranges(*of)


def quantiles(values: Arr, weights: Arr, source: str = "") -> tuple[Estimate, ...]:
    """The middle and the nine-in-ten range of each line of weighted values."""
    found = []
    for line, order in zip(values, np.argsort(values, axis=1), strict=True):
        sorted_weights = weights[order]
        along = sorted_weights.cumsum() - 0.5 * sorted_weights
        low, middle, high = np.interp(_NINE_IN_TEN, along, line[order]).tolist()
        found.append(Estimate(middle, low, high, source))
    return tuple(found)


def _weighed(plan: RoastPlan, moisture: float) -> tuple[float, float] | Issue:
    """Change of the dry weight [% of raw] and its standard deviation, or why it cannot be told."""
    before, after = plan.before, plan.after
    if before is None or after is None:
        return warning("roast.after", "The roast was not weighed before and after.", "Give both weights.")
    if not (isfinite(before) and isfinite(after)) or before <= 0.0 or after < 0.0:
        sentence = f"Weights of {before:g} g before and {after:g} g after the roast are not possible."
        return error("roast.after", sentence, "Give both in grams.")
    dry = before * (1.0 - moisture)
    ratio = after / dry
    return 100.0 * (ratio - 1.0), 100.0 * plan.balance_error / dry * sqrt(1.0 + ratio**2)


def _unexplained(weighed: float, predicted: Arr, moisture: float) -> Issue:
    low, high = float(predicted.min()), float(predicted.max())
    verb = "grew" if weighed > 0.0 else "shrank"
    dry = "dry " if moisture > 0.0 else ""
    sentence = (
        f"The {dry}weight {verb} by {abs(weighed):.1f} %; no roast of this ore as described ends there"
        f" (possible is {_signed(low)} to {_signed(high)} %)."
    )
    if weighed > high:
        why = "Weigh again, pan and unit included. If it stands, the ore is not as described, or something fell in."
    else:
        why = (
            "Weigh again, pan and unit included. If it stands, something was lost or was damp, or the ore holds more"
            " pyrite, arsenic or carbonate than described."
        )
    if moisture > 0.0:
        why += f" The weight before is counted without its {100.0 * moisture:g} % of water."
    return error("roast.after", sentence, why)


def _signed(percent: float) -> str:
    return f"{round(percent, 1) + 0.0:+.1f}".replace("-", "−")


def _rough(weighed: float) -> Issue:
    sentence = f"Few roasts of this ore end at {_signed(weighed)} %: what is said of the sulphur is rough."
    return warning("roast.after", sentence, "Weigh again, or widen the shares of the minerals.")


def _read(
    weighed: float,
    sigma: float,
    explained: bool,
    state: RoastState,
    predicted: Arr,
    found: Outcome,
    weights: Arr,
    kinds: tuple[Explanation, ...],
    issues: tuple[Issue, ...],
) -> RoastReading:
    source = "states that explain the weight" if explained else "roasts of every kind, the weight left aside"
    return RoastReading(
        weighed=weighed,
        error=sigma,
        explained=explained,
        state=state,
        ranges=ranges_of(found, predicted, weights, source),
        explanations=kinds,
        effective=float(1.0 / (weights @ weights)),
        issues=issues,
    )


def _mean_state(a: Arrays, s: States, found: Outcome, weights: Arr) -> RoastState:
    """The mean of the states, each by its weight; of sulphate and arsenate what there was SO2 and a base for."""
    return RoastState(
        conversion=tuple(zip([m.name for m in a.minerals], (weights @ s.conversion).tolist(), strict=True)),
        sulphate=tuple(zip(METALS, (weights @ found.sulphate).tolist(), strict=True)),
        arsenate=float(weights @ found.arsenate),
        antimony_fumed=float(weights @ s.antimony_fumed),
        magnetite=float(weights @ s.magnetite),
    )


def _explanations(found: Outcome, weights: Arr, little: float) -> tuple[Explanation, ...]:
    """The kinds of roast among the states that count, the likeliest first; up to so much sulphur is `little` [g/g]."""
    sulphide = found.sulphide_sulphur / np.maximum(found.calcine, 1e-12)
    sulphate = found.sulphate_sulphur / np.maximum(found.calcine, 1e-12)
    clean = sulphide + sulphate <= little
    kinds: tuple[tuple[str, NDArray[np.bool_]], ...] = (
        ("burnt through, little sulphur left", clean),
        ("burnt, with sulphate hidden in the weight", ~clean & (sulphate >= sulphide)),
        ("not burnt through, sulphide left", ~clean & (sulphate < sulphide)),
    )
    told = []
    for words, which in kinds:
        likely = float(weights[which].sum())
        if likely >= _WORTH_A_WORD:
            total = 100.0 * (sulphide + sulphate)[which]
            told.append(Explanation(words, 100.0 * likely, quantiles(total[None, :], weights[which] / likely)[0]))
    return tuple(sorted(told, key=lambda e: -e.likely))
