"""Heat that a melt takes to its pour, the time and the propane for it, and what each flux costs of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fluxlab import resources
from fluxlab.fusion.gas import ROOM, GasRow
from fluxlab.fusion.tables import Table
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import MASS, OXIDES, Vec

_BASIS = 1150.0


@dataclass(frozen=True, slots=True)
class Furnace:
    """What is heated with the charge: pot [kg], lining that warms [kg]; burner power [kW] and its efficiency [-]."""

    pot: float
    lining: float = 0.6
    power: float = 10.0
    efficiency: float = 0.13
    efficiency_low: float = 0.08
    efficiency_high: float = 0.20


@dataclass(frozen=True, slots=True)
class Heat:
    """Heat to the pour [kJ]: of slag, metal and matte, gases, reactions and drying, pot and lining, together `total`.

    `by_flux` [kJ] is the heat of the reaction and the gases of each flux. `minutes` and `propane` [g] with their likely
    range; the burner's power counts as the lower heating value that it burns. `burning` [min] is the time that the
    burner takes for it, and the `minutes` too unless the operator gave his own rate.
    """

    slag: float
    metal: float
    gases: float
    reactions: float
    pot: float
    lining: float
    total: float
    minutes: Estimate
    propane: Estimate
    burning: Estimate
    by_flux: tuple[tuple[str, float], ...]

    @property
    def charge(self) -> float:
        """Heat of the charge alone [kJ]."""
        return self.slag + self.metal + self.gases + self.reactions


def heat_data() -> dict[str, Any]:
    """The tables of resources/fusion/heat.toml."""
    return resources.toml("fusion/heat.toml")


def heat(
    slag: Vec,
    metals: Mapping[str, float],
    matte: float,
    gases: Iterable[GasRow],
    fluxes: Iterable[tuple[str, str, float]],
    water: float,
    pour: float,
    furnace: Furnace,
    data: Table | None = None,
    rate: float | None = None,
) -> Heat:
    """Heat of a melt to its pour temperature [degC] [kJ].

    `slag` [mol], `metals` [g] by symbol, `matte` with speiss [g], `fluxes` as (name, formula, pure mass [g]), free
    `water` [g]. A gas leaves in the middle of its window. What reducers and nitre set free is not taken off. At the
    operator's own `rate` [degC/min] the minutes follow from it; the fuel is that of the heat in any case.
    """
    table = data or heat_data()
    rise = max(pour - ROOM, 0.0) / (_BASIS - ROOM)
    other = table["sensible_other"]
    grams = slag * MASS
    in_slag = sum(
        float(g) * table["sensible"].get(symbol, other["oxide"]) for symbol, g in zip(OXIDES, grams, strict=True) if g
    )
    in_metal = sum(g * table["sensible_metal"].get(symbol, other["metal"]) for symbol, g in metals.items())
    by_source: dict[str, float] = {}
    for row in gases:
        by_source[row.source] = by_source.get(row.source, 0.0) + _leaving(row, pour, table)
    reacting: dict[str, float] = {}
    for name, text, mass in fluxes:
        reacting[name] = reacting.get(name, 0.0) + mass * table["reaction"].get(text, 0.0)
    body = table["body"]
    pot = furnace.pot * body["pot"] * max(pour - ROOM, 0.0)
    lining = furnace.lining * body["lining"] * body["lining_rise"] * max(pour - ROOM, 0.0)
    gas_heat, reactions = sum(by_source.values()), sum(reacting.values()) + water * table["water"]["evaporates"]
    sensible = (in_slag + in_metal + matte * other["matte"]) * rise
    total = sensible + gas_heat + reactions + pot + lining
    # a furnace that heats better is quicker
    burning = Estimate(
        _minutes(total, furnace.power, furnace.efficiency),
        _minutes(total, furnace.power, furnace.efficiency_high),
        _minutes(total, furnace.power, furnace.efficiency_low),
    )
    value = table["burner"]["heating_value"]
    costs = {name: reacting[name] + by_source.get(name, 0.0) for name in reacting}
    return Heat(
        slag=in_slag * rise,
        metal=sensible - in_slag * rise,
        gases=gas_heat,
        reactions=reactions,
        pot=pot,
        lining=lining,
        total=total,
        minutes=burning if rate is None else _at_rate(pour, rate),
        propane=Estimate(
            _fuel(total, furnace.efficiency, value),
            _fuel(total, furnace.efficiency_high, value),
            _fuel(total, furnace.efficiency_low, value),
        ),
        burning=burning,
        by_flux=tuple(sorted(((n, kj) for n, kj in costs.items() if kj > 0.0), key=lambda item: -item[1])),
    )


def default_furnace(pot: float, data: Table | None = None) -> Furnace:
    """A small kiln as shipped, around a pot of a mass [kg]; every figure may be replaced."""
    table = data or heat_data()
    burner = table["burner"]
    return Furnace(pot, table["body"]["lining_mass"], burner["power"], burner["likely"], burner["low"], burner["high"])


def _leaving(row: GasRow, pour: float, table: Table) -> float:
    """Heat that a gas carries off from the middle of its window [kJ]."""
    low, high = (ROOM if row.low is None else row.low), (pour if row.high is None else row.high)
    leaves = min((low + high) / 2.0, pour)
    per_gram: float = table["sensible_gas"].get(row.species, table["sensible_other"]["gas"])
    return row.grams * per_gram * max(leaves - ROOM, 0.0) / (_BASIS - ROOM)


def _at_rate(pour: float, rate: float) -> Estimate:
    """Time to the pour [degC] at a rate [degC/min] [min]."""
    minutes = max(pour - ROOM, 0.0) / rate
    return Estimate(minutes, minutes, minutes)


def _fuel(energy: float, efficiency: float, value: float) -> float:
    """Fuel of a heating value [MJ/kg] that brings so much heat [kJ] into the pot [g]."""
    return energy / (efficiency * value) if efficiency > 0.0 else float("inf")


def _minutes(energy: float, power: float, efficiency: float) -> float:
    """Time in which a burner [kW] brings so much heat [kJ] into the pot [min]."""
    into = power * efficiency * 60.0
    return energy / into if into > 0.0 else float("inf")
