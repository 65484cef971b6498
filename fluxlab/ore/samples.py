"""Likely ores: samples of what the charge brings into the pot, drawn within the ranges of the description.

Each share is drawn from the triangle low, likely, high and all are brought back to their sum, so that the oxides of a
mineral rise and fall together. An assay turned into minerals is sampled on those minerals; one that is used as it is
has no minerals and is sampled on its own figures. The roast is the likely one. The triangle is a judgement.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fluxlab.materials import oxides as basis
from fluxlab.materials.oxides import Vec
from fluxlab.ore import pot
from fluxlab.ore.ore_types import OreType, Stage
from fluxlab.ore.partial_pot import partly_roasted
from fluxlab.ore.roast import roasted
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from fluxlab.ore.unit_feed import UnitFeed, unit_feed

COUNT = 1000
"""Samples in a set."""
TRAIN, CHECK = 1, 2
"""Two independent sets: one to find a recipe with, one to judge it by."""


@dataclass(frozen=True, slots=True, eq=False)
class PotSamples:
    """Likely ores, one per line: slag `oxides` [mol] of the charge, iron split, and `weights` [g], the raw mass of each
    entry of the mix behind it. `ranged` says whether they differ at all."""

    oxides: Vec
    weights: Vec
    ranged: bool


def pot_samples(
    ore: OreType,
    pot_feed: Stage,
    dry: float,
    ferric_share: float = 1.0,
    plan: RoastPlan = PERFECT_PLAN,
    *,
    count: int = COUNT,
    seed: int = TRAIN,
) -> PotSamples:
    """Samples of a charge of `dry` mass [g] in the pot [mol, g]; the same for the same seed.

    They pass through the roast that `feed` reckons with, so that likely shares give what `feed` gives.
    """
    slag, weights, ranged = _per_gram(ore, pot_feed, plan, count, seed)
    return PotSamples(basis.split_iron(dry * slag, ferric_share).T, dry * weights, ranged)


def of_shares(ore: OreType, pot_feed: Stage, shares: Vec, plan: RoastPlan = PERFECT_PLAN) -> tuple[Vec, Vec]:
    """Slag oxides [mol/g], iron as FeO, and raw masses [g/g] of one gram of charge, a line for each line of `shares`.

    `shares` [g/g of the described material] are those of the entries of the mix, in their order.
    """
    unit = unit_feed(ore, pot_feed, plan)
    slag, ratio = _contributions(unit)
    named = shares.sum(axis=1, keepdims=True)
    whole = shares * ((1.0 - unit.mix.unnamed) / np.where(named > 0.0, named, 1.0))
    left = whole @ ratio + unit.mix.unnamed
    weights = whole / np.where(left > 0.0, left, 1.0)[:, None]
    found = weights @ slag
    return (_joined(found) if unit.mix.pooled else found), weights


def drawn_shares(low: Vec, likely: Vec, high: Vec, count: int, seed: int) -> Vec:
    """Shares drawn from the triangle low, likely, high, one line per sample, before they are brought to a sum [g/g]."""
    u = np.random.default_rng(seed).random((count, len(likely)))
    width = np.where(high > low, high - low, 1.0)
    peak = (likely - low) / width
    rising = low + np.sqrt(u * peak) * width
    falling = high - np.sqrt((1.0 - u) * (1.0 - peak)) * width
    return np.where(high > low, np.where(u < peak, rising, falling), likely)


@lru_cache(maxsize=16)
def _per_gram(ore: OreType, pot_feed: Stage, plan: RoastPlan, count: int, seed: int) -> tuple[Vec, Vec, bool]:
    """Slag [mol/g], a column per sample, weights [g/g], a line per sample, and whether any share has a range."""
    entries = unit_feed(ore, pot_feed, plan).mix.entries
    ends = np.array([[e.low, e.likely, e.high] for e in entries]).reshape(-1, 3)
    slag, weights = of_shares(ore, pot_feed, drawn_shares(ends[:, 0], ends[:, 1], ends[:, 2], count, seed), plan)
    return np.ascontiguousarray(slag.T), weights, len(entries) > 1 and bool((ends[:, 2] > ends[:, 0]).any())


def _contributions(unit: UnitFeed) -> tuple[Vec, Vec]:
    """Slag oxides [mol/g], iron as FeO, and mass left [g/g] of a gram of each entry of the mix."""
    found = [e.mineral for e in unit.mix.entries]
    if unit.roast is None:
        return _stacked([pot.raw(m) for m in found]), np.ones(len(found))
    left = unit.roast_of.left if unit.roast_of is not None else None
    if left is not None:
        counts = np.array(unit.counts)
        return partly_roasted(found, left).slag * counts[:, None], left.ratio * counts
    return _stacked([pot.calcined(m) for m in found]), np.array([roasted(m).mass for m in found])


def _stacked(pieces: list[pot.InPot]) -> Vec:
    return np.array([p.slag for p in pieces]).reshape(-1, basis.SIZE)


def _joined(slag: Vec) -> Vec:
    """Lines of oxides with loose fluorine bound to lime, as `join_fluorspar` does for one."""
    fluorine, spar, lime = (basis.INDEX[s] for s in ("F", "CaF2", "CaO"))
    bound = np.minimum(slag[:, fluorine] / 2.0, slag[:, lime])
    slag[:, spar] += bound
    slag[:, lime] -= bound
    slag[:, fluorine] -= 2.0 * bound
    return slag
