"""How much lead a gram of a sulphide throws down: as tried, and between which limits it must lie."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from fluxlab import resources
from fluxlab.fusion.currency import theoretical_power
from fluxlab.materials.formulas import Formula, formula

# oxygens that a metal atom takes: to its lower oxide beside sulphur dioxide, to the higher beside sulphate;
# lead is counted so that the lead of the mineral itself is in the button
_TAKEN = {
    "Fe": (1.0, 1.0),
    "Zn": (1.0, 1.0),
    "Pb": (1.0, 1.0),
    "Mn": (1.0, 1.0),
    "Ni": (1.0, 1.0),
    "Co": (1.0, 1.0),
    "Cd": (1.0, 1.0),
    "Cu": (0.5, 0.5),
    "Sb": (1.5, 1.5),
    "As": (1.5, 2.5),
    "Sn": (2.0, 2.0),
    "Te": (2.0, 2.0),
    "Se": (2.0, 2.0),
    "Mo": (3.0, 3.0),
    "C": (2.0, 2.0),
    "S": (2.0, 3.0),
}


@dataclass(frozen=True, slots=True)
class Power:
    """Lead power and its likely range [g Pb per g]; `tried` says whether it rests on trial fusions."""

    value: float
    low: float
    high: float
    tried: bool


def power_limits(mineral: Formula) -> tuple[float, float]:
    """Lead power of a sulphide by its equations, sulphur going to SO2 and to sulphate [g Pb per g].

    Metals go to FeO, ZnO, Cu2O, Sb2O3, arsenic to As2O3 or As2O5; silver, gold, bismuth and mercury stay metal. A
    mineral that holds oxygen, or nothing that burns, gives nil.
    """
    if mineral.atoms.get("O", 0.0) > 0.0:
        return 0.0, 0.0
    low, high = (
        sum(count * _TAKEN.get(symbol, (0.0, 0.0))[limit] for symbol, count in mineral.atoms.items())
        for limit in (0, 1)
    )
    return theoretical_power(mineral.text, low), theoretical_power(mineral.text, high)


def sulphide_power(mineral: Formula) -> Power:
    """Lead power of a sulphide [g Pb per g]: Beringer's where he gives one, else the middle of its limits."""
    tried = _tried().get(_key(mineral))
    if tried is not None:
        return tried
    low, high = power_limits(mineral)
    return Power((low + high) / 2.0, low, high, tried=False)


def _key(mineral: Formula) -> frozenset[tuple[str, float]]:
    return frozenset(mineral.atoms.items())


@cache
def _tried() -> Mapping[frozenset[tuple[str, float]], Power]:
    return {
        _key(formula(row["formula"])): Power(float(row["power"]), float(row["low"]), float(row["high"]), tried=True)
        for row in resources.table("mineral_powers.csv")
    }
