"""Flour or nitre for a wanted lead button, by the litharge model and not by a rule of thumb."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import inf

from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.litharge import litharge_fusion, sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NITRATES, nitrate_alkali, nitrate_power
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.tables import Tables, shipped_tables

_STEPS, _CLOSE = 60, 1e-10


def nitre_for_button(
    button: float,
    sulphides: Mapping[str, float],
    melt: Melt,
    nitrate: str = "KNO3",
    other: float = 0.0,
    tables: Tables | None = None,
) -> float:
    """Nitrate that keeps a lead button from growing over the wanted one [g]; 0 where it does not.

    The alkali that the nitrate brings is counted: it holds sulphur, and nitre works better for it. `melt` is without
    it, `other` [g Pb] is what reducers throw down already, less what oxidisers other than nitrates keep up.
    """
    c = tables or shipped_tables()

    def too_much(grams: float) -> float:
        salts = {nitrate: grams}
        there = Melt(melt.alkali + nitrate_alkali(salts), melt.acid)
        found = litharge_fusion(sulphides, there, 0.0, salts, other, 0.0, c.sulphate, c.nitre)
        return found.thrown_down - found.kept_up - button

    over = too_much(0.0)
    return _root(too_much, over, over / nitrate_power(nitrate, melt, c.nitre)) if over > 0.0 else 0.0


def _root(falling: Callable[[float], float], over: float, guess: float) -> float:
    """Where a falling function that is `over` 0 at nought crosses 0, somewhere about a guess: by secants, each kept
    between the last two ends of unlike sign."""
    low, high, last, at = 0.0, inf, (0.0, over), guess
    for _ in range(_STEPS):
        value = falling(at)
        low, high = (at, high) if value > 0.0 else (low, at)
        if value == 0.0 or high - low <= _CLOSE * at or value == last[1]:
            break
        step = value * (at - last[0]) / (value - last[1])
        last, at = (at, value), at - step
        if abs(step) <= _CLOSE * abs(at):
            break
        if not low < at < high:
            at = 2.0 * low + 1.0 if high == inf else (low + high) / 2.0
    return at


@dataclass(frozen=True, slots=True)
class Wanting:
    """What a charge still wants for a lead button [g]: more reducer, or more nitre; one of them is nought."""

    reducer: float
    nitre: float


def wanting_for_button(
    button: float, redox: Redox, melt: Melt, power: float, nitrate: str = "KNO3", tables: Tables | None = None
) -> Wanting:
    """What a charge still wants besides for a lead button [g Pb] [g of a reducer of a lead power, g of nitrate].

    What gives up oxygen before litharge does is met first. `melt` is that of the balance `redox`.
    """
    ahead = 0.0
    for met in redox.met:
        if met.demand.substance == "PbO":
            break
        if met.demand.substance not in NITRATES:
            ahead += met.demand.oxygen
    net = (redox.supply - redox.given - ahead) * LEAD_PER_OXYGEN
    if net <= button:
        return Wanting((button - net) / power if power > 0.0 else 0.0, 0.0)
    thrown = sulphide_lead(redox.burnt, melt, tables.sulphate if tables else None).lead
    return Wanting(0.0, nitre_for_button(button, redox.burnt, melt, nitrate, net - thrown, tables))
