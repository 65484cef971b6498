"""Every figure of the pot that rests on memory or judgement, by key: what it is, in which unit, and where it stands."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from math import isfinite
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.design.pot_text import METALS
from fluxlab.fusion.deportment import priors
from fluxlab.fusion.ore_gas import ANY, gas_species
from fluxlab.fusion.tables import Table, shipped_table
from fluxlab.fusion.where import NOBLE

METAL, FUME, LAYERS = "metal:", "fume:", "layers:"
"""What the key of an element's share begins with; its symbol follows."""
GAS_FROM, GAS_TO = "gas_from:", "gas_to:"
"""What the key of an end of a gas begins with; the formula of its mineral, a colon and the gas follow."""
_ENDS = ("likely", "low", "high")
_ASIDE = {"Pb": ", that of litharge aside"}
_LAYERS = {
    "As": "to speiss, as far as there is iron for it",
    "Cu": "into speiss, where one forms",
    "Pb": "into speiss, where one forms, that of litharge aside",
}
"""Where the share to matte and speiss goes; the copper and the lead of a matte follow from its sulphur, and so does
iron."""


_PLAIN = {
    "Na2CO3": "soda", "K2CO3": "potash", "NaHCO3": "bicarbonate", "KNO3": "nitre", "NaNO3": "soda nitre",
    "Na2B4O7·10H2O": "borax", "Na2B4O7·5H2O": "borax pentahydrate", "H3BO3": "boric acid", "Pb3O4": "red lead",
    "C": "charcoal", "C6H10O5": "flour", "KHC4H4O6": "tartar",
}  # fmt: skip
"""Fluxes that go by a name before a formula."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: its heading, words and unit, `times` from the table's unit to it, the `least` and `most` that make
    sense, `whole` where only whole numbers do.

    `at` is the table with its row, `names` the likely value, the low and the high end there, `told` the title of their
    source. The route's figures, the shares of elements and the gases of minerals have no `at`.
    """

    group: str
    words: str
    unit: str
    times: float
    least: float
    most: float
    whole: bool = False
    at: str = ""
    names: tuple[str, ...] = _ENDS
    told: str = "source"

    @property
    def table(self) -> str:
        """The table that holds the figure."""
        return self.at.partition(".")[0]

    def row(self, table: Table) -> dict[str, Any]:
        """The row of its table that holds the figure."""
        found: Any = table
        for name in self.at.split(".")[1:]:
            found = found[name]
        row: dict[str, Any] = found
        return row

    def shipped(self) -> tuple[float, float, float]:
        """The program's own figure, likely, low and high, in `unit`."""
        return self.ends(self.row(shipped_table(self.table)))

    def ends(self, row: Mapping[str, Any]) -> tuple[float, float, float]:
        """The figure of a row, likely, low and high, in `unit`."""
        likely, low, high = self.names if len(self.names) == 3 else (self.names[0],) * 3
        return row[likely] * self.times, row[low] * self.times, row[high] * self.times

    def refuses(self, value: float) -> str:
        """Why a value cannot be this figure, and which could; empty if it can."""
        if isfinite(value) and self.least <= value <= self.most and not (self.whole and value != round(value)):
            return ""
        whole = "a whole number " if self.whole else ""
        return f"Give {whole}from {self.least:g} to {self.most:g} {self.unit}".rstrip() + "."


@cache
def static_figures() -> Mapping[str, Figure]:
    """The figures of the tables and of the route, by key."""
    rows = resources.toml("fusion/own_figures.toml")
    return MappingProxyType(
        {key: Figure(**{**row, "names": tuple(row.get("names", _ENDS))}) for key, row in rows.items()}
    )


@lru_cache(maxsize=1024)
def figure_of(key: str) -> Figure | None:
    """One figure by its key, of an element or a mineral too; None if the pot has no such figure."""
    if key.startswith((METAL, FUME, LAYERS)):
        return _share_of(key)
    return _gas_of(key) if key.startswith((GAS_FROM, GAS_TO)) else static_figures().get(key)


def _share_of(key: str) -> Figure | None:
    start, _, symbol = key.partition(":")
    if symbol in priors():
        name = METALS.get(symbol, symbol)
        if start == "metal" and symbol not in NOBLE:
            words = f"{name} that goes to the metal{_ASIDE.get(symbol, '')}"
            return Figure("metals", words, "%", 100.0, 0.0, 100.0)
        if start == "fume":
            return Figure("metals", f"{name} that leaves as fume", "%", 100.0, 0.0, 100.0)
        if start == "layers" and symbol not in (*NOBLE, "Fe"):
            words = f"{name} that goes {_LAYERS.get(symbol, 'into matte and speiss, where they form')}"
            return Figure("metals", words, "%", 100.0, 0.0, 100.0)
    return None


def gas_of(key: str) -> tuple[str, str]:
    """The mineral, by formula, and the gas that a key of `GAS_FROM` or `GAS_TO` names."""
    mineral, _, species = key.partition(":")[2].rpartition(":")
    return mineral, species


def _gas_of(key: str) -> Figure | None:
    mineral, species = gas_of(key)
    if species not in gas_species(mineral):
        return None
    whose = ("burnt sulphide" if species == "SO2" else "a calcine") if mineral == ANY else _PLAIN.get(mineral, mineral)
    end = "comes off from" if key.startswith(GAS_FROM) else "comes off up to"
    return Figure("gas, swelling and foam", f"{species} of {whose} {end}", "°C", 1.0, 25.0, 2000.0)
