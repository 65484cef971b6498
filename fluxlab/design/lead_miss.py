"""How far the lead that a charge brings down may miss what is reckoned, as an error of each likely charge."""

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.design.pot_oxygen import pot_oxygen, wanted_lead
from fluxlab.design.recipe import Work
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.materials.oxides import Vec


def miss_of_lead(work: Work, found: Balance, x: Vec | None = None) -> float:
    """Standard deviation of the lead brought down about what is reckoned, with so much of each row [g] [g Pb].

    That of the balance of oxygen: the lead powers of the reducers, the miss of the rule for sulphides under litharge,
    what nitre gives, the carbon of the wall. How much litharge there is bounds the lead elsewhere.
    """
    weights = found.x if x is None else x[: len(found.x)]
    there = pot_oxygen(work, found.feed, found.fluxes, weights, found.setting.pot, found.tables)
    redox = there.redox(wanted_lead(found.targets))
    return (redox.supply_high - redox.supply) * LEAD_PER_OXYGEN / NINE_IN_TEN


def errors_of_lead(miss: float, count: int, seed: int) -> Vec:
    """One error of the lead brought down for each sample [g Pb], the same for the same seed, of a standard deviation
    [g Pb]."""
    return np.asarray(miss * np.random.default_rng((seed, 2)).standard_normal(count))
