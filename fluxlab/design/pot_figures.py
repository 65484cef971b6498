"""Figures of the pot that rest on memory or judgement, and the operator's own in their place."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any

from fluxlab.design.pot_types import FigureRow
from fluxlab.design.report_types import Amount
from fluxlab.fusion.deportment import deportment_data
from fluxlab.fusion.gas_timing import Heating, foam_data
from fluxlab.fusion.heat import Furnace, heat_data
from fluxlab.fusion.losses import losses_data
from fluxlab.fusion.matte import sulphur_data
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.fusion.redox_order import redox_data
from fluxlab.fusion.redox_types import Wall
from fluxlab.issue import Issue, warning
from fluxlab.materials.estimate import Estimate

_MOST = 1e6


@dataclass(frozen=True, slots=True)
class _Figure:
    """One figure: words, unit, `times` from the table's unit to it, the most that makes sense, its row in the tables.

    `names` are the row's likely, low and high.
    """

    words: str
    unit: str
    times: float
    most: float
    row: Callable[[], Mapping[str, Any]]
    names: tuple[str, str, str] = ("likely", "low", "high")


def _silver(name: str) -> Callable[[], Mapping[str, Any]]:
    return lambda: sulphur_data()["silver"][name]


_FIGURES: Mapping[str, _Figure] = {
    "matte_ratio": _Figure("silver in matte over silver in the metal", "", 1.0, 100.0, _silver("matte")),
    "dissolved_ratio": _Figure(
        "silver in sulphide that the slag dissolves over silver in the metal", "", 1.0, 100.0, _silver("dissolved")
    ),
    "speiss_ratio": _Figure("silver in speiss over silver in the metal", "", 1.0, 100.0, _silver("speiss")),
    "slag_ratio": _Figure("silver dissolved in slag over silver in the metal", "", 1.0, 1.0, _silver("slag")),
    "trapped": _Figure(
        "metal that hangs in the slag as drops, where it is not reckoned", "%", 100.0, 100.0,
        lambda: losses_data()["unknown"],
    ),
    "handling": _Figure(
        "silver and gold left on pot, mould and tools", "%", 100.0, 100.0, lambda: deportment_data()["handling"]
    ),
    "prill": _Figure(
        "median size of the drops of metal", "µm", 1.0, 1e5, lambda: losses_data()["prills"],
        ("median", "median_low", "median_high"),
    ),
    "wall_carbon": _Figure(
        "carbon that a graphite pot of 150 cm³ gives to a melt", "g", 1.0, 100.0, lambda: redox_data()["wall"]
    ),
    "heating_rate": _Figure(
        "rate of heating", "°C/min", 1.0, 1000.0, lambda: foam_data()["heating"], ("rate", "rate", "rate")
    ),
    "burner_power": _Figure("power of the burner", "kW", 1.0, 1000.0, lambda: heat_data()["burner"], ("power",) * 3),
    "burner_share": _Figure(
        "part of the burner's heat that reaches pot and charge", "%", 100.0, 100.0, lambda: heat_data()["burner"]
    ),
}  # fmt: skip
_ABOVE_NOTHING = ("prill", "heating_rate", "burner_power", "burner_share")
_KNOBS = ("matte_ratio", "dissolved_ratio", "speiss_ratio", "slag_ratio", "trapped", "handling")


def named(key: str) -> str:
    """A figure in words; its key if the pot has no such figure."""
    return _FIGURES[key].words if key in _FIGURES else key


def sensible(figures: Mapping[str, float]) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures that make sense, by key, and what is said of the others."""
    kept: dict[str, float] = {}
    issues = []
    for key, value in figures.items():
        figure = _FIGURES.get(key)
        if figure is None:
            issues.append(warning("pot.figures", f"The pot has no figure called “{key}”.", "Remove it."))
        elif not isfinite(value) or not 0.0 <= value <= figure.most or (value == 0.0 and key in _ABOVE_NOTHING):
            sentence = f"{value:g} {figure.unit} cannot be the {figure.words}; the program's own figure is used."
            issues.append(warning("pot.figures", sentence, f"Give it up to {figure.most:g} {figure.unit}."))
        else:
            kept[key] = value
    return kept, tuple(issues)


def with_figures(charge: FusionCharge, own: Mapping[str, float]) -> FusionCharge:
    """The charge with the operator's figures in place of the shipped ones."""
    if not own:
        return charge
    told = {key: value / _FIGURES[key].times for key, value in own.items()}
    knobs = {key: Estimate(told[key], told[key], told[key]) for key in _KNOBS if key in told}
    wall, rate = told.get("wall_carbon"), told.get("heating_rate")
    return replace(
        charge,
        figures={**charge.figures, **knobs},
        prill=told.get("prill", charge.prill),
        wall=charge.wall if wall is None or charge.wall.likely <= 0.0 else _wall(charge.wall, wall),
        heating=charge.heating if rate is None else Heating(charge.pour, rate),
        furnace=None if charge.furnace is None else _furnace(charge.furnace, told),
    )


def _wall(shipped: Wall, likely: float) -> Wall:
    """A wall of the same size with a carbon of its own [g]."""
    grams = likely * shipped.likely / float(redox_data()["wall"]["likely"])
    return Wall(grams, grams, grams)


def _furnace(furnace: Furnace, told: Mapping[str, float]) -> Furnace:
    share = told.get("burner_share")
    ends = (furnace.efficiency, furnace.efficiency_low, furnace.efficiency_high) if share is None else (share,) * 3
    power = told.get("burner_power", furnace.power)
    return Furnace(furnace.pot, furnace.lining, power, ends[0], ends[1], ends[2])


def figure_rows(charge: FusionCharge, own: Mapping[str, float]) -> tuple[FigureRow, ...]:
    """Every figure that may be replaced, as it is used for this charge."""
    return tuple(_rows(charge, own))


def _rows(charge: FusionCharge, own: Mapping[str, float]) -> Iterator[FigureRow]:
    for key, figure in _FIGURES.items():
        row = figure.row()
        if key == "prill" and charge.carrier in losses_data()["fine_prills"]["carriers"]:
            row = losses_data()["fine_prills"]
        likely, low, high = (float(row[name]) * figure.times for name in figure.names)
        shipped, stands = Amount(likely, low, high), str(row["source"])
        value = Amount(own[key]) if key in own else shipped
        source = "the operator's own" if key in own else stands
        yield FigureRow(key, figure.words, figure.unit, value, key in own, source, shipped, stands)
