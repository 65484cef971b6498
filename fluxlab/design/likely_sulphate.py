"""Alkali that the sulphur of likely ores holds: each ore has its own sulphides."""

from collections.abc import Mapping

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.fusion.burning import burning, is_fuel
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.melt import ACID
from fluxlab.fusion.pot_of import ALKALI
from fluxlab.fusion.sulphate import preference, sulphate_constants
from fluxlab.fusion.sulphate_left import readiness
from fluxlab.fusion.sulphate_many import held_shares, nitre_shares
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.oxides import Vec
from fluxlab.ore import pot
from fluxlab.ore.samples import PotSamples
from fluxlab.ore.sulphate_of import sulphate_of
from fluxlab.ore.unit_feed import UnitFeed

_OXYGEN = atomic_mass("O")


def as_flux(found: Balance, drawn: PotSamples, unit: UnitFeed) -> tuple[Vec, Vec]:
    """Oxides of each sample (samples x oxides) [mol] that its slag has beside what the rows of the problem bring, and
    the share of its alkali that sulphur holds (samples) [mol/mol].

    At the weights of the recipe: what the sulphur of the sample holds is off, and metal and matte by the shares of the
    likely ore; what the problem takes off by itself is put back.
    """
    none, assumed, B = found.none, found.assumed, drawn.oxides
    brought = found.fluxes.Y @ found.x
    left = B * none.kept + (none.kept - assumed.kept) * brought
    if not none.share > 0.0:
        return left, np.zeros(len(B))
    whole = np.maximum(B + brought, 0.0)
    alkali = whole[:, ALKALI].sum(axis=1)
    held = np.minimum(_held(found, drawn, unit, alkali, whole @ ACID), alkali)
    share = held / np.where(alkali > 0.0, alkali, 1.0)
    left[:, ALKALI] += assumed.further * brought[ALKALI] + assumed.ahead[ALKALI] - share[:, None] * whole[:, ALKALI]
    return left, share


def _held(found: Balance, drawn: PotSamples, unit: UnitFeed, alkali: Vec, acid: Vec) -> Vec:
    """Alkali that each sample's sulphur holds [mol]: that which burns, and that of sulphate."""
    burnt = _by_burnt(found, drawn, unit, alkali, acid) if found.none.fuel else np.zeros(len(alkali))
    salts, rest = _salts(found, drawn, unit)[:, None], np.maximum(alkali - burnt, 0.0)
    by_salts = salts * held_shares(salts, np.array([readiness(found.tables.sulphur)]), rest, acid)
    return np.asarray(burnt + by_salts[:, 0])


def _salts(found: Balance, drawn: PotSamples, unit: UnitFeed) -> Vec:
    """Sulphate of each sample that no reducer brings back [mol]: as much comes back as in the likely ore."""
    if not found.none.salts > 0.0:
        return np.zeros(len(drawn.weights))
    there = float(sulphate_of(unit, _likely(found, unit)[None])[0])
    return np.maximum(sulphate_of(unit, drawn.weights) - max(there - found.none.salts, 0.0), 0.0)


def _by_burnt(found: Balance, drawn: PotSamples, unit: UnitFeed, alkali: Vec, acid: Vec) -> Vec:
    """Alkali that the sulphide which burns in each sample holds [mol]."""
    names, grams = _fuel(found, drawn, unit)
    preferences = np.array([preference(m, found.tables.sulphate) for m in names])
    claims = grams * np.array([_claim(m) for m in names])
    all_burnt = held_shares(claims, preferences, alkali, acid)
    base, more = np.array([_asked(m) for m in names]).T
    asked = grams @ base + (grams * all_burnt) @ more + float(found.setting.agents.reducers @ found.x)
    burns = np.clip(_reach(found, drawn, unit, alkali, acid) / np.where(asked > 0.0, asked, 1.0), 0.0, 1.0)
    claims = claims * burns[:, None]
    return np.asarray((claims * held_shares(claims, preferences, alkali, acid)).sum(axis=1))


def _fuel(found: Balance, drawn: PotSamples, unit: UnitFeed) -> tuple[list[str], Vec]:
    """Sulphides by formula, and how much of each is in each sample (samples x sulphides) [g].

    What the likely ore and the rows have, the cores of half-burnt grains with it, and what the ores differ by.
    """
    left, minerals = _left(unit), [e.mineral.formula for e in unit.mix.entries]
    moved = (drawn.weights - _likely(found, unit)) * left
    own = [i for i, m in enumerate(minerals) if is_fuel(m) and left[i] > 0.0]
    names = list(dict.fromkeys((*found.none.fuel, *(minerals[i] for i in own))))
    grams = np.tile([found.none.fuel.get(m, 0.0) for m in names], (len(moved), 1))
    for i in own:
        grams[:, names.index(minerals[i])] += moved[:, i]
    return names, np.maximum(grams, 0.0)


def _reach(found: Balance, drawn: PotSamples, unit: UnitFeed, alkali: Vec, acid: Vec) -> Vec:
    """Oxygen that is there for the sulphide of each sample [g O]."""
    left = _left(unit)
    ready = np.array(
        [
            _ready(e.mineral, unit, share, found.tables.redox["burns"])
            for e, share in zip(unit.mix.entries, left, strict=True)
        ]
    )
    nitre = float(found.setting.agents.nitre @ found.x) * oxygen_demand("KNO3")
    ores = (drawn.weights - _likely(found, unit)) @ ready
    return np.asarray(
        found.none.reach - found.none.nitre + ores + nitre * nitre_shares(alkali, acid, found.tables.nitre)
    )


def _likely(found: Balance, unit: UnitFeed) -> Vec:
    """Raw mass of each entry of the mix behind the charge [g]."""
    return np.asarray(found.feed.dry * np.array(unit.weights))


def _left(unit: UnitFeed) -> Vec:
    """Share of each entry of the mix that goes into the pot unburnt [0..1]."""
    if unit.roast is None:
        return np.ones(len(unit.mix.entries))
    left = unit.roast_of.left if unit.roast_of is not None else None
    if left is None:
        return np.zeros(len(unit.mix.entries))
    each = [left.unburnt.get(e.mineral.name, 0.0) / e.likely if e.likely > 0.0 else 0.0 for e in unit.mix.entries]
    return np.asarray(np.clip(np.array(each), 0.0, 1.0))


def _claim(mineral: str) -> float:
    """Alkali that the sulphur and arsenic of a gram of a sulphide could take [mol/g]."""
    each = burning(mineral)
    return (each.sulphur + sulphate_constants().base_per_arsenic * each.arsenic) / formula(mineral).mass


def _asked(mineral: str) -> tuple[float, float]:
    """Oxygen that a gram of a sulphide asks of others, and how much more when all its sulphur is held [g O/g]."""
    each, mass = burning(mineral), formula(mineral).mass
    own = each.lead * formula("PbO").mass * oxygen_demand("PbO")
    return (each.oxygen * _OXYGEN - own) / mass, (each.sulphur + each.more_arsenic) * _OXYGEN / mass


def _ready(mineral: Mineral, unit: UnitFeed, unburnt: float, readiness: Mapping[str, float]) -> float:
    """Oxygen that a gram of an entry of the mix holds ready for sulphide [g O/g]."""
    piece = pot.raw(mineral) if unit.roast is None else pot.calcined(mineral)
    ready = sum(g * oxygen_demand(s) * readiness.get(s, 0.0) for s, g in piece.reducible.items())
    return float(ready) * (1.0 if unit.roast is None else 1.0 - unburnt)
