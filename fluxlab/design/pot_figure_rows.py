"""The figures of the pot that may be replaced, as the report tells them."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

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
from fluxlab.design.pot_figures import shipped_figure
from fluxlab.design.pot_text import METALS
from fluxlab.design.pot_types import FigureRow
from fluxlab.design.recipe import RouteName
from fluxlab.design.report_types import Amount
from fluxlab.fusion.deportment import TO_METAL, Shares, shares
from fluxlab.fusion.heating import rate_of_furnace
from fluxlab.fusion.ore_gas import ANY, gas_species, gas_window
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.routes import routes
from fluxlab.fusion.tables import shipped_table
from fluxlab.fusion.where_types import Where
from fluxlab.materials.estimate import Estimate

_Ends = tuple[float, float, float]
_OWN = "the operator's own"
_RATE = "heating_rate"
_RISE = "reckoned: the rise to the pour over the minutes that the furnace takes for its heat; "
_TRACE = 1e-6
"""Of an element less than this [g] nothing is asked."""
_NO_IRON = "of it what finds no iron leaves as fume; "
_PAID = "reckoned: the oxygen that reducers take pays for the metal; what of it still stays in the slag: "


def figure_rows(charge: FusionCharge, pot: InThePot, own: Mapping[str, float]) -> tuple[FigureRow, ...]:
    """Every figure that may be replaced, as it is used for this charge, of which the pot makes so much.

    Shares only of elements that are in it, or of which the operator has set one before.
    """
    fine = charge.carrier in shipped_table("losses")["fine_prills"]["carriers"]
    told = tuple((key, value) for key, value in own.items() if key in static_figures())
    static = (_rate(charge, pot, row) if row.key == _RATE else row for row in _static(charge.route, fine, told))
    return (*_shares(charge, pot, own), *static, *_gases(charge, own))


def _rate(charge: FusionCharge, pot: InThePot, row: FigureRow) -> FigureRow:
    """The rate of heating [degC/min]: the furnace's, where its heat is known, in place of the usual one."""
    furnace = rate_of_furnace(charge.pour, pot.heat)
    if furnace is None:
        return row
    shipped = Amount(furnace.value, furnace.low, furnace.high)
    source = f"{_RISE}{charge.tables.heat['burner']['source']}"
    kept = (row.value, row.source) if row.own else (shipped, source)
    return replace(row, value=kept[0], source=kept[1], shipped=shipped, shipped_source=source)


def _shares(charge: FusionCharge, pot: InThePot, own: Mapping[str, float]) -> Iterator[FigureRow]:
    set_before = charge.tables.own
    if set_before:
        pot = in_the_pot(replace(charge, tables=replace(charge.tables, own={})))
    source = str(charge.tables.deportment["source"])
    for symbol in METALS:
        where = pot.bullion.ends.elements.get(symbol)
        there = where is not None and where.total > _TRACE
        if not there and symbol not in set_before:
            continue
        told = _of_element(symbol, charge, pot, where if there else None)
        if _makes_layer(symbol, pot) or LAYERS + symbol in own:
            told[LAYERS] = _to_layers(symbol, charge, pot)
        for start, ends in told.items():
            figure = figure_of(start + symbol)
            if figure is not None:
                yield _row(start + symbol, figure, ends, _reckoned(start, symbol) + source, own.get(start + symbol))


def _reckoned(start: str, symbol: str) -> str:
    """What besides its prior decides a share of an element, in words."""
    if start == METAL and symbol in TO_METAL:
        return _PAID
    return _NO_IRON if (start, symbol) == (LAYERS, "As") else ""


def _of_element(symbol: str, charge: FusionCharge, pot: InThePot, where: Where | None) -> dict[str, _Ends]:
    """The share of an element that is metal, and that goes off as fume, with their ends [%]."""
    usual = Shares(0.0, 1.0, 0.0, 0.0) if where is None else _as_found(where)
    button = next((part.grams for part in pot.bullion.parts if part.symbol == symbol), None)
    wide = usual.spread(usual.fume, charge.tables.deportment["concentration"])
    return {METAL: _percent(usual.metal, button, where), FUME: _ends(usual.fume, wide)}


def _makes_layer(symbol: str, pot: InThePot) -> bool:
    """Whether it matters in this pot how much of an element would go to matte and speiss."""
    hard = pot.bullion.layers.speiss.high
    soft = 0.0 if symbol in ("Cu", "Pb") else pot.bullion.ends.matte.mass
    return symbol == "As" or max(hard, soft) > _TRACE


def _to_layers(symbol: str, charge: FusionCharge, pot: InThePot) -> _Ends:
    """The share of an element that would go to matte and speiss with its ends [%]: how much forms, the pot decides."""
    table = charge.tables.deportment
    usual = shares(symbol, pot.state, data=table)
    return _ends(usual.matte, usual.spread(usual.matte, table["concentration"]))


def _as_found(where: Where) -> Shares:
    """Shares of an element as the pot has it [mass fractions]; what is on its way to the button is metal."""
    metal, fume = (where.button + where.drops + where.handling) / where.total, where.fume / where.total
    matte = (where.matte + where.speiss) / where.total
    return Shares(metal, where.slag / where.total, matte, fume)


def _percent(share: float, button: Estimate | None, where: Where | None) -> _Ends:
    """A share that is metal with its ends [%], by the range of its metal in the button [g]."""
    if button is None or where is None:
        return _ends(share, 0.0)
    low, high = ((where.drops + end) / where.total for end in (button.low, button.high))
    return 100.0 * share, 100.0 * min(low, share), 100.0 * min(max(high, share), 1.0)


def _ends(share: float, wide: float) -> _Ends:
    return 100.0 * share, 100.0 * max(share - wide, 0.0), 100.0 * min(share + wide, 1.0)


def _gases(charge: FusionCharge, own: Mapping[str, float]) -> Iterator[FigureRow]:
    """When the gases of minerals and fluxes of this charge come off."""
    there = [(text, s) for text, grams in charge.minerals.values() if grams > _TRACE for s in gas_species(text)]
    there += [(ANY, "SO2")] if any(grams > _TRACE for grams in charge.sulphides.values()) else []
    there += [(row.of, row.species) for row in charge.flux_gases if row.of and row.grams > _TRACE]
    set_before = [gas_of(key) for key in own if key.startswith((GAS_FROM, GAS_TO))]
    for text, species in dict.fromkeys((*there, *set_before)):
        source = gas_window(text, species).source
        for key in (f"{GAS_FROM}{text}:{species}", f"{GAS_TO}{text}:{species}"):
            figure = figure_of(key)
            if figure is not None:
                yield _row(key, figure, shipped_figure(key, charge.route), source, own.get(key))


@lru_cache(maxsize=16)
def _static(route: RouteName, fine: bool, told: tuple[tuple[str, float], ...]) -> tuple[FigureRow, ...]:
    own = dict(told)
    return tuple(
        _row(key, figure, *_shipped(key, figure, route, fine), own.get(key)) for key, figure in static_figures().items()
    )


def _shipped(key: str, figure: Figure, route: RouteName, fine: bool) -> tuple[tuple[float, float, float], str]:
    """The program's own figure with its ends, and its source."""
    if not figure.at:
        return shipped_figure(key, route), routes()[route].pot_source
    row = figure.row(shipped_table(figure.table))
    if key == "prill" and fine:
        row = shipped_table("losses")["fine_prills"]
    return figure.ends(row), str(row[figure.told])


def _row(key: str, figure: Figure, ends: tuple[float, float, float], source: str, own: float | None) -> FigureRow:
    shipped = Amount(*ends)
    value = shipped if own is None else Amount(own)
    told = source if own is None else _OWN
    return FigureRow(key, figure.words, figure.unit, value, own is not None, told, shipped, source, figure.group)
