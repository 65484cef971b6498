"""How fast a charge is heated: one rate behind the minutes to the pour, the gas and the foam."""

from dataclasses import dataclass
from math import isfinite
from typing import Literal

from fluxlab.fusion.gas import ROOM
from fluxlab.fusion.heat import Heat
from fluxlab.fusion.tables import Table
from fluxlab.issue import Issue, warning
from fluxlab.materials.estimate import Estimate

Whose = Literal["own", "furnace", "usual"]
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Heating:
    """How a charge is heated: pour temperature [degC], even rate with its range [degC/min], from where on it is liquid
    [degC].

    `whose` rate it is: the operator's "own", what the "furnace" gives by the heat that it has to bring, or the "usual"
    one where no furnace is known.
    """

    pour: float
    rate: Estimate
    liquid_from: float
    whose: Whose = "usual"


def heating(pour: float, found: Heat | None, own: float | None, data: Table) -> Heating:
    """How a charge is heated to its pour [degC], at the operator's `own` rate [degC/min] where he gave one.

    Otherwise at the mean rate from cold that goes with the heat `found` and the burner. `data` are the tables of
    resources/fusion/foam.toml. Feeds are taken to be heated at the same rate as the first.
    """
    liquid_from: float = data["slag"]["liquid_from"]
    if own is not None:
        return Heating(pour, Estimate(own, own, own), liquid_from, "own")
    rate = rate_of_furnace(pour, found)
    if rate is not None:
        return Heating(pour, rate, liquid_from, "furnace")
    usual: float = data["heating"]["rate"]
    return Heating(pour, Estimate(usual, usual, usual), liquid_from)


def rate_of_furnace(pour: float, found: Heat | None) -> Estimate | None:
    """Mean rate from cold to the pour [degC] that a furnace gives by the heat it has to bring [degC/min], or None."""
    rise = pour - ROOM
    if found is None or rise <= 0.0 or not (found.burning.low > 0.0 and isfinite(found.burning.high)):
        return None
    minutes = found.burning
    return Estimate(rise / minutes.value, rise / minutes.high, rise / minutes.low)


def haste_issues(found: Heat | None, own: float | None) -> tuple[Issue, ...]:
    """What is said of a rate of the operator's `own` [degC/min] that the furnace cannot give."""
    if found is None or own is None or not found.minutes.value < found.burning.low * (1.0 - _ROUNDING):
        return ()
    most = own * found.minutes.value / found.burning.low
    able = f"the burner gives at most {most:.0f}" if most > 0.0 else "the burner gives no heat"
    sentence = f"Your rate of {own:.6g} °C a minute is more than the furnace can do: {able}."
    return (warning("pot.figures", sentence, "Take a lower rate, or give power and efficiency of your burner."),)
