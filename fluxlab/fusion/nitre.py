"""What nitre does in a melt: how much of its oxygen the charge gets, by how alkaline the slag is."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Self

from fluxlab import resources
from fluxlab.fusion.currency import LEAD_PER_OXYGEN, theoretical_power
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.melt import Melt
from fluxlab.materials.formulas import atomic_mass, formula

NITRATES: Mapping[str, str] = MappingProxyType({"KNO3": "K", "NaNO3": "Na"})
"""The nitrates by formula, with their metal."""
BEARABLE, ON_SULPHIDE = 0.12, 0.10
"""Nitrate over what it goes in with, and raw sulphide over the charge, beyond which no nitrate is advised [g/g]: the
limits of the rules on oxidisers, judgement."""
CARBON_PER_OXYGEN = atomic_mass("C") / (2.0 * atomic_mass("O"))
"""Carbon that a gram of oxygen burns to CO2 [g/g]."""


@dataclass(frozen=True, slots=True)
class NitreConstants:
    """Lead kept up by nitre in an acid slag [g/g], the gain in efficiency from there on, how far it may be off [-]."""

    least_power: float
    rise: float
    spread: float

    @classmethod
    def of(cls, row: Mapping[str, Any]) -> Self:
        """The constants of a table of the nitre."""
        return cls(row["least_power"], row["rise"], row["spread"])


@dataclass(frozen=True, slots=True)
class Efficiency:
    """Share of a nitrate's oxygen that the charge gets, with its likely range [-]."""

    value: float
    low: float
    high: float


@cache
def nitre_constants() -> NitreConstants:
    """The constants as shipped; any of them may be replaced."""
    return NitreConstants.of(nitre_data())


def bearable(nitre: float, sulphide: float, charge: float) -> bool:
    """Whether so much nitrate may be advised for raw sulphide in a charge, flux not counted [g, g, g]."""
    return nitre <= BEARABLE * (charge + nitre) and sulphide <= ON_SULPHIDE * charge


def nitre_data() -> dict[str, Any]:
    """The table of the nitre, each figure with its source."""
    row: dict[str, Any] = resources.toml("fusion/litharge.toml")["nitre"]
    return row


def nitre_efficiency(melt: Melt, constants: NitreConstants | None = None) -> Efficiency:
    """Share of the oxygen of a nitrate that does work in this melt [-].

    A straight line over the melt's alkalinity, from Beringer's figure for an acid slag up; never above 1.
    """
    c = constants or nitre_constants()
    value = c.least_power / theoretical_power("KNO3", 2.5) + c.rise * melt.alkalinity
    return Efficiency(min(value, 1.0), min(max(value - c.spread, 0.0), 1.0), min(value + c.spread, 1.0))


def nitrate_power(nitrate: str, melt: Melt, constants: NitreConstants | None = None) -> float:
    """Lead that a gram of a nitrate keeps up in this melt [g Pb per g], a positive figure.

    Raises KeyError for what is not in `NITRATES`.
    """
    assert NITRATES[nitrate]
    return oxygen_demand(nitrate) * nitre_efficiency(melt, constants).value * LEAD_PER_OXYGEN


def nitrate_oxygen(nitrates: Mapping[str, float]) -> float:
    """Oxygen that nitrates [g] hold ready, all of it [g O]."""
    return sum(grams * oxygen_demand(nitrate) for nitrate, grams in nitrates.items())


def nitrate_alkali(nitrates: Mapping[str, float]) -> float:
    """Alkali that nitrates [g] bring into the melt [mol of its oxide]."""
    return sum(grams / formula(nitrate).mass / 2.0 for nitrate, grams in nitrates.items())


def carbon_burnt(nitrates: Mapping[str, float]) -> float:
    """Carbon that nitrates [g] could burn off a graphite pot, all their oxygen spent on it [g C]."""
    return nitrate_oxygen(nitrates) * CARBON_PER_OXYGEN
