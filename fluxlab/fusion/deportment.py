"""Where each element goes: shares to metal, slag, matte with speiss, and fume, by how reducing the pot is.

Priors for four states of the pot stand in resources/fusion/deportment.toml; between the states the shares run in
straight lines along the budget of oxygen, so that no recipe jumps. An element without a row stays in the slag.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import sqrt
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.tables import OwnShare, Table
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.materials.formulas import atomic_mass

_FAR = 10.0
"""Position beyond which a pot is reckoned no further, either way; the shares stand still long before."""


@dataclass(frozen=True, slots=True)
class PotState:
    """How reducing a pot is: `position` on the scale of the budget [-], `iron` the part of the iron state in it [0..1].

    -0.5 is oxidising, 0.1 neutral, 1.2 reducing; see resources/fusion/deportment.toml.
    """

    position: float
    iron: float = 0.0


@dataclass(frozen=True, slots=True)
class Shares:
    """Shares of one element to metal, slag, matte with speiss and fume [mass fractions that add up to 1]."""

    metal: float
    slag: float
    matte: float
    fume: float

    def spread(self, share: float, concentration: float | None = None) -> float:
        """Half the likely range of one of the shares, nine in ten, no more than the share itself [-]."""
        near: float = deportment_data()["concentration"] if concentration is None else concentration
        return min(NINE_IN_TEN * sqrt(max(share * (1.0 - share), 0.0) / (near + 1.0)), share)

    def with_own(self, own: OwnShare | None) -> "Shares":
        """The same with the operator's own shares; the rest is shared as it was, to the slag where it was nothing."""
        if own is None or (own.metal is None and own.fume is None and own.matte is None):
            return self
        pairs = ((own.metal, self.metal), (own.fume, self.fume), (own.matte, self.matte))
        others = self.slag + sum(usual for hand, usual in pairs if hand is None)
        room = max(1.0 - sum(hand or 0.0 for hand, _ in pairs), 0.0)
        part = room / others if others > 0.0 else 0.0
        metal, fume, matte = (usual * part if hand is None else hand for hand, usual in pairs)
        return Shares(metal, max(1.0 - metal - matte - fume, 0.0), matte, fume)


TO_METAL: Mapping[str, float] = MappingProxyType(
    {
        symbol: oxygens * atomic_mass("O") / atomic_mass(symbol)
        for symbol, oxygens in {"Pb": 1.0, "Cu": 0.5, "Bi": 1.5, "Sb": 1.5, "Sn": 2.0, "Ni": 1.0, "Co": 1.0}.items()
    }
)
"""Oxygen that has to be taken for a gram of metal out of PbO, Cu2O, Bi2O3, Sb2O3, SnO2, NiO, CoO [g/g]: computed."""
Priors = Mapping[str, tuple[Shares, Shares, Shares, Shares]]
_SLAG = Shares(0.0, 1.0, 0.0, 0.0)
REDUCING = 10.0
"""Position of a pot as reducing as the priors tell of, and beyond."""


def deportment_data() -> dict[str, Any]:
    """The tables of resources/fusion/deportment.toml."""
    return resources.toml("fusion/deportment.toml")


@cache
def priors() -> Priors:
    """Shares of each element as oxidising, neutral, reducing and iron would have them; any row may be replaced."""
    rows = deportment_data()["elements"]
    return MappingProxyType(
        {symbol: (_shares(a), _shares(b), _shares(c), _shares(d)) for symbol, (a, b, c, d) in rows.items()}
    )


def pot_state(redox: Redox, charge: float, iron_wanted: float = 0.0, data: Table | None = None) -> PotState:
    """How reducing a pot is, from its balance of oxygen and the mass of the charge [g].

    `iron_wanted` [g] is the metallic iron that the sulphur could take: where so much is there, the iron state is whole.
    """
    trace = state_trace(charge, data)
    wanted = max(redox.demand - redox.given, 0.0)
    position = (redox.supply - redox.given) / (wanted + trace)
    there = redox.iron_left
    return PotState(min(max(position, -_FAR), _FAR), there / (max(there, iron_wanted) + trace))


def state_trace(charge: float, data: Table | None = None) -> float:
    """Oxygen or iron that hardly counts in a charge of this mass [g], so that an inert charge is neutral."""
    trace: float = (data or deportment_data())["states"]["trace"]
    return trace * max(charge, 1.0)


def shares(symbol: str, state: PotState, table: Priors | None = None, data: Table | None = None) -> Shares:
    """Where an element goes in a pot of this state [mass fractions]; `data` hold the places of the states."""
    rows = (table or priors()).get(symbol)
    if rows is None:
        return _SLAG
    scale = (data or deportment_data())["states"]
    knots = (scale["oxidising"], scale["neutral"], scale["reducing"])
    at = min(max(state.position, knots[0]), knots[2])
    i = 0 if at <= knots[1] else 1
    way = (at - knots[i]) / (knots[i + 1] - knots[i])
    between = _mix(rows[i], rows[i + 1], way)
    return _mix(between, rows[3], state.iron) if state.iron > 0.0 else between


def regime_value(row: Mapping[str, float], state: PotState, data: Table | None = None) -> float:
    """A figure that a table gives for the oxidising, neutral and reducing state, in a pot of this state."""
    scale = (data or deportment_data())["states"]
    at = min(max(state.position, scale["oxidising"]), scale["reducing"])
    first, second = ("oxidising", "neutral") if at <= scale["neutral"] else ("neutral", "reducing")
    way: float = (at - scale[first]) / (scale[second] - scale[first])
    return row[first] + way * (row[second] - row[first])


def _mix(first: Shares, second: Shares, way: float) -> Shares:
    return Shares(
        first.metal + way * (second.metal - first.metal),
        first.slag + way * (second.slag - first.slag),
        first.matte + way * (second.matte - first.matte),
        first.fume + way * (second.fume - first.fume),
    )


def _shares(row: list[float]) -> Shares:
    total = sum(row)
    metal, slag, matte, fume = (each / total for each in row)
    return Shares(metal, slag, matte, fume)
