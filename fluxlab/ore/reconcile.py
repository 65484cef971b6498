"""The mix brought into agreement with the silver and gold assay.

Silver beyond what the listed minerals hold is put into the carrier that the operator names; if the minerals hold more
than the assay, the assay wins and the silver minerals are scaled down. Gold alike. Either way the mix is renormalised,
so that the unknown scales follow from two linear balances.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import isfinite

import numpy as np

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials.minerals import Mineral, minerals
from fluxlab.ore.grade import converted, fraction
from fluxlab.ore.mix_types import Entry, Mix, merged_entries
from fluxlab.ore.ore_types import Grade, OreType

_NEAR, _NOISE = 1e-9, 1e-12
_SILVER, _GOLD = "Acanthite/argentite", "Native gold"


@dataclass(frozen=True, slots=True)
class _Scales:
    """What meets the assays: factors on the silver minerals without gold and on the gold minerals [-], and the silver
    and gold carriers added to the mix as listed [g/g]."""

    factors: tuple[float, float]
    added: tuple[float, float]


def held(mix: Mix, element: str) -> float:
    """Silver or gold that the listed minerals hold [g/g]."""
    return sum(e.likely * e.mineral.read.mass_fractions.get(element, 0.0) for e in mix.entries)


def reconciled(mix: Mix, ore: OreType) -> Mix:
    """The mix [g/g] with as much silver and gold as the assays say; what was done to it is among its issues."""
    issues = list(mix.issues)
    silver = _asked(ore.silver, "silver", issues)
    gold = _asked(ore.gold, "gold", issues)
    if silver is None and gold is None:
        return replace(mix, issues=tuple(issues))
    named = (_carrier(ore.silver_carrier, "Ag", _SILVER, issues), _carrier(ore.gold_carrier, "Au", _GOLD, issues))
    for attempt in _attempts(mix, named):
        scales = _solve(attempt.mix, silver, gold, attempt.carriers)
        if scales is not None:
            break
    else:
        sentence = "The silver and gold grades are higher than their carriers could bring."
        issues.append(
            error("ore.silver", sentence, "Check the grades and their units, or name native silver as carrier.")
        )
        return replace(mix, issues=tuple(issues))
    mix, carriers = attempt.mix, attempt.carriers
    if attempt.sentence:
        issues.append(warning("ore.gold", attempt.sentence, "Check the gold minerals, both grades and their carriers."))
    issues.extend(_said(mix, scales, ore, carriers))
    entries, unnamed = _applied(mix, scales, carriers)
    if not entries:
        sentence = "The ore is named as nothing but silver and gold minerals, and the assays leave nothing of them."
        issues.append(error("ore.silver", sentence, "Name what else the ore is made of, or check the grades."))
        return replace(mix, issues=tuple(issues))
    return replace(mix, entries=entries, unnamed=unnamed, issues=tuple(issues))


@dataclass(frozen=True, slots=True)
class _Attempt:
    """One way to meet the assays, and what is to be said of it."""

    mix: Mix
    carriers: tuple[Mineral, Mineral]
    sentence: str = ""


def _attempts(mix: Mix, named: tuple[Mineral, Mineral]) -> Iterator[_Attempt]:
    """Ways to meet the assays, the nearest to the description first."""
    default = (minerals()[_SILVER], minerals()[_GOLD])
    yield _Attempt(mix, named)
    if held(mix, "Au") > 0.0:
        sentence = "The gold minerals hold more silver than the assay shows; their gold is taken as native gold."
        yield _Attempt(_as_native_gold(mix), (named[0], default[1]), sentence)
        yield _Attempt(_as_native_gold(mix), default, f"{sentence} {_SILVER} carries the silver.")
    sentence = f"{named[0].name} and {named[1].name} cannot bring these two grades; {_SILVER} and {_GOLD} carry them."
    yield _Attempt(mix, default, sentence)


def _asked(grade: Grade | None, metal: str, issues: list[Issue]) -> float | None:
    if grade is None:
        return None
    if not isfinite(grade.value) or not 0.0 <= fraction(grade) <= 1.0:
        sentence = f"A {metal} grade of {grade.value:g} {grade.unit} is not possible; the minerals are taken as listed."
        issues.append(error(f"ore.{metal}", sentence, "Check the grade and its unit."))
        return None
    return fraction(grade)


def _carrier(name: str, element: str, default: str, issues: list[Issue]) -> Mineral:
    found = minerals().get(name)
    if found is not None and element in found.read.atoms:
        return found
    metal = "silver" if element == "Ag" else "gold"
    sentence = f"“{name}” cannot carry the {metal}; {default} is taken instead."
    issues.append(error(f"ore.{metal}_carrier", sentence, f"Name a mineral that holds {metal}."))
    return minerals()[default]


def _content(mineral: Mineral) -> tuple[float, float]:
    fractions = mineral.read.mass_fractions
    return fractions.get("Ag", 0.0), fractions.get("Au", 0.0)


def _solve(mix: Mix, silver: float | None, gold: float | None, carriers: tuple[Mineral, Mineral]) -> _Scales | None:
    """Scales that meet both assays, scaling down before adding is tried; None where nothing meets them."""
    listed = np.zeros((2, 3))  # silver minerals without gold, gold minerals; mass, silver, gold
    host = np.array([mix.unnamed, 0.0, 0.0])
    for e in mix.entries:
        ag, au = _content(e.mineral)
        group = listed[1] if au > 0.0 else listed[0] if ag > 0.0 else host
        group += e.likely * np.array([1.0, ag, au])
    carrying = np.array([[1.0, *_content(carrier)] for carrier in carriers])
    asked = [(1 + which, g) for which, g in enumerate((silver, gold)) if g is not None]
    for choice in product(*(("keep",) if g is None else ("scale", "add") for g in (silver, gold))):
        unknown = [listed[w] if c == "scale" else carrying[w] for w, c in enumerate(choice) if c != "keep"]
        fixed = host + sum(listed[w] for w, c in enumerate(choice) if c != "scale")
        balances = np.array([[u[k] - g * u[0] for u in unknown] for k, g in asked])
        size = np.linalg.norm(balances, axis=0)
        if not size.all() or abs(np.linalg.det(balances / size)) < 1e-12:
            continue
        x = iter(np.linalg.solve(balances / size, np.array([g * fixed[0] - fixed[k] for k, g in asked])) / size)
        found = [_plain(float(next(x))) if c != "keep" else 1.0 for c in choice]
        factors = tuple(f if c == "scale" else 1.0 for f, c in zip(found, choice, strict=True))
        added = tuple(f if c == "add" else 0.0 for f, c in zip(found, choice, strict=True))
        if all(0.0 <= f <= 1.0 for f in factors) and all(0.0 <= a < 1e6 for a in added):
            return _Scales((factors[0], factors[1]), (added[0], added[1]))
    return None


def _plain(scale: float) -> float:
    """A scale without the last digit's noise about none and all."""
    return 0.0 if abs(scale) < _NOISE else 1.0 if abs(scale - 1.0) < _NOISE else scale


def _applied(mix: Mix, scales: _Scales, carriers: tuple[Mineral, Mineral]) -> tuple[tuple[Entry, ...], float]:
    """The entries and the unnamed rest [g/g] after scaling and adding, renormalised to one; none if nothing is left."""
    entries: dict[str, Entry] = {}
    for e in mix.entries:
        ag, au = _content(e.mineral)
        factor = scales.factors[1] if au > 0.0 else scales.factors[0] if ag > 0.0 else 1.0
        entries[e.mineral.name] = e if abs(factor - 1.0) < _NEAR else e.scaled(factor, "scaled to the assay")
    for carrier, amount in zip(carriers, scales.added, strict=True):
        if amount > 0.0:
            old = entries.get(carrier.name) or Entry(carrier, 0.0, 0.0, 0.0)
            more = (old.likely + amount, old.low + amount, old.high + amount)
            entries[carrier.name] = Entry(carrier, *more, flag=old.flag or "from the assay")
    total = mix.unnamed + sum(e.likely for e in entries.values())
    if not total > 0.0:
        return (), mix.unnamed
    return tuple(e.scaled(1.0 / total) for e in entries.values()), mix.unnamed / total


def _as_native_gold(mix: Mix) -> Mix:
    """The mix with the gold of its gold minerals as native gold and the silver of these minerals left out."""
    entries: list[Entry] = []
    for e in mix.entries:
        _, au = _content(e.mineral)
        entries.append(replace(e.scaled(au), mineral=minerals()[_GOLD]) if au > 0.0 else e)
    total = mix.unnamed + sum(e.likely for e in entries)
    merged = [e.scaled(1.0 / total) for e in merged_entries(entries)]
    return replace(mix, entries=tuple(merged), unnamed=mix.unnamed / total)


def _said(mix: Mix, scales: _Scales, ore: OreType, carriers: tuple[Mineral, Mineral]) -> list[Issue]:
    """What was done to the mix, in words."""
    issues = []
    for which, (element, metal, grade) in enumerate((("Ag", "silver", ore.silver), ("Au", "gold", ore.gold))):
        if grade is None:
            continue
        listed = converted(Grade(100.0 * held(mix, element), "%"), grade.unit).value
        has = f"The listed minerals hold {_told(listed, 4)} {grade.unit} {metal}, the assay {_told(grade.value, 4)}:"
        if scales.added[which] > 0.0:
            share = 100.0 * scales.added[which] / (1.0 + sum(scales.added))
            sentence = f"{has} the rest is put into {carriers[which].name} ({_told(share, 3)} % of the ore)."
            issues.append(note(f"ore.{metal}", sentence))
        elif scales.factors[which] < 1.0 - _NEAR:
            sentence = (
                f"{has} the assay counts, the {metal} minerals are scaled to {_told(scales.factors[which], 3)} of it."
            )
            issues.append(note(f"ore.{metal}", sentence, f"Check the {metal} minerals or the assay."))
    return issues


def _told(value: float, digits: int) -> str:
    """A figure with so many digits, never as a power of ten."""
    rounded = float(f"{value:.{digits}g}")
    return f"{rounded:.10g}" if rounded >= 1e-4 or rounded <= 0.0 else "less than 0.0001"
