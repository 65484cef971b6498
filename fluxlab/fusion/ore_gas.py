"""Gases that the minerals of the pot give off, each with its window of temperature."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from fluxlab import resources
from fluxlab.fusion.gas import ROOM, GasRow, gas_volume
from fluxlab.fusion.tables import OwnWindows
from fluxlab.issue import Issue
from fluxlab.materials.formulas import formula, read
from fluxlab.materials.substance import products

ANY = "*"
"""Stands for whatever has no window of its own."""


@dataclass(frozen=True, slots=True)
class GasWindow:
    """When a gas comes off: temperatures [degC], the same in words, and where that is from."""

    low: float
    high: float
    words: str
    source: str


def mineral_gas_rows(
    minerals: Mapping[str, tuple[str, float]], temperature: float, own: OwnWindows | None = None
) -> tuple[GasRow, ...]:
    """Gases of minerals in the pot by name with (formula, mass [g]) [g, mol, L], hot at a temperature [degC].

    What is roasted already has given off its gas and does not belong here. `own` are the operator's windows.
    """
    return tuple(
        row(name, species, moles * grams / formula(text).mass, temperature, text, own)
        for name, (text, grams) in minerals.items()
        for species, moles in _gases(text)
        if grams > 0.0
    )


def row(
    source: str, species: str, moles: float, temperature: float, mineral: str = ANY, own: OwnWindows | None = None
) -> GasRow:
    """One row of gas [g, mol, L] with the window of its mineral, the operator's own before the usual one."""
    window = gas_window(mineral, species)
    low, high = (own or {}).get((mineral, species), (None, None))
    words = window.words if low is None and high is None else "on heating"
    grams, cold, hot = moles * formula(species).mass, gas_volume(moles, ROOM), gas_volume(moles, temperature)
    ends = (window.low if low is None else low, window.high if high is None else high)
    return GasRow(source, species, grams, moles, cold, hot, words, *ends)


def gas_species(mineral: str) -> tuple[str, ...]:
    """The gases that a mineral gives off in the pot; for `ANY` the dioxide of burnt sulphide; none of no formula."""
    if mineral == ANY:
        return ("SO2",)
    return () if isinstance(read(mineral), Issue) else tuple(species for species, _ in _gases(mineral))


@cache
def oxygen_of(text: str) -> float:
    """Oxygen that a substance gives off as gas by itself [g O per g]; 0 for one that holds sulphur."""
    found = formula(text)
    if "S" in found.atoms:
        return 0.0
    return products(found).gases.get("O2", 0.0) * formula("O2").mass / found.mass


@cache
def gas_window(mineral: str, species: str) -> GasWindow:
    """When a mineral gives off a gas [degC]; without a row of its own as the species, or any gas, usually does."""
    table = _windows()
    atoms = None if mineral == ANY else frozenset(formula(mineral).atoms.items())
    return table.get((atoms, species)) or table.get((None, species)) or table[None, ANY]


@cache
def _gases(text: str) -> tuple[tuple[str, float], ...]:
    return tuple(products(formula(text)).gases.items())


@cache
def _windows() -> dict[tuple[frozenset[tuple[str, float]] | None, str], GasWindow]:
    return {
        (None if r["formula"] == ANY else frozenset(formula(r["formula"]).atoms.items()), r["species"]): GasWindow(
            float(r["low_degc"]), float(r["high_degc"]), r["words"], r["source"]
        )
        for r in resources.table("fusion/ore_gas.csv")
    }
