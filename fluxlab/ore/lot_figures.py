"""The figures of a lot that are memory or judgement, and the operator's own in their place."""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.issue import Issue
from fluxlab.materials.minerals import minerals
from fluxlab.ore.lot_types import GradeErrors, LotFigures
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.own_figures import OWN, Figures, OreFigure, sensible
from fluxlab.ore.pot import UNKNOWN_DENSITY

WHERE = "ore.lot.figures"
_ERRORS = ("head", "concentrate", "tail", "weighing")
_USUAL = "memory and judgement"


def lot_figures(ore: OreType) -> Figures:
    """Every figure of an ore's lot that may be replaced, as shipped, by key."""
    return _figures(ore.silver_carrier, ore.gold_carrier)


@lru_cache(maxsize=16)
def _figures(silver: str, gold: str) -> Figures:
    carriers = {"silver": silver, "gold": gold}
    rows = resources.toml("lot.toml")
    return MappingProxyType({key: _figure(key, row, carriers) for key, row in rows.items()})


def _figure(key: str, row: Mapping[str, Any], carriers: Mapping[str, str]) -> OreFigure:
    if "metal" in row:
        value, source = _density(carriers[row["metal"]])
    else:
        value, source = row["value"], row["source"]
    return OreFigure(key, row["group"], row["words"], row["unit"], value, row["least"], row["most"], source)


def _density(carrier: str) -> tuple[float, str]:
    """Density of a carrier [g/cm3] and its source; one that is not known counts as a sulphide."""
    mineral = minerals().get(carrier)
    if mineral is None or mineral.density is None:
        return UNKNOWN_DENSITY, "judgement: a mineral whose density is not known"
    return mineral.density, f"{carrier}, {mineral.density_source}"


def own_of(ore: OreType) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures of an ore's lot that make sense, by key, and what is said of the others."""
    return sensible(lot_figures(ore), dict(() if ore.lot is None else ore.lot.figures), WHERE)


@lru_cache(maxsize=16)
def figures_of(ore: OreType) -> tuple[LotFigures, tuple[Issue, ...]]:
    """The figures that count for an ore's lot, the operator's own before the shipped ones, and what was refused."""
    own, issues = own_of(ore)
    values = {key: own.get(key, figure.shipped) for key, figure in lot_figures(ore).items()}
    mine = sum(key in own for key in _ERRORS)
    source = _USUAL if not mine else OWN if mine == len(_ERRORS) else f"own in part, else {_USUAL}"
    errors = GradeErrors(**{key: values.pop(key) for key in _ERRORS}, source=source)
    return LotFigures(errors=errors, **values), issues
