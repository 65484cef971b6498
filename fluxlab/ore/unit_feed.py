"""What one gram of dry charge holds, from the mix of minerals behind it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from fluxlab.issue import Issue, warning
from fluxlab.materials import oxides
from fluxlab.ore import pot
from fluxlab.ore.analysis import mix
from fluxlab.ore.as_weighed import explained, parts_of_minerals
from fluxlab.ore.mix_types import Mix
from fluxlab.ore.ore_types import OreType, Stage
from fluxlab.ore.partial_pot import Brought, partly_roasted
from fluxlab.ore.partial_roast import partial_roast
from fluxlab.ore.roast import Roasted, roasted, total
from fluxlab.ore.roast_figures import RoastOf, roast_of
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan

_CALCITE_PER_CO2 = 2.274
"""Calcite for the carbon dioxide of an assay [g/g]."""
_NOT_BURNT = frozenset({"Ag", "Au", "C"})
_WRONG_STAGE: Mapping[tuple[Stage, Stage], str] = {
    (
        "ore",
        "concentrate",
    ): "The description is of the raw ore, but the pot gets concentrate: all figures are the ore's.",
    (
        "concentrate",
        "ore",
    ): "The description is of the concentrate, but the pot gets raw ore: all figures are the concentrate's.",
    ("calcine", "ore"): "The description is of the calcine, but the pot gets raw ore: its sulphur is not known.",
    (
        "calcine",
        "concentrate",
    ): "The description is of the calcine, but the pot gets raw concentrate: its sulphur is not known.",
}


@dataclass(frozen=True, slots=True)
class UnitFeed:
    """What one gram of dry charge holds [g/g], its slag oxides [mol/g] with their low and high, iron as FeO.

    `raw` [g/g] is the dry raw material behind it, by its weights where a roast explains them, and `weights` [g/g] the
    raw mass of each entry of the mix; `counts` [g/g] is how much of what the reckoned roast leaves of an entry is in
    the charge. `roast` is of one gram of raw material, None where nothing is roasted, and `roast_of` its state, ranges
    and programme; `change`
    is the calcine's mass less one [g/g raw], likely, low and high, by the ranges of the shares alone. `fuel` by formula
    is unburnt matter without oxygen. `grains` [g/cm3] is the density of the grains.
    """

    mix: Mix
    raw: float
    counts: tuple[float, ...]
    weights: tuple[float, ...]
    slag: oxides.Vec
    low: oxides.Vec
    high: oxides.Vec
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    gases: Mapping[str, float]
    elements: Mapping[str, float]
    raw_elements: Mapping[str, float]
    reducible: Mapping[str, float]
    fuel: Mapping[str, float]
    unnamed: float
    sulphide: float
    carbonate: float
    grains: float
    roast: Roasted | None
    roast_of: RoastOf | None
    change: tuple[float, float, float]
    issues: tuple[Issue, ...]


@lru_cache(maxsize=128)
def unit_feed(ore: OreType, pot_feed: Stage, plan: RoastPlan = PERFECT_PLAN) -> UnitFeed:
    """One gram of dry charge of this ore, in the stage in which it goes into the pot [g/g, mol/g].

    Material described raw and melted as calcine goes through the roast of the plan.
    """
    m = mix(ore)
    if pot_feed == "calcine" and ore.stage != "calcine":
        return _roasted(m, plan, ore.moisture / 100.0 if 0.0 <= ore.moisture < 100.0 else 0.0)
    return _unroasted(m, _stage_issues(ore.stage, pot_feed))


def _unroasted(m: Mix, issues: Sequence[Issue]) -> UnitFeed:
    likely = _likely(m)
    burnable = [{} if "O" in e.mineral.read.atoms else {e.mineral.formula: 1.0} for e in m.entries]
    brought = replace(
        _brought(likely, [pot.raw(e.mineral) for e in m.entries]),
        fuel=_sum(likely, burnable),
        sulphide=_sulphide(m, likely),
        carbonate=_carbonate(m, likely),
    )
    return _made(m, np.ones(len(likely)), brought, None, None, issues)


def _roasted(m: Mix, plan: RoastPlan, moisture: float) -> UnitFeed:
    found = roast_of(m, plan, moisture)
    minerals = [e.mineral for e in m.entries]
    if found.left is not None:
        parts = parts_of_minerals(m, found)
        left = found.left if (parts == 1.0).all() else partial_roast(minerals, _likely(m) * parts, found.figures.state)
        brought = partly_roasted(minerals, left)
        in_charge = replace(found, left=left)
        return _made(m, left.ratio, brought, found.left.roasted, in_charge, found.issues, parts)
    brought = _brought(_likely(m), [pot.calcined(mineral) for mineral in minerals])
    ratio = np.array([roasted(mineral).mass for mineral in minerals])
    roast = total((e.likely, roasted(e.mineral)) for e in m.entries)
    return _made(m, ratio, brought, roast, found, found.issues)


def _brought(likely: oxides.Vec, pieces: Sequence[pot.InPot]) -> Brought:
    """What the minerals bring into the pot, each all raw or all burnt."""
    return Brought(
        slag=np.array([p.slag for p in pieces]).reshape(-1, oxides.SIZE),
        apart=_sum(likely, (p.apart for p in pieces)),
        metal=_sum(likely, (p.metal for p in pieces)),
        gases=_sum(likely, ({s: g for s, g in p.gases.items() if s != "O2"} for p in pieces)),
        elements=_sum(likely, (p.elements for p in pieces)),
        reducible=_sum(likely, (p.reducible for p in pieces)),
        fuel={},
        sulphide=0.0,
        carbonate=0.0,
    )


def _made(
    m: Mix,
    ratio: oxides.Vec,
    brought: Brought,
    roast: Roasted | None,
    of: RoastOf | None,
    issues: Sequence[Issue],
    parts: oxides.Vec | None = None,
) -> UnitFeed:
    """One gram of charge from what a gram of raw material brings; `ratio` [g/g] is what a gram of each mineral
    leaves, `parts` [g/g] how much of that is in the charge."""
    counts = np.ones(len(m.entries)) if parts is None else parts
    slag, ratio = brought.slag * counts[:, None], ratio * counts
    left = float(_likely(m) @ ratio) + m.unnamed or 1.0
    weights, per = _likely(m) / left, 1.0 / left
    centre = _joined(weights @ slag, m)
    low, high, change = _ranges(m, slag, ratio, centre, left - 1.0)
    weighed = explained(of)
    raw = per if weighed is None else 1.0 / (1.0 + weighed.weighed / 100.0)
    return UnitFeed(
        mix=m,
        raw=raw,
        counts=tuple(counts.tolist()),
        weights=tuple(float(w) for w in weights),
        slag=centre,
        low=low,
        high=high,
        apart=_times(brought.apart, per),
        metal=_times(brought.metal, per),
        gases=_times(brought.gases, per),
        elements=_times(brought.elements, per),
        raw_elements=_sum(_likely(m) * raw, (pot.raw(e.mineral).elements for e in m.entries)),
        reducible=_times(brought.reducible, per),
        fuel=_times(brought.fuel, per),
        unnamed=m.unnamed / left if m.entries else 1.0,
        sulphide=brought.sulphide * per,
        carbonate=brought.carbonate * per,
        grains=_grains(m, weights, ratio),
        roast=roast,
        roast_of=of,
        change=change,
        issues=(*m.issues, *issues),
    )


def _likely(m: Mix) -> oxides.Vec:
    return np.array([e.likely for e in m.entries])


def _times(amounts: Mapping[str, float], by: float) -> Mapping[str, float]:
    return {name: amount * by for name, amount in amounts.items()}


def _ranges(
    m: Mix, slag: oxides.Vec, ratio: oxides.Vec, centre: oxides.Vec, change: float
) -> tuple[oxides.Vec, oxides.Vec, tuple[float, float, float]]:
    """Low and high of the slag oxides [mol/g] and the change of mass in the roast [g/g]: one share after the other at
    its ends, the mix renormalised, the moves added as a root of squares."""
    likely = np.array([e.likely for e in m.entries])
    moved = [(i, end) for i, e in enumerate(m.entries) for end in (e.low, e.high) if abs(end - e.likely) > 1e-12]
    if not moved:
        return centre, centre, (change, change, change)
    shares = np.tile(likely, (len(moved), 1))
    shares[range(len(moved)), [i for i, _ in moved]] = [end for _, end in moved]
    named = shares.sum(axis=1)
    shares *= np.where(named > 0.0, (1.0 - m.unnamed) / np.maximum(named, 1e-12), 0.0)[:, None]
    left = shares @ ratio + m.unnamed
    rows = np.array([_joined(row, m) for row in shares @ slag / np.maximum(left, 1e-12)[:, None]])
    moves = rows - centre
    low = centre - np.sqrt((np.minimum(moves, 0.0) ** 2).sum(axis=0))
    high = centre + np.sqrt((np.maximum(moves, 0.0) ** 2).sum(axis=0))
    mass_moves = left - 1.0 - change
    less = change - float(np.sqrt((np.minimum(mass_moves, 0.0) ** 2).sum()))
    more = change + float(np.sqrt((np.maximum(mass_moves, 0.0) ** 2).sum()))
    return np.maximum(low, 0.0), high, (change, less, more)


def _joined(slag: oxides.Vec, m: Mix) -> oxides.Vec:
    """The slag with the fluorine of an assay bound to lime; minerals have bound their own already."""
    return oxides.join_fluorspar(slag) if m.pooled else slag


def _sum(weights: oxides.Vec, each: Iterable[Mapping[str, float]]) -> Mapping[str, float]:
    total_of: dict[str, float] = {}
    for w, amounts in zip(weights, each, strict=True):
        for name, amount in amounts.items():
            total_of[name] = total_of.get(name, 0.0) + float(w) * amount
    return total_of


def _sulphide(m: Mix, weights: oxides.Vec) -> float:
    """Mass of the sulphides and arsenides [g/g]; in an assay with sulphur, of everything that is not an oxide."""
    formulas = {e.mineral.formula for e in m.entries}
    burnable = [
        "O" not in e.mineral.read.atoms and not set(e.mineral.read.atoms) & _NOT_BURNT
        if m.pooled and "S" in formulas and e.flag == "as assayed"
        else pot.is_sulphide(e.mineral)
        for e in m.entries
    ]
    return float(weights @ np.array(burnable, dtype=float)) if burnable else 0.0


def _carbonate(m: Mix, weights: oxides.Vec) -> float:
    """Mass of the carbonates [g/g]; the carbon dioxide of an assay counts as calcite."""
    mass = 0.0
    for e, w in zip(m.entries, weights, strict=True):
        if e.mineral.formula == "CO2":
            mass += _CALCITE_PER_CO2 * float(w)
        elif pot.is_carbonate(e.mineral):
            mass += float(w)
    return mass


def _grains(m: Mix, weights: oxides.Vec, ratio: oxides.Vec) -> float:
    """Density of the grains [g/cm3]: in the roast they keep their outline, so that pores count with them (judgement:
    it puts roasted concentrate near the bulk densities met in practice)."""
    volume = sum(
        float(w) / pot.density(e.mineral) for e, w, r in zip(m.entries, weights, ratio, strict=True) if r > 0.0
    )
    mass = float(weights @ ratio) if len(ratio) else 0.0
    return mass / volume if volume > 0.0 else pot.UNKNOWN_DENSITY


def _stage_issues(described: Stage, pot_feed: Stage) -> list[Issue]:
    sentence = _WRONG_STAGE.get((described, pot_feed))
    return (
        [warning("ore.stage", sentence, f"Describe the {pot_feed}, or say that the pot gets {described}.")]
        if sentence
        else []
    )
