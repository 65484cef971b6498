"""The tables of the roast, as read from resources/roast, with the operator's own figures in their place.

`own` are pairs of key and figure as in `roast_figure_list`, all of them sensible.
"""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.own_figures import OWN
from fluxlab.ore.roast_figure_list import IGNITION, LIQUID, MINUTES, spots
from fluxlab.ore.roast_types import Pairs

NINE_IN_TEN = 4.394
"""Width of a logistic step from a tenth to nine tenths, in units of its scale: 2 ln 9."""


@dataclass(frozen=True, slots=True)
class Sulphate:
    """A sulphate of the roast: where it splits [degC] in air with little, some and much SO2, and how much forms."""

    element: str
    oxide: str
    sulphate: str
    t_low: float
    t_mid: float
    t_high: float
    source: str
    found: tuple[float, float] | None
    found_source: str
    formed: Estimate

    @property
    def scale(self) -> float:
        """Scale of the logistic step [degC]."""
        return (self.t_high - self.t_low) / NINE_IN_TEN


@dataclass(frozen=True, slots=True)
class Burning:
    """A mineral that burns: minutes to the end at 600 degC, ignition fine and coarse [degC], heat [kJ/g]."""

    tau: float
    tau_source: str
    ignition: tuple[float, float] | None
    ignition_source: str
    heat: float | None
    heat_source: str


@dataclass(frozen=True, slots=True)
class Decomposition:
    """A mineral that falls apart between two temperatures [degC] in a finish of 20 minutes."""

    low: float
    high: float
    source: str

    @property
    def middle(self) -> float:
        """Where half of it has gone [degC]."""
        return 0.5 * (self.low + self.high)

    @property
    def scale(self) -> float:
        """Scale of the logistic step [degC]."""
        return (self.high - self.low) / NINE_IN_TEN


@dataclass(frozen=True, slots=True)
class FirstLiquid:
    """The first melt of one or two phases [degC]; `burns_off` says that the roast takes the phases away."""

    phases: tuple[str, ...]
    words: str
    low: float
    high: float
    burns_off: bool
    source: str


@cache
def sulphates() -> tuple[Sulphate, ...]:
    """The sulphates, in the order of their table: iron, copper, zinc, magnesium, silver, lead, manganese, lime."""
    return tuple(
        Sulphate(
            element=row["element"],
            oxide=row["oxide"],
            sulphate=row["sulphate"],
            t_low=float(row["t_low"]),
            t_mid=float(row["t_mid"]),
            t_high=float(row["t_high"]),
            source=row["t_source"],
            found=(float(row["found_low"]), float(row["found_high"])) if row["found_low"] else None,
            found_source=row["found_source"],
            formed=Estimate(
                float(row["formed"]), float(row["formed_low"]), float(row["formed_high"]), row["formed_source"]
            ),
        )
        for row in resources.table("roast/sulphates.csv")
    )


@lru_cache(maxsize=16)
def burning(own: Pairs = ()) -> Mapping[str, Burning]:
    """The minerals that burn, by name."""
    if own:
        figures = dict(own)
        return MappingProxyType({name: _own_burning(name, row, figures) for name, row in burning().items()})
    return MappingProxyType(
        {
            row["mineral"]: Burning(
                tau=float(row["tau_600"]),
                tau_source=row["tau_source"],
                ignition=(
                    (float(row["ignition_fine"]), float(row["ignition_coarse"])) if row["ignition_fine"] else None
                ),
                ignition_source=row["ignition_source"],
                heat=float(row["heat"]) if row["heat"] else None,
                heat_source=row["heat_source"],
            )
            for row in resources.table("roast/burning.csv")
        }
    )


def _own_burning(name: str, row: Burning, own: Mapping[str, float]) -> Burning:
    tau, fire = own.get(MINUTES + name), own.get(IGNITION + name)
    if tau is not None:
        row = replace(row, tau=tau, tau_source=OWN)
    return row if fire is None else replace(row, ignition=(fire, fire), ignition_source=OWN)


@cache
def decompositions() -> Mapping[str, Decomposition]:
    """The minerals that fall apart without burning, by name."""
    return MappingProxyType(
        {
            row["mineral"]: Decomposition(float(row["low"]), float(row["high"]), row["source"])
            for row in resources.table("roast/decompositions.csv")
        }
    )


@lru_cache(maxsize=16)
def first_liquids(own: Pairs = ()) -> tuple[FirstLiquid, ...]:
    """First melts, the lowest first."""
    if own:
        figures = dict(own)
        return tuple(sorted((_own_liquid(row, figures) for row in first_liquids()), key=lambda row: row.low))
    rows = [
        FirstLiquid(
            tuple(row["phases"].split()),
            row["words"],
            float(row["low"]),
            float(row["high"]),
            row["burns_off"] == "yes",
            row["source"],
        )
        for row in resources.table("roast/first_liquids.csv")
    ]
    return tuple(sorted(rows, key=lambda row: row.low))


def _own_liquid(row: FirstLiquid, own: Mapping[str, float]) -> FirstLiquid:
    low = own.get(LIQUID + " ".join(row.phases))
    return row if low is None else replace(row, low=low, high=low, source=OWN)


@lru_cache(maxsize=16)
def settings(own: Pairs = ()) -> Mapping[str, Any]:
    """The programme, the kinetics and the limits; to be read, not changed."""
    shipped = resources.toml("roast/programme.toml")
    if not own:
        return shipped
    found = deepcopy(shipped)
    for key, value in own:
        if key in spots():
            way, name, times = spots()[key]
            row: Any = found
            for step in way:
                row = row[step]
            row[name] = value / times
            row[f"{name}_source"] = OWN
    return found
