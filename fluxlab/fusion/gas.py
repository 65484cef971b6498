"""Gas that a charge gives off: how many litres, and when."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from fluxlab.materials.formulas import formula
from fluxlab.materials.yield_types import Gas

GAS_CONSTANT = 8.314462618
"""Molar gas constant [J/(mol K)], exact by the SI of 2019."""
PRESSURE = 101325.0
"""One standard atmosphere [Pa]."""
ROOM = 25.0
"""Temperature at which cold gas volumes are stated [degC]."""


@dataclass(frozen=True, slots=True)
class GasRow:
    """Gas of one source: mass [g], amount [mol], volume cold (25 degC) and hot [L], release window in words and [degC].

    Volumes are of an ideal gas at one atmosphere. `of` is the formula of the substance whose window it is, or `ANY`;
    empty where it has none of a table.
    """

    source: str
    species: str
    grams: float
    moles: float
    cold: float
    hot: float
    window: str
    low: float | None
    high: float | None
    of: str = ""


def gas_volume(moles: float, temperature: float) -> float:
    """Volume of an ideal gas at one atmosphere and a temperature [degC] [L]."""
    return moles * GAS_CONSTANT * (temperature + 273.15) / PRESSURE * 1000.0


def gas_rows(
    sources: Iterable[tuple[str, float, Sequence[Gas]]], temperature: float, oxygen_used: float = 0.0
) -> tuple[GasRow, ...]:
    """Gases that sources of (name, mass [g], gases of one gram) give off, earliest first [g, mol, L].

    `temperature` [degC] is that of the hot volume. `oxygen_used` [g] is oxygen that the charge itself takes up: so much
    less comes off as O2, each source's in proportion.
    """
    rows = [
        GasRow(name, gas.species, mass * gas.grams, mass * gas.moles, 0.0, 0.0, gas.window, gas.low, gas.high, gas.of)
        for name, mass, gases in sources
        for gas in gases
    ]
    free = sum(row.grams for row in rows if row.species == "O2")
    kept = max(1.0 - oxygen_used / free, 0.0) if free > 0.0 else 1.0
    scaled = [
        replace(row, grams=row.grams * kept, moles=row.moles * kept) if row.species == "O2" else row for row in rows
    ]
    filled = [
        replace(row, cold=gas_volume(row.moles, ROOM), hot=gas_volume(row.moles, temperature))
        for row in scaled
        if row.moles > 0.0
    ]
    return tuple(sorted(filled, key=lambda row: (row.low is None, row.low or 0.0)))


def steam(name: str, water: float, temperature: float) -> GasRow:
    """Steam of a mass of free water [g], given off while the charge dries [g, mol, L]."""
    moles = water / formula("H2O").mass
    return GasRow(
        name, "H2O", water, moles, gas_volume(moles, ROOM), gas_volume(moles, temperature), "as it dries", 25.0, 150.0
    )
