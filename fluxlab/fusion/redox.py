"""The balance of reducers and oxidisers in a pot, in one currency.

Supply: flour, charcoal and tartar as the lead that they were found to throw down, sulphides as `litharge` has it, iron
as FeO, the graphite wall as carbon. Demand: what gives up oxygen, in the order of `demand`, nitre by its efficiency in
the slag. Sulphide and carbon share in proportion the oxygen that sulphide can reach; what of the sulphide is not
reached is left for the matte. Sulphates come back as sulphide as far as a reducer reaches them in its turn.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import sqrt
from types import MappingProxyType

from fluxlab.fusion.burning import burning
from fluxlab.fusion.currency import LEAD_PER_OXYGEN, METAL_OXYGEN
from fluxlab.fusion.demand import Demand, Met, oxygen_demand
from fluxlab.fusion.litharge import SulphideLead, sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NITRATES, Efficiency, nitrate_oxygen, nitre_efficiency
from fluxlab.fusion.redox_order import (
    ferric_share_left,
    lead_met,
    redox_data,
    spend_in_order,
    steps_of,
    sulphur_brought_back,
    wanted_oxygen,
)
from fluxlab.fusion.redox_types import Redox, Reducer, Wall
from fluxlab.fusion.redox_words import redox_issues
from fluxlab.fusion.tables import Table, Tables, shipped_tables
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.materials.formulas import atomic_mass, formula

OXYGEN_PER_CARBON = 2.0 * atomic_mass("O") / atomic_mass("C")
"""Oxygen that carbon takes on its way to CO2 [g/g]."""
_SPECK = 1e-9
"""Oxygen so little that nothing is wanted [g]."""
NOT_BY_IRON = frozenset({"ZnO"})
"""What metallic iron leaves alone."""


@dataclass(frozen=True, slots=True)
class _Side:
    """Oxygen taken and given [g O] at one end of the ranges."""

    carbon: float
    wall: float
    iron: float
    sulphide: float
    nitre: float


def redox_balance(
    sulphides: Mapping[str, float],
    reducible: Mapping[str, float],
    melt: Melt,
    reducers: Iterable[Reducer] = (),
    nitrates: Mapping[str, float] | None = None,
    iron: float = 0.0,
    wall: Wall | None = None,
    wanted_lead: float | None = None,
    ferrous_first: bool = False,
    iron_oxide: float | None = None,
    tables: Tables | None = None,
) -> Redox:
    """Supply and demand of oxygen, the lead that comes down, the state of the iron.

    `sulphides` and `reducible` are masses by formula [g], litharge and ore oxides among the latter; `nitrates` [g] of
    pure salt; `iron` [g] of metal; `melt` counts every alkali of the charge. With `wanted_lead` [g Pb] litharge counts
    as demand only so far. `ferrous_first` takes iron to FeO before litharge is reduced, as it goes where flour is mixed
    with litharge (Beringer 1904, p. 91: ferric oxide keeps up rather more than its own weight of lead).
    `iron_oxide` [g] is all iron of the melt as Fe2O3, where it is more than the ferric oxide of `reducible`. `tables`
    hold the operator's own figures.
    """
    figures = tables or shipped_tables()
    salts, pot = nitrates or {}, wall or Wall()
    agents = tuple(reducers)
    works = nitre_efficiency(melt, figures.nitre)
    burning_all = sulphide_lead(sulphides, melt, figures.sulphate)
    ready = nitrate_oxygen(salts)
    likely = _Side(
        sum(a.oxygen for a in agents),
        pot.likely * OXYGEN_PER_CARBON,
        iron * METAL_OXYGEN["Fe"],
        burning_all.lead / LEAD_PER_OXYGEN,
        ready * works.value,
    )
    pool, own = {**reducible, "PbO": _litharge(reducible)}, _own_litharge(sulphides)
    asked, there = _reach(likely.sulphide, pool, own, figures.redox)
    burnt = min((likely.nitre + there) / (asked + likely.carbon), 1.0) if asked > 0.0 else 1.0
    pool["PbO"] += own * burnt
    iron_first = ferrous_first if figures.ferrous_first is None else figures.ferrous_first
    order = steps_of(pool, iron_first, figures.redox)
    supply = likely.carbon + likely.wall + likely.iron + likely.sulphide * burnt
    spread = _spread(agents, pot, burning_all, works, ready, burnt)
    low, high = max(supply - spread, 0.0), supply + spread
    spare = _spare_iron(supply - likely.nitre, likely.iron, order)
    met, *ends = (spend_in_order(taken - likely.nitre - spare, order) for taken in (supply, low, high))
    lead, lead_low, lead_high = (lead_met(each) for each in (met, *ends))
    nitre_met = _nitre_met(salts, min(supply, likely.nitre), works)
    demand = wanted_oxygen(pool, wanted_lead, figures.redox) + likely.nitre
    surplus = max(likely.nitre - supply, 0.0)
    redox = Redox(
        supply=supply,
        supply_low=low,
        supply_high=high,
        demand=demand,
        budget=(supply - spare) / demand if demand > _SPECK else None,
        given=likely.nitre,
        escapes=ready - likely.nitre,
        surplus=surplus,
        unspent=max(supply - likely.nitre - spare - sum(m.oxygen for m in met), 0.0),
        iron_left=spare / METAL_OXYGEN["Fe"],
        met=(*nitre_met, *met),
        met_low=ends[0],
        met_high=ends[1],
        by_source=MappingProxyType(_sources(agents, likely, burnt)),
        lead=lead,
        lead_low=lead_low,
        lead_high=lead_high,
        litharge=pool["PbO"] * oxygen_demand("PbO") * LEAD_PER_OXYGEN,
        ferric=ferric_share_left(met, pool, iron_oxide, surplus),
        burnt=MappingProxyType({m: g * burnt for m, g in sulphides.items()}),
        unburnt=MappingProxyType({m: g * (1.0 - burnt) for m, g in sulphides.items()}),
        brought_back=sulphur_brought_back(met),
        reach=likely.nitre + there,
        sulphides=burning_all,
        efficiency=works,
        issues=(),
    )
    return replace(redox, issues=redox_issues(redox))


def wall_of(material: str, brim: float) -> Wall:
    """Carbon that a pot of this material and brimful volume [cm3] gives to one melt [g]."""
    if material != "clay-graphite":
        return Wall()
    row = redox_data()["wall"]
    scale = (max(brim, 0.0) / row["per_volume"]) ** (2.0 / 3.0)
    return Wall(row["low"] * scale, row["likely"] * scale, row["high"] * scale)


def _litharge(reducible: Mapping[str, float]) -> float:
    """Litharge of the charge, that of red lead with it [g PbO]."""
    red_lead = 3.0 * reducible.get("Pb3O4", 0.0) / formula("Pb3O4").mass
    return reducible.get("PbO", 0.0) + red_lead * formula("PbO").mass


def _own_litharge(sulphides: Mapping[str, float]) -> float:
    """Litharge that sulphides become when they burn [g PbO]."""
    return sum(g / formula(m).mass * burning(m).lead for m, g in sulphides.items()) * formula("PbO").mass


def _reach(sulphide: float, pool: Mapping[str, float], own: float, data: Table) -> tuple[float, float]:
    """Oxygen that the sulphide asks of others, and that the oxides of the charge hold ready for it [g O].

    The sulphide's own lead, which turns to litharge, is no help to it.
    """
    readiness: Mapping[str, float] = data["burns"]
    ready = sum(g * oxygen_demand(s) * readiness.get(s, 0.0) for s, g in pool.items() if s not in NITRATES)
    return max(sulphide - own * oxygen_demand("PbO"), 0.0), ready


def _spare_iron(net: float, iron: float, order: tuple[Demand, ...]) -> float:
    """Oxygen that metallic iron could still take [g O]: it acts last and leaves zinc oxide alone."""
    before = net - iron
    room = max(sum(d.oxygen for d in order if d.substance not in NOT_BY_IRON) - before, 0.0)
    return max(iron - room, 0.0)


def _spread(
    agents: tuple[Reducer, ...], wall: Wall, sulphides: SulphideLead, works: Efficiency, ready: float, burnt: float
) -> float:
    """Likely miss of supply less nitre [g O], nine in ten."""
    parts = [a.grams * (a.high - a.low) / 2.0 / LEAD_PER_OXYGEN for a in agents]
    parts.append((wall.high - wall.low) / 2.0 * OXYGEN_PER_CARBON)
    parts.append(NINE_IN_TEN * sulphides.spread * burnt / LEAD_PER_OXYGEN)
    parts.append(NINE_IN_TEN * ready * (works.high - works.low) / 2.0)
    return sqrt(sum(part**2 for part in parts))


def _sources(agents: tuple[Reducer, ...], side: _Side, burnt: float) -> dict[str, float]:
    found: dict[str, float] = {}
    for agent in agents:
        found[agent.name] = found.get(agent.name, 0.0) + agent.oxygen
    rest = {"sulphides": side.sulphide * burnt, "metallic iron": side.iron, "pot wall": side.wall}
    return found | {name: oxygen for name, oxygen in rest.items() if oxygen > 0.0}


def _nitre_met(salts: Mapping[str, float], oxygen: float, works: Efficiency) -> tuple[Met, ...]:
    """How much of what nitre gives is taken up, salt by salt [g O]."""
    given = {salt: g * oxygen_demand(salt) * works.value for salt, g in salts.items() if g > 0.0}
    total = sum(given.values())
    part = min(oxygen / total, 1.0) if total > 0.0 else 0.0
    return tuple(
        Met(Demand(salt, f"{NITRATES[salt]}2O and N2", salts[salt], each, 1), each * part)
        for salt, each in given.items()
    )
