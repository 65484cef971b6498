"""Every figure of the roast's programme that the operator may replace, by key: what it is and where it stands.

The outcome of a roast (burnt, left as sulphate, fumed, lost) is replaced as such, in the plan's own fields.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.issue import Issue, warning
from fluxlab.ore.own_figures import Figures, OreFigure, sensible

MINUTES, IGNITION, LIQUID = "minutes:", "ignition:", "liquid:"
"""What the key of a mineral's or a first melt's figure begins with; its name or its phases follow."""
WHERE = "roast.figures"
_IN_ORDER = (("air_least", "air_most"), ("dry_low", "dry_high"), ("weak_finish", "red_heat_most"))
"""Figures of which the first must not be above the second."""


@cache
def roast_figures() -> Figures:
    """Every figure that may be replaced, as shipped and in its own unit, by key."""
    rows = resources.toml("roast/own_figures.toml")
    found = [_static(key, row) for key, row in rows.items() if "at" in row]
    return MappingProxyType({figure.key: figure for figure in (*found, *_each(rows))})


@cache
def spots() -> Mapping[str, tuple[tuple[str, ...], str, float]]:
    """By key: the rows that lead to a figure of programme.toml, its name there, and the factor to its own unit."""
    rows = resources.toml("roast/own_figures.toml")
    return MappingProxyType(
        {
            key: (tuple(row["at"].split(".")[:-1]), row["at"].rpartition(".")[2], row.get("times", 1.0))
            for key, row in rows.items()
            if "at" in row
        }
    )


def sensible_roast(own: Mapping[str, float]) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures that make sense, by key, and what is said of the others."""
    known = roast_figures()
    found, issues = sensible(known, own, WHERE)
    kept = dict(found)
    for low, high in _IN_ORDER:
        first, second = (kept.get(key, known[key].shipped) for key in (low, high))
        if first > second:
            sentence = f"“{known[low].title}” ({first:g}) is above “{known[high].words}” ({second:g})."
            issues = (*issues, warning(WHERE, sentence, "Till then the program's own figures are used."))
            kept.pop(low, None)
            kept.pop(high, None)
    return kept, issues


def refused_by_roast(own: Mapping[str, float], key: str, value: float) -> str:
    """Why a value cannot be set beside the operator's other figures, in words with what to do; empty if it can."""
    _, before = sensible_roast({k: v for k, v in own.items() if k != key})
    _, after = sensible_roast({**own, key: value})
    new = [issue for issue in after if issue not in before]
    return f"{new[0].sentence} {new[0].remedy}" if new else ""


def _static(key: str, row: Mapping[str, Any]) -> OreFigure:
    way, name, times = spots()[key]
    table: Any = resources.toml("roast/programme.toml")
    for step in way:
        table = table[step]
    source = table.get(f"{name}_source") or table["source"]
    return OreFigure(
        key, row["group"], row["words"], row["unit"], table[name] * times, row["least"], row["most"], source
    )


def _each(rows: Mapping[str, Any]) -> Iterator[OreFigure]:
    """One figure for each mineral that burns, each that takes fire, and each first melt from memory."""
    for row in resources.table("roast/burning.csv"):
        yield _named(rows, MINUTES, row["mineral"], row["mineral"], float(row["tau_600"]), row["tau_source"])
    for row in resources.table("roast/burning.csv"):
        if row["ignition_fine"]:
            fine, told = float(row["ignition_fine"]), row["ignition_source"]
            told = f"{told}; {fine:g} in fine powder, {float(row['ignition_coarse']):g} in coarse"
            yield _named(rows, IGNITION, row["mineral"], row["mineral"], fine, told)
    for row in resources.table("roast/first_liquids.csv"):
        if "memory" in row["source"]:
            yield _named(rows, LIQUID, row["phases"], row["words"], float(row["low"]), row["source"])


def _named(rows: Mapping[str, Any], kind: str, name: str, words: str, shipped: float, source: str) -> OreFigure:
    row = rows[kind]
    said = row["words"].format(name=words)
    return OreFigure(kind + name, row["group"], said, row["unit"], shipped, row["least"], row["most"], source)
