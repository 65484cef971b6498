"""Targets as they bind this charge: automatic ends worked out, the gas limit only as far as there is gas."""

from collections.abc import Iterable
from dataclasses import replace

from fluxlab.design.charge import Fluxes
from fluxlab.design.pot_asks import PotAsks
from fluxlab.design.recipe import Target
from fluxlab.design.windows import LEAST_DEMAND, words
from fluxlab.fusion.routes import ChargeFacts, automatic_ends
from fluxlab.issue import Issue, error
from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.ore.feed_types import Feed

NO_GAS_FILL = 200.0 / 3.0
"""Where the fill limit starts from before any gas is reckoned with [% of the brim]."""
GAS_AT_FULL = 0.10
"""Share of carbonates in the feed at which the gas limit counts in full [g/g]: judgement."""
_MEND = "Lower the one or raise the other."


def resolved(targets: Iterable[Target], feed: Feed, fluxes: Fluxes, asks: PotAsks) -> tuple[Target, ...]:
    """The targets with the ends that count for this charge, `asks` being what the pot asks of the rows."""
    facts = ChargeFacts(feed.charge, feed.sulphur, slagged_share(feed), asks.wanted.iron, asks.wanted.nitre)
    return tuple(_resolved(t, facts, feed, fluxes, asks) for t in targets)


def _budget(t: Target, asks: PotAsks, feed: Feed) -> Target:
    """The lower end of the budget comes down to nothing where hardly any oxygen is wanted, so that no recipe jumps."""
    least = LEAST_DEMAND * feed.charge
    part = min(max(asks.oxygen.demand / least - 1.0, 0.0), 1.0) if least > 0.0 else 1.0
    return t if t.lo is None else replace(t, lo=part * t.lo)


def target_issues(targets: Iterable[Target]) -> tuple[Issue, ...]:
    """Targets whose ends make no sense, in words."""
    return tuple(
        error(f"targets.{t.key}", f"{words(t.key)['label']}: the lower limit lies above the upper one.", _MEND)
        for t in targets
        if t.on and t.lo is not None and t.hi is not None and t.lo > t.hi
    )


def slagged_share(feed: Feed) -> float:
    """Earthy gangue, zinc oxide and iron oxides together over the charge [g/g]."""
    if feed.charge <= 0.0:
        return 0.0
    grams = feed.oxides * MASS
    oxides = sum(float(grams[INDEX[symbol]]) for symbol in ("ZnO", "FeO", "Fe2O3"))
    return (feed.earthy_gangue + oxides) / feed.charge


def _resolved(t: Target, facts: ChargeFacts, feed: Feed, fluxes: Fluxes, asks: PotAsks) -> Target:
    if t.key == "reducer_budget" and t.on:
        return _budget(t, asks, feed)
    if t.auto:
        lo, hi = automatic_ends(t.key, facts)
        return replace(t, lo=lo if t.lo is None else t.lo, hi=hi if t.hi is None else t.hi)
    if t.key == "viscosity":
        # No solver thickens a melt: only the upper end is a limit.
        return replace(t, lo=None)
    if t.key != "gas_fill" or t.hi is None:
        return t
    if gas_formers(fluxes):
        return t
    part = gas_of_ore(feed)
    return replace(t, hi=NO_GAS_FILL + part * (t.hi - NO_GAS_FILL), on=t.on and part > 0.0)


def gas_of_ore(feed: Feed) -> float:
    """How much the material in the pot counts as a gas-former [-], by its carbonate and its manganese dioxide.

    Between none and a tenth it rises in a straight line, so that no recipe jumps.
    """
    if feed.charge <= 0.0:
        return 0.0
    return min((feed.carbonate + feed.reducible.get("MnO2", 0.0)) / feed.charge / GAS_AT_FULL, 1.0)


def gas_formers(fluxes: Fluxes) -> bool:
    """Whether a row that may weigh something gives off gas early."""
    return any("gas-former" in y.tags and high > 0.0 for y, high in zip(fluxes.yields, fluxes.hi, strict=True))
