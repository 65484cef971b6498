"""Where every element of a pot ends: button, slag, matte, speiss or fume; nothing made and nothing lost.

Sulphur and arsenic first take what they bind (`matte`), fume and the shares of base metals follow `deportment`, lead
from litharge follows the balance of oxygen, and silver is shared between the phases by the full balance (`partition`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from fluxlab.fusion.deportment import TO_METAL, PotState, Shares, deportment_data, shares
from fluxlab.fusion.matte import Matte, Speiss, matte, speiss, sulphur_data
from fluxlab.fusion.partition import Phase, share_silver, shared_by_mass
from fluxlab.fusion.where_types import Ends, Knobs, Where

NOBLE = ("Ag", "Au")
_SCALE = 0.005
"""Matte and speiss [g per g of charge] that make hardly a layer for other metals to go into; judgement."""


@dataclass(frozen=True, slots=True)
class Pot:
    """What decides where elements end.

    `elements` [g] by symbol, oxygen and sulphur aside; `slag` [g], `charge` [g]. `reduced` [0..1] is the part of the
    lead that the balance of oxygen brings down, `litharge` [0..1] the part of the lead that came as litharge: so far
    the balance decides, and not the shares. `native` [g] came as metal already; other base metals come down only as far
    as the `oxygen` [g O] goes that reducers take beyond nitre and litharge (None: as far as they like).
    """

    elements: Mapping[str, float]
    state: PotState
    slag: float
    charge: float
    reduced: float = 0.0
    litharge: float = 0.0
    native: Mapping[str, float] = field(default_factory=dict)
    oxygen: float | None = None

    def shares(self) -> Mapping[str, Shares]:
        """Shares of each element in this pot."""
        usual = {symbol: shares(symbol, self.state) for symbol in self.elements}
        reach = self.reach(usual)
        return {symbol: self._own(symbol, each, reach) for symbol, each in usual.items()}

    def held_back(self) -> Mapping[str, float]:
        """Base metals that would come down but for want of a reducer [g]."""
        usual = {symbol: shares(symbol, self.state) for symbol in self.elements if symbol in TO_METAL}
        reach = self.reach(usual)
        return (
            {s: _most_metal(each) * (1.0 - reach) * self.bound(s) for s, each in usual.items()} if reach < 1.0 else {}
        )

    def reach(self, usual: Mapping[str, Shares]) -> float:
        """How far the oxygen that reducers take goes with the metals that would come down [0..1]."""
        if self.oxygen is None:
            return 1.0
        asked = sum(
            TO_METAL[symbol] * _most_metal(each) * self.bound(symbol)
            for symbol, each in usual.items()
            if symbol in TO_METAL
        )
        return min(self.oxygen / asked, 1.0) if asked > 0.0 else 1.0

    def bound(self, symbol: str) -> float:
        """A base metal that came neither as metal nor as litharge [g]."""
        there = max(self.elements.get(symbol, 0.0), 0.0)
        litharge = self.litharge * there if symbol == "Pb" else 0.0
        return max(there - self.native.get(symbol, 0.0) - litharge, 0.0)

    def _own(self, symbol: str, usual: Shares, reach: float) -> Shares:
        metal, matte = usual.metal, usual.matte
        stays = 1.0 - usual.fume
        if symbol in TO_METAL and reach < 1.0 and self.elements[symbol] > 0.0:
            metal -= metal * (1.0 - reach) * self.bound(symbol) / self.elements[symbol]
        if symbol == "Pb" and self.litharge > 0.0:
            matte *= 1.0 - self.litharge
            metal += self.litharge * (self.reduced * (stays - matte) - usual.metal)
        return Shares(max(metal, 0.0), max(stays - metal - matte, 0.0), matte, usual.fume)


def _most_metal(share: Shares) -> float:
    """Part of an element that is metal where no matte takes its share [0..1]."""
    both = share.metal + share.slag
    return (1.0 - share.fume) * share.metal / both if both > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class Bases:
    """Where the base metals end [g] as long as no drops hang in the slag, with matte, speiss and metal in all [g]."""

    elements: Mapping[str, Where]
    matte: Matte
    speiss: Speiss
    metal: float


def where_all(pot: Pot, knobs: Knobs, known: Mapping[str, Shares] | None = None) -> Ends:
    """Where every element of the pot ends [g]; `known` spares working out the shares again."""
    share = known or pot.shares()
    bases = where_bases(pot, knobs, share)
    drops = {symbol: hanging(where, knobs.trapped) for symbol, where in bases.elements.items()}
    return Ends(MappingProxyType(drops | where_noble(pot, bases, knobs, share)), bases.matte, bases.speiss)


def where_bases(pot: Pot, knobs: Knobs, share: Mapping[str, Shares]) -> Bases:
    """Where the base metals end [g] as long as no drops hang in the slag."""
    there = {s: max(g, 0.0) for s, g in pot.elements.items()}
    hard = speiss(there.get("As", 0.0) * share["As"].matte if "As" in share else 0.0, there.get("Fe", 0.0))
    free: dict[str, float] = {s: there[s] * (1.0 - share[s].fume) for s in ("Cu", "Pb", "Ag") if s in there}
    free["Fe"] = max(there.get("Fe", 0.0) - hard.iron, 0.0)
    soft = matte(knobs.sulphur, free, knobs.dissolves)
    opens = 1.0 / (soft.mass + hard.mass + _SCALE * max(pot.charge, 1.0))
    ends = {s: _base(s, grams, share[s], soft, hard, opens) for s, grams in there.items() if s not in NOBLE}
    ends = _with_hosts(ends, sum(there.get(s, 0.0) for s in NOBLE))
    return Bases(MappingProxyType(ends), soft, hard, sum(w.button for w in ends.values()))


def where_noble(pot: Pot, bases: Bases, knobs: Knobs, share: Mapping[str, Shares]) -> dict[str, Where]:
    """Where silver and gold end [g], the base metals lying as they do."""
    found: dict[str, Where] = {}
    metal = bases.metal
    if "Ag" in pot.elements:
        silver = _silver(max(pot.elements["Ag"], 0.0), share["Ag"].fume, metal, bases, pot.slag, knobs)
        found["Ag"] = silver
        metal += silver.button + silver.drops
    if "Au" in pot.elements:
        found["Au"] = _gold(max(pot.elements["Au"], 0.0), share["Au"].fume, metal, bases.matte, pot.slag, knobs)
    return found


def hanging(where: Where, trapped: float) -> Where:
    """A base metal of which a part hangs in the slag as drops [g]."""
    drops = where.button * trapped
    if drops <= 0.0:
        return where
    return Where(where.button - drops, drops, where.slag, where.matte, where.speiss, where.fume, where.handling)


def _with_hosts(ends: dict[str, Where], noble: float) -> dict[str, Where]:
    """The base metals [g] with those that only dissolve in metal kept to what silver, gold [g] and the others hold."""
    row = deportment_data()["guests"]
    guests = [s for s in row["symbols"] if s in ends and ends[s].button > 0.0]
    held = sum(ends[s].button for s in guests)
    room = row["most"] * (noble + sum(w.button for s, w in ends.items() if s not in guests))
    if held <= room:
        return ends
    kept = room / held
    lost = {s: ends[s].button * (1.0 - kept) for s in guests}
    return ends | {s: replace(ends[s], button=ends[s].button - g, slag=ends[s].slag + g) for s, g in lost.items()}


def _base(symbol: str, grams: float, share: Shares, soft: Matte, hard: Speiss, opens: float) -> Where:
    """Where a base metal ends [g].

    Copper, iron, lead and arsenic have equations in matte and speiss; besides, copper and lead go into speiss, and the
    other metals into both layers, by their shares, as far as there are layers.
    """
    fume = grams * share.fume
    in_matte = soft.metals.get(symbol, 0.0)
    in_speiss = {"As": hard.arsenic, "Fe": hard.iron}.get(symbol, 0.0)
    left = max(grams - fume - in_matte - in_speiss, 0.0)
    to_matte = to_speiss = 0.0
    if symbol not in ("As", "Fe"):
        stays = 1.0 - share.fume
        drawn = left * share.matte * opens / stays if stays > 0.0 else 0.0
        to_speiss = drawn * hard.mass
        to_matte = 0.0 if symbol in ("Cu", "Pb") else drawn * soft.mass
    left -= to_matte + to_speiss
    both = share.metal + share.slag
    metal = left * share.metal / both if both > 0.0 else 0.0
    return Where(
        metal,
        0.0,
        left - metal,
        in_matte + to_matte,
        in_speiss + to_speiss,
        fume,
        handling=0.0,
    )


def _silver(grams: float, fume_share: float, other: float, bases: Bases, slag: float, knobs: Knobs) -> Where:
    """Where silver ends [g], shared between metal [g], matte, speiss and slag [g] with the sulphide dissolved in it."""
    fume = grams * fume_share
    bound = bases.matte.metals.get("Ag", 0.0)
    phases = (
        Phase(max(bases.matte.layer - bound, 0.0), knobs.matte_ratio),
        Phase(bases.speiss.mass, knobs.speiss_ratio),
        Phase(slag, knobs.slag_ratio, grows=False),
        Phase(bases.matte.dissolved, knobs.dissolved_ratio, grows=False),
    )
    found = share_silver(grams - fume - bound, other, phases)
    in_matte, in_speiss, in_slag, in_sulphide = found.phases
    return _metal(found.metal, knobs, in_slag + in_sulphide, in_matte + bound, in_speiss, fume)


def _gold(grams: float, fume_share: float, metal: float, soft: Matte, slag: float, knobs: Knobs) -> Where:
    """Where gold ends [g]; it goes where metal is."""
    row = sulphur_data()["gold"]
    fume = grams * fume_share
    in_matte = shared_by_mass(grams - fume, metal + grams, soft.mass, row["matte"])
    in_slag = shared_by_mass(grams - fume - in_matte, metal + grams, slag, row["slag"])
    return _metal(grams - fume - in_matte - in_slag, knobs, in_slag, in_matte, 0.0, fume)


def _metal(metal: float, knobs: Knobs, in_slag: float, in_matte: float, in_speiss: float, fume: float) -> Where:
    lost = metal * knobs.handling
    drops = (metal - lost) * knobs.trapped
    return Where(metal - lost - drops, drops, in_slag, in_matte, in_speiss, fume, lost)
