"""Where every element of a pot ends: button, slag, matte, speiss or fume; nothing made and nothing lost.

Sulphur and arsenic first take what they bind (`matte`), fume and the other shares follow `deportment`, base metals come
down as far as the balance of oxygen pays for them (`brought_down`), and silver is shared between the phases by the full
balance (`partition`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from fluxlab.fusion.deportment import REDUCING, TO_METAL, PotState, Shares, shares
from fluxlab.fusion.matte import Matte, Speiss, matte, speiss
from fluxlab.fusion.partition import Phase, share_silver, shared_by_mass
from fluxlab.fusion.tables import OwnShare, Tables, shipped_tables
from fluxlab.fusion.where_types import Ends, Knobs, Where
from fluxlab.materials.estimate import Estimate

NOBLE = ("Ag", "Au")


@dataclass(frozen=True, slots=True)
class Pot:
    """What decides where elements end.

    `elements` [g] by symbol, oxygen and sulphur aside; `slag` [g], `charge` [g]. `free` are the base metals that the
    balance of oxygen and iron set free and those that came as metal [g]: no more of them comes down (None: as the
    shares have it). `litharge` [0..1] is the part of the lead that came as litharge; all of it that is free is metal.
    `bare_iron` [g] is the iron that arsenic may take (None: all). `tables` hold the operator's own figures: of an
    element with a share of his own just that much is metal, reducer or not; lead of litharge is not meant by it.
    """

    elements: Mapping[str, float]
    state: PotState
    slag: float
    charge: float
    free: Mapping[str, Estimate] | None = None
    litharge: float = 0.0
    bare_iron: float | None = None
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
        return {symbol: self._own(symbol, self.usual(symbol)) for symbol in self.elements}

    def comes_down(self, symbol: str) -> Estimate | None:
        """Base metal that is free and collects [g], fume not taken off; None where the shares decide.

        A little of what is free stays in the slag all the same, as in a reducing pot; lead from litharge does not.
        """
        if self.free is None or symbol not in TO_METAL or self.fixed(symbol):
            return None
        there, found = max(self.elements.get(symbol, 0.0), 0.0), self.free[symbol]
        best = shares(symbol, PotState(REDUCING, self.state.iron), data=self.tables.deportment)
        both = best.metal + best.slag
        kept = best.metal / both if both > 0.0 else 0.0
        part = kept + (1.0 - kept) * (self.litharge if symbol == "Pb" else 0.0)
        value, low, high = (min(part * end, there) for end in (found.value, found.low, found.high))
        return Estimate(value, low, high)

    def escapes(self, symbol: str, share: Shares) -> float:
        """Part of a base metal that goes off as fume before it reaches the button [-].

        Powers of reducers and sulphides are told by weighed buttons, so that of lead from litharge it is counted
        already; that lead's fume is litharge of the slag.
        """
        return share.fume * (1.0 - (self.litharge if symbol == "Pb" else 0.0))

    def _own(self, symbol: str, usual: Shares) -> Shares:
        down, there = self.comes_down(symbol), self.elements[symbol]
        if there <= 0.0:
            return usual
        if down is None:
            return self._beside_litharge(usual, there) if symbol == "Pb" and self.fixed(symbol) else usual
        matte = usual.matte * (1.0 - self.litharge) if symbol == "Pb" else usual.matte
        room = 1.0 - usual.fume - matte
        metal = min((1.0 - self.escapes(symbol, usual) - matte) * down.value / there, room)
        return Shares(metal, 1.0 - usual.fume - matte - metal, matte, usual.fume)

    def _beside_litharge(self, usual: Shares, there: float) -> Shares:
        """Shares of lead of which the operator has set what is metal: that of litharge comes down as it is free."""
        if self.free is None or self.litharge <= 0.0:
            return usual
        of_litharge = shares("Pb", self.state, data=self.tables.deportment)
        own = self.tables.own["Pb"]
        fume = of_litharge.with_own(OwnShare(fume=own.fume)).fume
        free = min(self.free["Pb"].value / there, 1.0 - fume)
        w = self.litharge
        metal, gone = (1.0 - w) * usual.metal + w * free, (1.0 - w) * usual.fume + w * fume
        matte = (1.0 - w) * usual.matte
        return Shares(metal, max(1.0 - metal - matte - gone, 0.0), matte, gone)

    def iron_for_speiss(self, soft: Matte, share: Mapping[str, Shares]) -> float:
        """Iron that arsenic may take [g]: sulphur comes before it."""
        iron = max(self.elements.get("Fe", 0.0), 0.0) * (1.0 - share["Fe"].fume if "Fe" in share else 1.0)
        bare = iron if self.bare_iron is None else min(self.bare_iron, iron)
        return max(bare - soft.metals.get("Fe", 0.0), 0.0)


@dataclass(frozen=True, slots=True)
class Bases:
    """Where the base metals end [g] as long as no drops hang in the slag, with matte, speiss and metal in all [g]."""

    elements: Mapping[str, Where]
    matte: Matte
    speiss: Speiss
    metal: float


def where_all(pot: Pot, knobs: Knobs, known: Mapping[str, Shares] | None = None, lying: Bases | None = None) -> Ends:
    """Where every element of the pot ends [g]; shares `known` and base metals `lying` are not worked out again."""
    share = known or pot.shares()
    bases = lying or where_bases(pot, knobs, share)
    drops = {symbol: hanging(where, knobs.trapped) for symbol, where in bases.elements.items()}
    return Ends(MappingProxyType(drops | where_noble(pot, bases, knobs, share)), bases.matte, bases.speiss)


def where_bases(pot: Pot, knobs: Knobs, share: Mapping[str, Shares]) -> Bases:
    """Where the base metals end [g] as long as no drops hang in the slag."""
    there = {s: max(g, 0.0) for s, g in pot.elements.items()}
    free: dict[str, float] = {s: there[s] * (1.0 - share[s].fume) for s in ("Cu", "Fe", "Pb", "Ag") if s in there}
    soft = matte(knobs.sulphur, free, knobs.dissolves)
    arsenic = there.get("As", 0.0) * share["As"].matte if "As" in share else 0.0
    hard = speiss(arsenic, pot.iron_for_speiss(soft, share))
    opens = 1.0 / (soft.mass + hard.mass + pot.tables.deportment["layers"]["half"] * max(pot.charge, 1.0))
    ends = {s: _base(s, grams, share[s], soft, hard, opens, pot) for s, grams in there.items() if s not in NOBLE}
    if "As" in ends:
        ends["As"] = _no_speiss(ends["As"], arsenic - hard.arsenic)
    ends = _with_hosts(ends, soft, hard, knobs, share, pot)
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


def _with_hosts(
    ends: dict[str, Where], soft: Matte, hard: Speiss, knobs: Knobs, share: Mapping[str, Shares], pot: Pot
) -> dict[str, Where]:
    """The base metals [g] with those that only dissolve in metal kept to what the others of the button hold.

    What the operator has set is believed.
    """
    row, melt = pot.tables.deportment["guests"], pot.tables.deportment["dissolves"]
    guests = [s for s in row["symbols"] if s in ends and ends[s].button > 0.0 and not pot.fixed(s)]
    if not guests:
        return ends
    hosts = {s: w for s, w in ends.items() if s not in guests}
    noble = where_noble(pot, Bases(hosts, soft, hard, sum(w.button for w in hosts.values())), knobs, share)
    room = room_for_guests(pot, hosts | noble)
    found = dict(ends)
    for solid in (True, False):
        some = [s for s in guests if (s in melt["symbols"]) is solid]
        held = sum(ends[s].button for s in some)
        part = min(room[solid] / held, 1.0) if held > 0.0 else 1.0
        found |= {s: _part_in_button(ends[s], part) for s in some}
    return found


def room_for_guests(pot: Pot, ends: Mapping[str, Where]) -> tuple[float, float]:
    """What the metals of a button, guests aside, hold of guests that melt, and of those that do not melt here [g]."""
    row, melt = pot.tables.deportment["guests"], pot.tables.deportment["dissolves"]
    hosts = {s: w.button + w.drops for s, w in ends.items() if s not in row["symbols"] or pot.fixed(s)}
    solid = sum(melt.get(s, melt["others"]) * grams for s, grams in hosts.items())
    return row["most"] * sum(hosts.values()), solid


def _part_in_button(where: Where, part: float) -> Where:
    """A metal of which only a part goes into the button, the rest into the slag [g]."""
    stays = (1.0 - part) * where.button
    return replace(where, button=where.button - stays, slag=where.slag + stays)


def _no_speiss(where: Where, arsenic: float) -> Where:
    """Arsenic [g] for which there is no iron leaves as vapour."""
    over = min(max(arsenic, 0.0), where.slag + where.button)
    of_slag = min(over, where.slag)
    return replace(where, slag=where.slag - of_slag, button=where.button - (over - of_slag), fume=where.fume + over)


def _base(symbol: str, grams: float, share: Shares, soft: Matte, hard: Speiss, opens: float, pot: Pot) -> Where:
    """Where a base metal ends [g]; of one that the operator has set just its share is metal, as far as the layers
    leave it.

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
    metal = min(_metal_of(symbol, grams, share, left, pot), left)
    return Where(metal, 0.0, left - metal, in_matte + to_matte, in_speiss + to_speiss, fume, handling=0.0)


def _metal_of(symbol: str, grams: float, share: Shares, left: float, pot: Pot) -> float:
    """Metal out of what fume, matte and speiss leave of an element [g]."""
    if pot.fixed(symbol):
        return grams * share.metal
    down = pot.comes_down(symbol)
    if down is not None:
        return down.value * (1.0 - pot.escapes(symbol, share))
    both = share.metal + share.slag
    return left * share.metal / both if both > 0.0 else 0.0


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
