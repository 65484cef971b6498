"""Base metals that are free to come down: out of oxides by a reducer, out of sulphides by iron, or as they come.

The balance of oxygen is the only payer: what it does not reach stays in the slag, however reducing the pot may be.
"""

from collections.abc import Iterable, Mapping

from fluxlab.fusion.demand import Met
from fluxlab.fusion.deportment import TO_METAL
from fluxlab.fusion.redox_types import Redox
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import formula

_STAYS = frozenset({"Cu"})
"""What iron does not set free out of its sulphide: the signs of the exchange reactions at 1150 degC, computed."""


def free_metals(redox: Redox, native: Mapping[str, float], iron_wanted: float) -> Mapping[str, Estimate]:
    """Base metals that are free to come down, by symbol [g], with the range of the balance.

    `native` [g] come as metal. Iron that is left of the balance takes sulphides that nothing burnt, as far as it goes
    with the `iron_wanted` [g] for all of them; the rest changes its sulphur for the oxygen of iron oxide, and then a
    reducer that found nothing else to reduce takes that.
    """
    likely, low, high = (_reduced(met) for met in (redox.met, redox.met_low, redox.met_high))
    there = dict(_of_sulphides(redox, iron_wanted))
    for symbol, grams in native.items():
        there[symbol] = there.get(symbol, 0.0) + grams
    found = {}
    for symbol in TO_METAL:
        also = there.get(symbol, 0.0)
        value = likely.get(symbol, 0.0)
        ends = (min(low.get(symbol, 0.0), value), max(high.get(symbol, 0.0), value))
        found[symbol] = Estimate(also + value, also + ends[0], also + ends[1])
    return found


def _reduced(met: Iterable[Met]) -> Mapping[str, float]:
    """Metal out of its oxide, by symbol [g]."""
    found: dict[str, float] = {}
    for step in met:
        symbol = step.demand.becomes
        if symbol in TO_METAL and step.demand.oxygen > 0.0:
            whole = step.demand.grams * formula(step.demand.substance).mass_fractions[symbol]
            found[symbol] = found.get(symbol, 0.0) + whole * step.oxygen / step.demand.oxygen
    return found


def _of_sulphides(redox: Redox, iron_wanted: float) -> Mapping[str, float]:
    """Metal that iron, and what is left of the reducers, set free out of unburnt sulphides, by symbol [g]."""
    bound: dict[str, float] = {}
    for mineral, grams in redox.unburnt.items():
        for symbol, share in formula(mineral).mass_fractions.items():
            if symbol in TO_METAL and symbol not in _STAYS:
                bound[symbol] = bound.get(symbol, 0.0) + grams * share
    part = min(redox.iron_left / iron_wanted, 1.0) if iron_wanted > 0.0 else 0.0
    oxygen = (1.0 - part) * sum(TO_METAL[symbol] * grams for symbol, grams in bound.items())
    part += (1.0 - part) * min(redox.unspent / oxygen, 1.0) if oxygen > 0.0 else 0.0
    return {symbol: part * grams for symbol, grams in bound.items()}


def bare_iron(redox: Redox) -> float:
    """Iron that arsenic may take: of sulphides and arsenides that nothing burnt, and metallic iron that is left [g]."""
    return redox.iron_left + sum(g * formula(m).mass_fractions.get("Fe", 0.0) for m, g in redox.unburnt.items())
