"""Gases that the minerals of the pot give off, each with its window of temperature."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from fluxlab import resources
from fluxlab.fusion.gas import ROOM, GasRow, gas_volume
from fluxlab.fusion.tables import OwnWindows
from fluxlab.issue import Issue
from fluxlab.materials.flux_plain import flux_window
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
    grams, cold, hot = moles * formula(species).mass, gas_volume(moles, ROOM), gas_volume(moles, temperature)
    found = GasRow(source, species, grams, moles, cold, hot, window.words, window.low, window.high, mineral)
    return with_own_window(found, own or {})


def with_own_window(found: GasRow, own: OwnWindows) -> GasRow:
    """A gas with the operator's window of its substance, where he has given one."""
    low, high = own.get((found.of, found.species), (None, None))
    if low is None and high is None:
        return found
    ends = (found.low if low is None else low, found.high if high is None else high)
    return replace(found, window="on heating", low=ends[0], high=ends[1])


def gas_species(mineral: str) -> tuple[str, ...]:
    """The gases that a mineral or flux gives off in the pot; for `ANY` those that have a usual window; none of no
    formula."""
    if mineral == ANY:
        return tuple(species for atoms, species in _windows() if atoms is None and species != ANY)
    if isinstance(read(mineral), Issue):
        return ()
    own = frozenset(formula(mineral).atoms.items())
    windows = (species for atoms, species in _windows() if atoms == own)
    return tuple(dict.fromkeys((*(species for species, _ in _gases(mineral)), *windows)))


@cache
def oxygen_of(text: str) -> float:
    """Oxygen that a substance gives off as gas by itself [g O per g]; 0 for one that holds sulphur."""
    found = formula(text)
    if "S" in found.atoms:
        return 0.0
    return products(found).gases.get("O2", 0.0) * formula("O2").mass / found.mass


@cache
def gas_window(mineral: str, species: str) -> GasWindow:
    """When a mineral or flux gives off a gas [degC]; without a row of its own as that gas, or any, usually comes."""
    table, usual = _windows(), (None, ANY)
    if mineral == ANY:
        return table.get((None, species)) or table[usual]
    found = table.get((frozenset(formula(mineral).atoms.items()), species))
    if found is None and (of_flux := flux_window(mineral, species)) is not None:
        found = GasWindow(*of_flux)
    return found or table.get((None, species)) or table[usual]


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
