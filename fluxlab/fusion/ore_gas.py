"""Gases that the minerals of the pot give off, each with its window of temperature."""

from collections.abc import Mapping
from functools import cache

from fluxlab import resources
from fluxlab.fusion.gas import ROOM, GasRow, gas_volume
from fluxlab.materials.formulas import formula
from fluxlab.materials.substance import products

_ANY = "*"


def mineral_gas_rows(minerals: Mapping[str, tuple[str, float]], temperature: float) -> tuple[GasRow, ...]:
    """Gases of minerals in the pot by name with (formula, mass [g]) [g, mol, L], hot at a temperature [degC].

    What is roasted already has given off its gas and does not belong here.
    """
    return tuple(
        row(name, species, moles * grams / formula(text).mass, temperature, text)
        for name, (text, grams) in minerals.items()
        for species, moles in _gases(text)
        if grams > 0.0
    )


def row(source: str, species: str, moles: float, temperature: float, mineral: str = _ANY) -> GasRow:
    """One row of gas [g, mol, L] with the window of its mineral, or the usual one of its species."""
    low, high, words = _window(mineral, species)
    grams = moles * formula(species).mass
    return GasRow(
        source, species, grams, moles, gas_volume(moles, ROOM), gas_volume(moles, temperature), words, low, high
    )


@cache
def _gases(text: str) -> tuple[tuple[str, float], ...]:
    return tuple(products(formula(text)).gases.items())


@cache
def _window(mineral: str, species: str) -> tuple[float, float, str]:
    table = _windows()
    atoms = None if mineral == _ANY else frozenset(formula(mineral).atoms.items())
    found = table.get((atoms, species)) or table.get((None, species))
    return found or (100.0, 1000.0, "on heating")


@cache
def _windows() -> dict[tuple[frozenset[tuple[str, float]] | None, str], tuple[float, float, str]]:
    return {
        (None if r["formula"] == _ANY else frozenset(formula(r["formula"]).atoms.items()), r["species"]): (
            float(r["low_degc"]),
            float(r["high_degc"]),
            r["words"],
        )
        for r in resources.table("fusion/ore_gas.csv")
    }
