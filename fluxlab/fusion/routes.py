"""The four routes by which sulphur and metal are handled, and the targets that each starts with."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Literal

from fluxlab import resources
from fluxlab.fusion.demand import IronState
from fluxlab.fusion.sulphur import soda_for_sulphur
from fluxlab.slag.degree import DegreeConvention

RouteName = Literal["roast and melt", "nitre", "iron", "lead collection"]
Kind = Literal["must", "wish"]
StateName = Literal["oxidising", "neutral", "reducing", "reducing with iron"]
"""The states of a pot, from the least reducing up."""

_BASE: RouteName = "roast and melt"


@dataclass(frozen=True, slots=True)
class RouteTarget:
    """A band that a route starts with, in the unit of its key; None leaves an end open.

    Degrees, shares and ratios stand as such [-], caps, fluorspar and fills in [%], the cover in [mm], masses in [g].
    The ends of an `auto` target depend on the charge: see `automatic_ends`.
    """

    key: str
    lo: float | None = None
    hi: float | None = None
    lo_kind: Kind = "must"
    hi_kind: Kind = "must"
    on: bool = True
    auto: bool = False
    convention: DegreeConvention | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Route:
    """One route: what its iron becomes, in which pots it is run, the fluxes that the solver may choose, its targets.

    `driver` is the reducer or oxidiser that drives it. `pots` lists the pot materials that stand it, the best first.
    `budget` [-] is the band of oxygen taken over oxygen wanted, where metal is wanted from oxides; `states` are those
    of the pot that the route is content with.
    `ferrous_first` says that iron is taken down to FeO before litharge, `collects` that a lead button gathers the
    silver. `cautions` are the rules that the route brings with it, `pot_source` where these are from.
    """

    name: RouteName
    iron: IronState
    pots: tuple[str, ...]
    free: tuple[str, ...]
    driver: str
    driver_is: Literal["reducer", "oxidiser"]
    words: str
    source: str
    budget: tuple[float, float]
    states: tuple[StateName, ...]
    ferrous_first: bool
    collects: bool
    cautions: tuple[str, ...]
    pot_source: str
    targets: tuple[RouteTarget, ...]


@dataclass(frozen=True, slots=True)
class ChargeFacts:
    """What automatic targets ask of a charge: its mass and its sulphur [g], and its holding-down share [g/g].

    `slagged_share` is earthy gangue, zinc oxide and iron oxides together over the charge. `iron` or `nitre` [g] in all
    would keep its sulphur out of the matte.
    """

    charge: float
    sulphur: float
    slagged_share: float
    iron: float = 0.0
    nitre: float = 0.0


@cache
def routes() -> Mapping[RouteName, Route]:
    """The routes by name, each with its own targets and those that it inherits from roast and melt."""
    rows: dict[RouteName, dict[str, Any]] = {row["name"]: row for row in resources.toml("routes.toml")["route"]}
    base = _targets(rows[_BASE])
    return MappingProxyType({name: _route(row, base) for name, row in rows.items()})


def automatic_ends(key: str, facts: ChargeFacts) -> tuple[float | None, float | None]:
    """Lower and upper end of an automatic target for this charge, in the unit of the key.

    Flux to ore [g/g], soda, iron or nitre for sulphur, litharge left in the slag, lead button [g]. Raises KeyError for
    another key.
    """
    rule = resources.toml("routes.toml")["automatic"][key]
    if key == "flux_to_ore":
        return flux_to_ore_wish(facts.slagged_share), None
    if key == "soda_for_sulphur":
        return rule["factor"] * soda_for_sulphur(facts.sulphur), None
    if key in ("iron_for_sulphur", "nitre_for_sulphur"):
        wanted = facts.iron if key == "iron_for_sulphur" else facts.nitre
        return wanted, rule["most"] * wanted
    scale = facts.charge / rule["per_charge"]
    most = rule.get("most")
    return rule["grams"] * scale, None if most is None else most * scale


def flux_to_ore_wish(slagged_share: float) -> float:
    """Flux to ore that the workshop rule asks for [g/g], from the share of gangue, zinc and iron oxides [g/g].

    Common practice, no source: one part to a clean concentrate, two to a dirty one. The line between is judgement.
    """
    rule = resources.toml("routes.toml")["automatic"]["flux_to_ore"]
    way = (slagged_share - rule["low_share"]) / (rule["high_share"] - rule["low_share"])
    ratio: float = rule["low_ratio"] + min(max(way, 0.0), 1.0) * (rule["high_ratio"] - rule["low_ratio"])
    return ratio


def _route(row: dict[str, Any], base: dict[str, RouteTarget]) -> Route:
    own = _targets(row)
    titles = ("name", "iron", "driver", "driver_is", "words", "source", "ferrous_first", "collects")
    plain = {title: row[title] for title in (*titles, "pot_source")}
    low, high = row["budget"]
    return Route(
        **plain,
        pots=tuple(row["pots"]),
        free=tuple(row["free"]),
        cautions=tuple(row["cautions"]),
        budget=(low, high),
        states=tuple(row["states"]),
        targets=tuple((base | own).values()),
    )


def _targets(row: dict[str, Any]) -> dict[str, RouteTarget]:
    return {target["key"]: RouteTarget(**target) for target in row["target"]}
