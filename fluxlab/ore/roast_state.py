"""The state that a plan most likely leaves, and many states around it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import isfinite, log

import numpy as np

from fluxlab.issue import Issue, error, note
from fluxlab.ore import roast_kinetics as kinetics
from fluxlab.ore.lattice import lattice, normal_lattice, triangle, under_normal
from fluxlab.ore.mix_types import Entry
from fluxlab.ore.roast_arrays import METALS, Arr, Arrays, States
from fluxlab.ore.roast_figure_list import sensible_roast
from fluxlab.ore.roast_kinetics import Course
from fluxlab.ore.roast_tables import settings
from fluxlab.ore.roast_types import Pairs, RoastPlan, RoastState

_TAIL = 0.684
"""A twentieth of a triangle lies beyond this part of its half: 1 - sqrt(0.1)."""
_COMMON = 0.8
"""Part of the spread of the burning time that all minerals of a bed share (its square and the rest's add up to one)."""
_GOOD_ROAST, _POOR_ROAST = 1.0 / 9.0, 4.0
"""Powers of an even spread: nine parts burnt to one, give or take, and one part to four."""
_OWN = 14
"""Directions of the lattice before those that belong to single minerals."""
_HOTTEST = 1300.0


def planned_state(a: Arrays, shares: Arr, plan: RoastPlan, c: Course) -> RoastState:
    """The state that the plan most likely leaves of a mix [g/g]; what the operator has set himself stands."""
    at, unmoved = np.array([plan.finish_temperature]), np.ones((1, len(a.minerals)))
    burnt = kinetics.conversions(a, c, unmoved, 0.0 * at)[0].tolist()
    through = dict(zip([m.name for m in a.minerals], burnt, strict=True))
    left = kinetics.formed()[1] * kinetics.persistence(at, c.minutes, c.own)[0]
    psi = dict(zip(METALS, left.tolist(), strict=True))
    return RoastState(
        conversion=tuple((through | {n: v for n, v in plan.conversion if n in through}).items()),
        sulphate=tuple((psi | {m: v for m, v in plan.sulphate if m in psi}).items()),
        arsenate=_or(plan.arsenate, kinetics.arsenate_share(c)[1]),
        antimony_fumed=_or(plan.antimony_fumed, settings()["antimony"]["likely"]),
        magnetite=_or(plan.magnetite, c.unstirred),
    )


def states_around(
    a: Arrays, entries: Sequence[Entry], plan: RoastPlan, c: Course, points: int, doubtful: bool
) -> tuple[States, Arr]:
    """Likely states of the roast, one per line, and the part of the calcine lost as dust [g/g].

    Shares of the minerals are drawn from their triangles and brought back to their sum. With `doubtful` nearly half of
    the states leave the plan, from the perfect roast down to no roast at all, so that a weight which the plan does not
    explain finds others.
    """
    n, drawn = len(entries), _drawn(points, len(entries), c.own)
    u = lattice(points, _OWN + 2 * n)
    through = kinetics.conversions(a, c, drawn.slower, drawn.hotter)
    part, short = _formed(points, n), _short(u[:, 13:14], c.own) if doubtful else np.ones((points, 1))
    if doubtful:
        kind, anyhow = u[:, 13:14], drawn.anyhow
        as_planned, further, nearly, _ = _turns(c.own)
        astray = np.where(a.burns, kind >= further, (kind >= nearly) & ~a.inert)
        through = np.where(astray, np.where(a.burns, anyhow * (1.0 - c.floor), anyhow), through)
        part = np.where(kind >= as_planned, u[:, 6:_OWN], part)
        through, part = 1.0 - short * (1.0 - through), short * part
    psi = part * kinetics.persistence(c.temperature + drawn.hotter, c.minutes, c.own)
    antimony, magnetite = settings()["antimony"], settings()["magnetite"]
    states = States(
        shares=_shares(tuple(entries), points),
        conversion=_set(through, [m.name for m in a.minerals], dict(plan.conversion)),
        sulphate=_set(psi, METALS, dict(plan.sulphate)),
        arsenate=_own(plan.arsenate, u[:, 2], *kinetics.arsenate_share(c), short[:, 0]),
        antimony_fumed=_own(plan.antimony_fumed, u[:, 3], antimony["low"], antimony["likely"], antimony["high"]),
        magnetite=_own(plan.magnetite, u[:, 4], 0.0, c.unstirred, magnetite["most"]),
    )
    return states, drawn.dust


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """What is drawn for so many minerals whatever the plan, a line per state: a bed `hotter` [degC], a burning `slower`
    [-], shares burnt `anyhow`, `dust` lost [g/g]. Read-only."""

    hotter: Arr
    slower: Arr
    anyhow: Arr
    dust: Arr


@lru_cache(maxsize=16)
def _drawn(points: int, minerals: int, own: Pairs) -> _Drawn:
    s = settings(own)
    u, normal = lattice(points, _OWN + 2 * minerals), normal_lattice(points, _OWN + 2 * minerals)
    z = _COMMON * normal[:, :1] + np.sqrt(1.0 - _COMMON**2) * normal[:, _OWN + minerals :]
    kind = u[:, 13:14]
    *_, nearly, anyhow = _turns(own)
    drawn = _Drawn(
        hotter=s["temperature"]["spread"] * normal[:, 1],
        slower=np.exp(log(s["kinetics"]["spread"]) * z),
        anyhow=under_normal(z) ** np.where(kind < nearly, _GOOD_ROAST, np.where(kind < anyhow, 1.0, _POOR_ROAST)),
        dust=s["dust"]["likely"] * np.exp(s["dust"]["spread"] * normal[:, 5]),
    )
    for values in (drawn.hotter, drawn.slower, drawn.anyhow, drawn.dust):
        values.setflags(write=False)
    return drawn


def _turns(own: Pairs) -> tuple[float, float, float, float]:
    """Of the states tried against a weight, up to which part they follow the plan, go further, burn nearly through
    whatever the plan, or burn anyhow [0..1]; the last ones hardly burn."""
    s = settings(own)["weighed"]
    to = np.cumsum([s[name] for name in ("as_planned", "further", "nearly", "anyhow", "hardly")]).tolist()
    return to[0] / to[4], to[1] / to[4], to[2] / to[4], to[3] / to[4]


def _short(kind: Arr, own: Pairs) -> Arr:
    """How far each state that goes further than planned falls short of the perfect roast, 1 = as planned [0..1]."""
    as_planned, further, *_ = _turns(own)
    along = (kind - as_planned) / max(further - as_planned, 1e-12)
    return np.where((kind >= as_planned) & (kind < further), along, 1.0)


def sound_plan(plan: RoastPlan) -> tuple[RoastPlan, tuple[Issue, ...]]:
    """The plan with every number that makes no sense replaced by the usual one, and what was wrong."""
    issues: list[Issue] = []
    usual = RoastPlan()

    def number(name: str, words: str, unit: str, low: float, high: float) -> None:
        nonlocal plan
        value = getattr(plan, name)
        if isfinite(value) and low <= value <= high:
            return
        sentence = f"{words} of {value:g} {unit} is not possible; {getattr(usual, name):g} {unit} is used."
        issues.append(error(f"roast.{name}", sentence, f"Give it between {low:g} and {high:g} {unit}."))
        plan = replace(plan, **{name: getattr(usual, name)})

    number("start_temperature", "A start", "°C", 20.0, _HOTTEST)
    number("finish_temperature", "A finish", "°C", 20.0, _HOTTEST)
    number("minutes", "A roast", "minutes", 0.0, 10_000.0)
    number("bed_depth", "A bed", "mm", 0.1, 1_000.0)
    number("particle_size", "A grain size", "mm", 0.001, 100.0)
    number("balance_error", "An error of the balance", "g", 0.0, 1e6)
    if plan.start_temperature > plan.finish_temperature:
        start, finish = f"{plan.start_temperature:g} °C", f"{plan.finish_temperature:g} °C"
        sentence = f"The roast is to begin at {start} and to finish at {finish}: {finish} is used throughout."
        issues.append(note("roast.start_temperature", sentence, "Begin it below its finish."))
    plan = replace(
        plan,
        conversion=tuple((name, v) for name, v in plan.conversion if _share(name, v, issues)),
        sulphate=tuple((metal, v) for metal, v in plan.sulphate if _share(f"{metal} as sulphate", v, issues)),
        arsenate=_good("arsenate", plan.arsenate, issues),
        antimony_fumed=_good("antimony that fumes", plan.antimony_fumed, issues),
        magnetite=_good("magnetic iron", plan.magnetite, issues),
        silver_loss=_good("silver lost", plan.silver_loss, issues),
    )
    own, refused = sensible_roast(dict(plan.figures))
    return replace(plan, figures=tuple(own.items())), (*issues, *refused)


def _good(what: str, own: float | None, issues: list[Issue]) -> float | None:
    return own if own is not None and _share(what, own, issues) else None


def _share(what: str, value: float, issues: list[Issue]) -> bool:
    if isfinite(value) and 0.0 <= value <= 1.0:
        return True
    sentence = f"Your own figure for {what} in the roast, {value:g}, is no share; the program's own is used."
    issues.append(error("roast", sentence, "Give a share between 0 and 1, or none."))
    return False


@lru_cache(maxsize=16)
def _formed(points: int, minerals: int) -> Arr:
    """Shares that turn to sulphate, from triangles whose nine tenths are the tabled ranges (points x METALS)."""
    low, likely, high = kinetics.formed()
    ends = np.maximum(likely - (likely - low) / _TAIL, 0.0), np.minimum(likely + (high - likely) / _TAIL, 1.0)
    return triangle(lattice(points, _OWN + 2 * minerals)[:, 6:_OWN], ends[0], likely, ends[1])


@lru_cache(maxsize=16)
def _shares(entries: tuple[Entry, ...], points: int) -> Arr:
    u = lattice(points, _OWN + 2 * len(entries))[:, _OWN : _OWN + len(entries)]
    low, likely, high = (np.array([getattr(e, end) for e in entries]) for end in ("low", "likely", "high"))
    drawn = triangle(u, low, likely, high)
    total = drawn.sum(axis=1, keepdims=True)
    shares = np.asarray(drawn * (likely.sum() / np.where(total > 0.0, total, 1.0)))
    shares.setflags(write=False)
    return shares


def _set(values: Arr, names: Sequence[str], own: dict[str, float]) -> Arr:
    """The values with the columns that the operator has set."""
    for i, name in enumerate(names):
        if name in own:
            values[:, i] = own[name]
    return values


def _own(own: float | None, u: Arr, low: float, likely: float, high: float, times: Arr | float = 1.0) -> Arr:
    if own is not None:
        return np.full(len(u), own)
    return np.asarray(times * triangle(u, np.array(low), np.array(likely), np.array(max(high, likely))))


def _or(own: float | None, otherwise: float) -> float:
    return otherwise if own is None else own
