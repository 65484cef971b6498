"""The order in which a pot gives up its oxygen, and what of it a reducer reaches.

The steps of `demand`, with sulphates that come back as sulphide in their place among them; steps of one rank share what
there is in proportion.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import Demand, Met, demands, oxygen_demand
from fluxlab.fusion.nitre import NITRATES
from fluxlab.fusion.tables import Table
from fluxlab.materials.formulas import atomic_mass, formula

FERRIC = ("Fe2O3", "Fe3O4")
"""Iron oxides that give up oxygen on their way to FeO."""


_ROUNDING = 1e-12


def redox_data() -> dict[str, Any]:
    """The tables of resources/fusion/redox.toml."""
    return resources.toml("fusion/redox.toml")


@cache
def sulphates() -> Mapping[str, str]:
    """The sulphates that a reducer can bring back, by formula, with the sulphide that each becomes."""
    row = redox_data()["sulphates"]
    return MappingProxyType(dict(row["become"]))


@cache
def sulphate_oxygen(sulphate: str, share: float | None = None) -> float:
    """Oxygen that the part of a sulphate gives up which comes back as sulphide [g O per g of sulphate].

    `share` [0..1] is that part, as shipped where it is left out.
    """
    read = formula(sulphate)
    part: float = redox_data()["sulphates"]["share"] if share is None else share
    return part * 4.0 * read.atoms["S"] * atomic_mass("O") / read.mass


def _sulphate_steps(pool: Mapping[str, float], data: Table) -> Iterator[Demand]:
    row = data["sulphates"]
    for sulphate, sulphide in sulphates().items():
        grams = pool.get(sulphate, 0.0)
        if grams > 0.0:
            oxygen = grams * sulphate_oxygen(sulphate, row["share"])
            yield Demand(sulphate, sulphide, grams, oxygen, round(row["rank"]))


def _but(pool: Mapping[str, float], others: Mapping[str, str]) -> dict[str, float]:
    return {substance: grams for substance, grams in pool.items() if substance not in others}


def steps_of(pool: Mapping[str, float], ferrous_first: bool, data: Table | None = None) -> tuple[Demand, ...]:
    """What reducible substances [g] give up, in its order, nitrates aside; iron before litharge where that is asked.

    `data` are the tables of `redox_data`, the operator's own figures in them.
    """
    rows = data or redox_data()
    found = (*demands(_but(pool, sulphates())), *_sulphate_steps(pool, rows))
    arsenate = round(rows["arsenate"]["rank"])
    steps = [replace(d, rank=arsenate) if d.substance == "As2O5" else d for d in found if d.substance not in NITRATES]
    steps.sort(key=lambda d: d.rank)
    if ferrous_first:
        litharge = next((d.rank for d in steps if d.substance == "PbO"), 4)
        steps.sort(key=lambda d: litharge - 0.5 if d.substance in FERRIC and d.rank > litharge else d.rank)
    return tuple(steps)


def spend_in_order(oxygen: float, order: tuple[Demand, ...]) -> tuple[Met, ...]:
    """How far the oxygen [g O] meets each step; steps of one rank share it in proportion."""
    left, met, at = max(oxygen, 0.0), [], 0
    while at < len(order):
        end = at
        while end < len(order) and order[end].rank == order[at].rank:
            end += 1
        asked = sum(d.oxygen for d in order[at:end])
        part = min(left / asked, 1.0) if asked > 0.0 else 0.0
        met += [Met(d, d.oxygen * part) for d in order[at:end]]
        left = max(left - asked * part, 0.0)
        at = end
    return tuple(met)


@cache
def _always() -> frozenset[str]:
    return frozenset(redox_data()["wanted"]["always"])


def wanted_oxygen(pool: Mapping[str, float], wanted_lead: float | None, data: Table | None = None) -> float:
    """Oxygen that reducers are wanted for, nitre left aside [g O]."""
    share: float = (data or redox_data())["sulphates"]["share"]
    total = sum(
        g * (sulphate_oxygen(s, share) if s in sulphates() else oxygen_demand(s))
        for s, g in pool.items()
        if s in _always() and s not in NITRATES
    )
    if wanted_lead is None:
        return total
    litharge = pool["PbO"] * oxygen_demand("PbO")
    return total - litharge + min(litharge, max(wanted_lead, 0.0) / LEAD_PER_OXYGEN)


def lead_met(met: tuple[Met, ...]) -> float:
    """Lead that comes down out of litharge [g Pb]."""
    return sum(m.oxygen for m in met if m.demand.substance == "PbO") * LEAD_PER_OXYGEN


def sulphur_brought_back(met: tuple[Met, ...]) -> float:
    """Sulphur of sulphates that a reducer turns into sulphide [g S]: four oxygens go with each."""
    return sulphur_in(sum(m.oxygen for m in met if m.demand.substance in sulphates()))


def sulphur_in(oxygen: float) -> float:
    """Sulphur of the sulphates that so much oxygen [g O] comes from [g S]."""
    return oxygen * atomic_mass("S") / (4.0 * atomic_mass("O"))


def ferric_share_left(
    met: tuple[Met, ...], pool: Mapping[str, float], iron_oxide: float | None, surplus: float
) -> float:
    """Share of the iron that stays Fe2O3 [0..1]: what there was, less what was reduced, and what nitre makes anew."""
    there = sum(pool.get(s, 0.0) * oxygen_demand(s) for s in FERRIC)
    most = (iron_oxide or 0.0) * oxygen_demand("Fe2O3")
    most = max(most, there)
    if most <= 0.0:
        return 1.0
    left = max(there - sum(m.oxygen for m in met if m.demand.substance in FERRIC), 0.0) + surplus
    return 1.0 if left >= (1.0 - _ROUNDING) * most else left / most
