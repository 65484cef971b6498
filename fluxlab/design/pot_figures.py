"""The operator's own figures of the pot in place of shipped ones of memory or judgement."""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import replace
from functools import lru_cache
from typing import Any

from fluxlab.design.pot_figure_list import (
    FUME,
    GAS_FROM,
    GAS_TO,
    LAYERS,
    METAL,
    Figure,
    figure_of,
    gas_of,
    static_figures,
)
from fluxlab.design.recipe import RouteName
from fluxlab.fusion.gas_timing import FoamSlag
from fluxlab.fusion.heat import Furnace
from fluxlab.fusion.ore_gas import gas_window, with_own_window
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.fusion.redox_types import Wall
from fluxlab.fusion.routes import routes
from fluxlab.fusion.tables import OwnShare, Tables, shipped_table, shipped_tables, tables_of
from fluxlab.issue import Issue, warning
from fluxlab.materials.estimate import Estimate

_IN_ORDER = (
    ("budget_low", "budget_high"),
    ("hold_least", "hold_most"),
    ("acid_at", "alkaline_at"),
    ("comes_close", "comes_yes"),
)
"""Figures of which the first has to be below the second."""
FERROUS_FIRST = "ferrous_first"
_OF_ELEMENTS = (METAL, FUME, LAYERS)
_ROUNDING = 1e-9
"""Shares that come to more than a hundred by so little [%] come to a hundred."""
_KNOBS = ("slag_ratio", "trapped")
"""Figures that count in place of what is reckoned from the tables."""
_BAND = {"budget_low", "budget_high"}
_OWN = "the operator's own"


def named(key: str) -> str:
    """A figure in words; its key if the pot has no such figure."""
    figure = figure_of(key)
    return key if figure is None else figure.words


def sensible(
    figures: Mapping[str, float], route: RouteName = "roast and melt"
) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures that make sense on a route, by key, and what is said of the others."""
    kept: dict[str, float] = {}
    issues = []
    for key, value in figures.items():
        figure = figure_of(key)
        if figure is None:
            issues.append(warning("pot.figures", f"The pot has no figure called “{key}”.", "Remove it."))
        elif remedy := figure.refuses(value):
            sentence = f"{_number(value, figure)} cannot be the {figure.words}; the program's own figure is used."
            issues.append(warning("pot.figures", sentence, remedy))
        else:
            kept[key] = value
    for keys, issue in tuple(_at_odds(kept, route)):
        issues.append(issue)
        for key in keys:
            kept.pop(key, None)
    return kept, tuple(issues)


def _number(value: float, figure: Figure) -> str:
    return f"{value:g} {figure.unit}".rstrip()


def _at_odds(own: Mapping[str, float], route: RouteName) -> Iterator[tuple[tuple[str, ...], Issue]]:
    """Figures that contradict each other, with what is said of them."""
    gases = {key.partition(":")[2] for key in own if key.startswith((GAS_FROM, GAS_TO))}
    for low, high in (*_IN_ORDER, *((GAS_FROM + gas, GAS_TO + gas) for gas in sorted(gases))):
        first, second = (own.get(key, shipped_figure(key, route)[0]) for key in (low, high))
        if (low in own or high in own) and first >= second:
            sentence = f"“{_capital(named(low))}” ({first:g}) has to be below “{named(high)}” ({second:g})."
            yield (low, high), warning("pot.figures", sentence, "Till then the program's own figures are used.")
    for symbol in dict.fromkeys(key.partition(":")[2] for key in own if key.startswith(_OF_ELEMENTS)):
        keys = tuple(start + symbol for start in _OF_ELEMENTS if start + symbol in own)
        if sum(own[key] for key in keys) > 100.0 + _ROUNDING:
            shares = [f"the {named(key)}" for key in keys]
            sentence = f"{_capital(', '.join(shares[:-1]))} and {shares[-1]} come to more than 100 %."
            yield keys, warning("pot.figures", sentence, "Till then the program's own figures are used.")


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def refusal(figures: Mapping[str, float], route: RouteName, key: str, value: float) -> str:
    """Why a figure cannot be set beside the others, in words with what to do; empty if it can."""
    _, before = sensible({k: v for k, v in figures.items() if k != key}, route)
    _, issues = sensible({**figures, key: value}, route)
    new = [issue for issue in issues if issue not in before]
    return f"{new[0].sentence} {new[0].remedy}" if new else ""


def shipped_figure(key: str, route: RouteName) -> tuple[float, float, float]:
    """The program's own figure of a table, a route or a gas, likely, low and high, in the unit of the figure."""
    if key.startswith((GAS_FROM, GAS_TO)):
        window = gas_window(*gas_of(key))
        return (window.low,) * 3 if key.startswith(GAS_FROM) else (window.high,) * 3
    if key in ("budget_low", "budget_high"):
        low, high = routes()[route].budget
        return (low,) * 3 if key == "budget_low" else (high,) * 3
    if key == FERROUS_FIRST:
        return (float(routes()[route].ferrous_first),) * 3
    return static_figures()[key].shipped()


@lru_cache(maxsize=16)
def own_tables(figures: tuple[tuple[str, float], ...], route: RouteName = "roast and melt") -> Tables:
    """The tables of the pot with the operator's figures in place of the shipped ones; what makes no sense is left out.

    `figures` are those of a recipe: pairs of key and number, in the units of the report's rows.
    """
    if not figures:
        return shipped_tables()
    own, _ = sensible(dict(figures), route)
    replaced: dict[str, dict[str, Any]] = {}
    for key, value in own.items():
        figure = static_figures().get(key)
        if figure is not None and figure.at:
            if figure.table not in replaced:
                replaced[figure.table] = deepcopy(dict(shipped_table(figure.table)))
            row = figure.row(replaced[figure.table])
            row.update(dict.fromkeys(figure.names, value / figure.times))
            row[figure.told] = f"{figure.words}: {_OWN}; otherwise {row[figure.told]}"
    iron_first = None if FERROUS_FIRST not in own else own[FERROUS_FIRST] > 0.0
    return tables_of(replaced, _own_shares(own), _own_windows(own), iron_first)


def _own_windows(own: Mapping[str, float]) -> dict[tuple[str, str], tuple[float | None, float | None]]:
    gases = dict.fromkeys(key.partition(":")[2] for key in own if key.startswith((GAS_FROM, GAS_TO)))
    return {gas_of(GAS_FROM + gas): (own.get(GAS_FROM + gas), own.get(GAS_TO + gas)) for gas in gases}


def _own_shares(own: Mapping[str, float]) -> dict[str, OwnShare]:
    symbols = dict.fromkeys(key.partition(":")[2] for key in own if key.startswith(_OF_ELEMENTS))
    return {s: OwnShare(*(_share(own.get(start + s)) for start in _OF_ELEMENTS)) for s in symbols}


def _share(percent: float | None) -> float | None:
    return None if percent is None else percent / 100.0


def with_figures(charge: FusionCharge, own: Mapping[str, float]) -> FusionCharge:
    """The charge with the operator's figures, of those that make sense, in place of the shipped ones."""
    if not own:
        return charge
    tables = own_tables(tuple(own.items()), charge.route)
    told = {key: own[key] / static_figures()[key].times for key in own if key in static_figures()}
    knobs = {key: Estimate(told[key], told[key], told[key]) for key in _KNOBS if key in told}
    band = routes()[charge.route].budget
    return replace(
        charge,
        figures={**charge.figures, **knobs},
        prill=told.get("prill", charge.prill),
        wall=own_wall(charge.wall, tables),
        budget=(told.get("budget_low", band[0]), told.get("budget_high", band[1])) if _BAND & told.keys() else None,
        rate=told.get("heating_rate", charge.rate),
        flux_gases=tuple(with_own_window(each, tables.windows) for each in charge.flux_gases),
        foam=None if charge.foam is None else _foam(charge.foam, tables, told),
        furnace=None if charge.furnace is None else _furnace(charge.furnace, tables),
        tables=tables,
    )


def own_wall(shipped: Wall, tables: Tables) -> Wall:
    """A pot wall of the same size as one that gives carbon as shipped, with the carbon of these tables [g]."""
    usual, row = shipped_tables().redox["wall"], tables.redox["wall"]
    if row is usual or shipped.likely <= 0.0:
        return shipped
    scale = shipped.likely / usual["likely"]
    return Wall(row["low"] * scale, row["likely"] * scale, row["high"] * scale)


def _foam(slag: FoamSlag, tables: Tables, told: Mapping[str, float]) -> FoamSlag:
    names = {"foam_tension": "tension", "foam_bubble": "bubble", "foam_activation": "activation"}
    return replace(slag, **{name: tables.foam["slag"][name] for key, name in names.items() if key in told})


def _furnace(furnace: Furnace, tables: Tables) -> Furnace:
    body, burner = tables.heat["body"], tables.heat["burner"]
    pot = furnace.pot * body["density"] / shipped_tables().heat["body"]["density"]
    return Furnace(pot, body["lining_mass"], burner["power"], burner["likely"], burner["low"], burner["high"])
