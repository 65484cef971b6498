"""Where every element of a pot ends: button, slag, matte, speiss or fume; nothing made and nothing lost.

Sulphur and arsenic first take what they bind (`matte`), fume and the shares of base metals follow `deportment`, lead
from litharge follows the balance of oxygen, and silver is shared between the phases by the full balance (`partition`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from fluxlab.fusion.deportment import TO_METAL, PotState, Shares, shares
from fluxlab.fusion.matte import Matte, Speiss, matte, speiss
from fluxlab.fusion.partition import Phase, share_silver, shared_by_mass
from fluxlab.fusion.tables import Tables, shipped_tables
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
    as the `oxygen` [g O] goes that reducers take beyond nitre and litharge (None: as far as they like). `tables` hold
    the operator's own figures: of an element with a share of his own just that much is metal, reducer or not.
    """

    elements: Mapping[str, float]
    state: PotState
    slag: float
    charge: float
    reduced: float = 0.0
    litharge: float = 0.0
    native: Mapping[str, float] = field(default_factory=dict)
    oxygen: float | None = None
    tables: Tables = field(default_factory=shipped_tables)

    def usual(self, symbol: str) -> Shares:
        """Shares of an element in a pot of this state, the operator's own before the prior."""
        found = shares(symbol, self.state, data=self.tables.deportment)
        return found.with_own(self.tables.own.get(symbol))

    def fixed(self, symbol: str) -> bool:
        """Whether the operator has set the share of an element that is metal."""
        own = self.tables.own.get(symbol)
        return own is not None and own.metal is not None

    def miss(self, symbol: str, share: Shares, to: Literal["metal", "fume", "matte"]) -> float:
        """Half the likely range of a share of an element [-]; none of one that the operator has set."""
        if getattr(self.tables.own.get(symbol), to, None) is not None:
            return 0.0
        return share.spread(getattr(share, to), self.tables.deportment["concentration"])

    def shares(self) -> Mapping[str, Shares]:
        """Shares of each element in this pot."""
        usual = {symbol: self.usual(symbol) for symbol in self.elements}
        reach = self.reach(usual)
        return {symbol: self._own(symbol, each, reach) for symbol, each in usual.items()}

    def held_back(self) -> Mapping[str, float]:
        """Base metals that would come down but for want of a reducer [g]."""
        usual = {symbol: self.usual(symbol) for symbol in self.elements if symbol in TO_METAL}
        reach = self.reach(usual)
        free = ((s, each) for s, each in usual.items() if not self.fixed(s))
        return {s: _most_metal(each) * (1.0 - reach) * self.bound(s) for s, each in free} if reach < 1.0 else {}

    def reach(self, usual: Mapping[str, Shares]) -> float:
        """How far the oxygen that reducers take goes with the metals that would come down [0..1]; what the operator has
        set takes its part first."""
        if self.oxygen is None:
            return 1.0
        asked = taken = 0.0
        for symbol, each in usual.items():
            if symbol in TO_METAL and self.fixed(symbol):
                taken += TO_METAL[symbol] * each.metal * self.bound(symbol)
            elif symbol in TO_METAL:
                asked += TO_METAL[symbol] * _most_metal(each) * self.bound(symbol)
        return min(max(self.oxygen - taken, 0.0) / asked, 1.0) if asked > 0.0 else 1.0

    def bound(self, symbol: str) -> float:
        """A base metal that came neither as metal nor as litharge [g]."""
        there = max(self.elements.get(symbol, 0.0), 0.0)
        litharge = self.litharge * there if symbol == "Pb" else 0.0
        return max(there - self.native.get(symbol, 0.0) - litharge, 0.0)

    def _own(self, symbol: str, usual: Shares, reach: float) -> Shares:
        metal, matte = usual.metal, usual.matte
        stays = 1.0 - usual.fume
        if symbol in TO_METAL and reach < 1.0 and self.elements[symbol] > 0.0 and not self.fixed(symbol):
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
    iron = there["Fe"] * (1.0 - share["Fe"].fume) if "Fe" in there else 0.0
    hard = speiss(there.get("As", 0.0) * share["As"].matte if "As" in share else 0.0, iron)
    free: dict[str, float] = {s: there[s] * (1.0 - share[s].fume) for s in ("Cu", "Pb", "Ag") if s in there}
    free["Fe"] = max(iron - hard.iron, 0.0)
    soft = matte(knobs.sulphur, free, knobs.dissolves)
    opens = 1.0 / (soft.mass + hard.mass + _SCALE * max(pot.charge, 1.0))
    ends = {
        s: _base(s, grams, share[s], soft, hard, opens, pot.fixed(s)) for s, grams in there.items() if s not in NOBLE
    }
    ends = _with_hosts(ends, sum(there.get(s, 0.0) for s in NOBLE), pot)
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
        found["Au"] = _gold(max(pot.elements["Au"], 0.0), share["Au"].fume, metal, bases.matte, pot, knobs)
    return found


def hanging(where: Where, trapped: float) -> Where:
    """A base metal of which a part hangs in the slag as drops [g]."""
    drops = where.button * trapped
    if drops <= 0.0:
        return where
    return Where(where.button - drops, drops, where.slag, where.matte, where.speiss, where.fume, where.handling)


def _with_hosts(ends: dict[str, Where], noble: float, pot: Pot) -> dict[str, Where]:
    """The base metals [g] with those that only dissolve in metal kept to what silver, gold [g] and the others hold.

    What the operator has set is believed.
    """
    row = pot.tables.deportment["guests"]
    guests = [s for s in row["symbols"] if s in ends and ends[s].button > 0.0 and not pot.fixed(s)]
    held = sum(ends[s].button for s in guests)
    room = row["most"] * (noble + sum(w.button for s, w in ends.items() if s not in guests))
    if held <= room:
        return ends
    kept = room / held
    lost = {s: ends[s].button * (1.0 - kept) for s in guests}
    return ends | {s: replace(ends[s], button=ends[s].button - g, slag=ends[s].slag + g) for s, g in lost.items()}


def _base(
    symbol: str, grams: float, share: Shares, soft: Matte, hard: Speiss, opens: float, fixed: bool = False
) -> Where:
    """Where a base metal ends [g]; of one that is `fixed` just its share is metal, as far as the layers leave it.

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
    if fixed:
        metal = min(grams * share.metal, left)
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


def _gold(grams: float, fume_share: float, metal: float, soft: Matte, pot: Pot, knobs: Knobs) -> Where:
    """Where gold ends [g]; it goes where metal is."""
    row = pot.tables.sulphur["gold"]
    fume = grams * fume_share
    in_matte = shared_by_mass(grams - fume, metal + grams, soft.mass, row["matte"])
    in_slag = shared_by_mass(grams - fume - in_matte, metal + grams, pot.slag, row["slag"])
    return _metal(grams - fume - in_matte - in_slag, knobs, in_slag, in_matte, 0.0, fume)


def _metal(metal: float, knobs: Knobs, in_slag: float, in_matte: float, in_speiss: float, fume: float) -> Where:
    lost = metal * knobs.handling
    drops = (metal - lost) * knobs.trapped
    return Where(metal - lost - drops, drops, in_slag, in_matte, in_speiss, fume, lost)
