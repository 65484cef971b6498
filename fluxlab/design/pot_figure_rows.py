"""The figures of the pot that may be replaced, as the report tells them."""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from fluxlab.design.pot_figure_list import FUME, GAS_FROM, GAS_TO, METAL, Figure, figure_of, gas_of, static_figures
from fluxlab.design.pot_figures import shipped_figure
from fluxlab.design.pot_text import METALS
from fluxlab.design.pot_types import FigureRow
from fluxlab.design.recipe import RouteName
from fluxlab.design.report_types import Amount
from fluxlab.fusion.deportment import PotState, shares
from fluxlab.fusion.ore_gas import ANY, gas_species, gas_window
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.fusion.routes import routes
from fluxlab.fusion.tables import shipped_table

_OWN = "the operator's own"
_TRACE = 1e-6
"""Of an element less than this [g] nothing is asked."""
_REACH = "; other metals but silver, gold and those of litharge come down only as far as reducers go"


def figure_rows(charge: FusionCharge, state: PotState, own: Mapping[str, float]) -> tuple[FigureRow, ...]:
    """Every figure that may be replaced, as it is used for this charge.

    Shares only of elements that are in it, or of which the operator has set one before.
    """
    fine = charge.carrier in shipped_table("losses")["fine_prills"]["carriers"]
    told = tuple((key, value) for key, value in own.items() if key in static_figures())
    return (*_shares(charge, state, own), *_static(charge.route, fine, told), *_gases(charge, own))


def _shares(charge: FusionCharge, state: PotState, own: Mapping[str, float]) -> Iterator[FigureRow]:
    data = charge.tables.deportment
    set_before = {key.partition(":")[2] for key in own if key.startswith((METAL, FUME))}
    for symbol in METALS:
        if charge.elements.get(symbol, 0.0) <= _TRACE and symbol not in set_before:
            continue
        usual = shares(symbol, state, data=data)
        for start, share in ((METAL, usual.metal), (FUME, usual.fume)):
            figure = figure_of(start + symbol)
            if figure is not None:
                wide = usual.spread(share, data["concentration"])
                ends = (100.0 * share, 100.0 * (share - wide), 100.0 * min(share + wide, 1.0))
                source = str(data["source"]) + (_REACH if start == METAL else "")
                yield _row(start + symbol, figure, ends, source, own.get(start + symbol))


def _gases(charge: FusionCharge, own: Mapping[str, float]) -> Iterator[FigureRow]:
    """When the gases of the minerals of this charge come off."""
    there = [text for text, grams in charge.minerals.values() if grams > _TRACE]
    there += [ANY] if any(grams > _TRACE for grams in charge.sulphides.values()) else []
    set_before = [gas_of(key)[0] for key in own if key.startswith((GAS_FROM, GAS_TO))]
    for text in dict.fromkeys((*there, *set_before)):
        for species in gas_species(text):
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
