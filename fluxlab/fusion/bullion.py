"""The button: its mass, its metals, fineness and density, each with a likely range."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Any

from fluxlab import resources
from fluxlab.fusion.deportment import Shares
from fluxlab.fusion.ranges import KnobRanges, Layers, Moved, Places, layers, moves, places, spread
from fluxlab.fusion.where import NOBLE, Pot, room_for_guests, where_all, where_bases
from fluxlab.fusion.where_types import Ends
from fluxlab.materials.estimate import NINE_IN_TEN, Estimate
from fluxlab.slag.metals import METALS

_LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Part:
    """One metal of the button: mass with its range [g] and share of the button [mass %]."""

    symbol: str
    grams: Estimate
    percent: float


@dataclass(frozen=True, slots=True)
class Bullion:
    """The button to expect.

    `mass` [g], `parts` the heaviest first, `silver_fineness` and `gold_fineness` [parts in a thousand], `density`
    [g/cm3] (None without metal), each with its likely range. `silver_recovery` and `gold_recovery` [%] are of all
    silver and gold in the pot (None without any); `yields` [%] is the button over the charge, which says nothing of
    recovery. `silver` tells where that is, `layers` what else forms, `ends` where every element is.
    """

    mass: Estimate
    parts: tuple[Part, ...]
    silver_fineness: Estimate
    gold_fineness: Estimate
    density: Estimate | None
    silver_recovery: Estimate | None
    gold_recovery: Estimate | None
    yields: float
    silver: Places | None
    layers: Layers
    ends: Ends


def bullion(pot: Pot, knobs: KnobRanges) -> Bullion:
    """The button of a pot with its likely range [g].

    The range moves one figure after the other to its ends and adds the moves as a root of squares; base metals move by
    the width of their priors, and by what the balance of oxygen may be off.
    """
    share = pot.shares()
    bases = where_bases(pot, knobs.likely, share)
    ends = where_all(pot, knobs.likely, share, bases)
    moved = moves(pot, knobs, share, bases)
    parts = _parts(pot, ends, moved, share)
    mass = _sum(parts.values())
    total = mass.value
    precious = {s: parts.get(s, Estimate(0.0, 0.0, 0.0)) for s in NOBLE}
    return Bullion(
        mass=mass,
        parts=tuple(
            Part(s, grams, 100.0 * grams.value / total)
            for s, grams in sorted(parts.items(), key=lambda item: -item[1].value)
            if grams.value > _LEAST
        )
        if total > _LEAST
        else (),
        silver_fineness=_fineness(precious["Ag"], mass),
        gold_fineness=_fineness(precious["Au"], mass),
        density=_density(parts, pot),
        silver_recovery=_recovery(precious["Ag"], pot.elements.get("Ag", 0.0)),
        gold_recovery=_recovery(precious["Au"], pot.elements.get("Au", 0.0)),
        yields=100.0 * total / pot.charge if pot.charge > 0.0 else 0.0,
        silver=places(pot, ends, moved, share),
        layers=layers(pot, ends, moved, share),
        ends=ends,
    )


def bullion_data() -> dict[str, Any]:
    """The tables of resources/fusion/bullion.toml."""
    return resources.toml("fusion/bullion.toml")


def _parts(pot: Pot, ends: Ends, moved: list[Moved], share: Mapping[str, Shares]) -> dict[str, Estimate]:
    found, rows = {}, pot.tables.deportment
    guests, solid, room = rows["guests"]["symbols"], rows["dissolves"]["symbols"], room_for_guests(pot, ends.elements)
    for symbol, where in ends.elements.items():
        most = where.total
        each = spread(where.button, (m.elements[symbol].button for m in moved), most)
        if symbol not in NOBLE:
            below, above = _off(pot, symbol, share[symbol], most)
            if symbol in guests and not pot.fixed(symbol):
                # the other metals hold no more of it, whatever its share
                above = min(above, max(room[symbol in solid] - where.button, 0.0))
            each = spread(where.button, (each.low, each.high, where.button - below, where.button + above), most)
        found[symbol] = each
    return found


def _off(pot: Pot, symbol: str, share: Shares, there: float) -> tuple[float, float]:
    """How far less and more of a base metal may come down than is likely [g]."""
    own = pot.miss(symbol, share, "metal") * there
    down = pot.comes_down(symbol)
    if down is None:
        return own, own
    stays = 1.0 - pot.escapes(symbol, share)
    if symbol == "Pb":
        own *= 1.0 - pot.litharge
    # of metal that is not free none comes down, whatever the prior
    more = min(own, stays * max(down.high - down.value, 0.0) + own * (down.value > 0.0))
    return hypot(own, stays * (down.value - down.low)), hypot(more, stays * (down.high - down.value))


def _sum(parts: Any) -> Estimate:
    each = tuple(parts)
    value = sum(e.value for e in each)
    less = sqrt(sum((e.value - e.low) ** 2 for e in each))
    more = sqrt(sum((e.high - e.value) ** 2 for e in each))
    return Estimate(value, max(value - less, 0.0), value + more)


def _fineness(metal: Estimate, mass: Estimate) -> Estimate:
    """Parts in a thousand; the range sets the other metals against the metal itself."""
    if mass.value <= _LEAST:
        return Estimate(0.0, 0.0, 0.0)
    other = mass.value - metal.value
    off_low, off_high = mass.high - mass.value, mass.value - mass.low
    value = 1000.0 * (metal.value / mass.value)
    low = _thousandths(metal.low, other + off_low)
    return Estimate(value, min(low, value), max(_thousandths(metal.high, max(other - off_high, 0.0)), value))


def _thousandths(metal: float, other: float) -> float:
    return 1000.0 * (metal / (metal + other)) if metal + other > 0.0 else 0.0


def _recovery(metal: Estimate, there: float) -> Estimate | None:
    if there <= 0.0:
        return None
    return metal.times(100.0 / there)


def _density(parts: Mapping[str, Estimate], pot: Pot) -> Estimate | None:
    """Density of the solid button by adding volumes [g/cm3]."""
    table = pot.tables.bullion
    known = {s: METALS[s].solid if s in METALS else table["density"].get(s) for s in parts}
    weighed = {s: e.value for s, e in parts.items() if e.value > _LEAST and known[s]}
    if not weighed:
        return None
    value, off = _mixed(weighed, known), NINE_IN_TEN * table["pores"]["spread"]
    # more or less of each metal in turn
    metals = [
        _mixed(weighed | {s: end}, known)
        for s, e in parts.items()
        if known[s]
        for end in (e.low, e.high)
        if end > 0.0 or len(weighed) > 1 or s not in weighed
    ]
    found = spread(value, (*metals, value - off, value + off))
    lightest, heaviest = (pick(d for s, d in known.items() if d and parts[s].high > 0.0) for pick in (min, max))
    return Estimate(value, max(found.low, lightest - off), min(found.high, heaviest + off))


def _mixed(grams: Mapping[str, float], density: Mapping[str, float]) -> float:
    """Density of metals [g] whose volumes add up [g/cm3]."""
    return sum(grams.values()) / sum(each / density[s] for s, each in grams.items())
