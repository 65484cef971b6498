"""A solved recipe as the charge of a pot: every row by what it does there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import pi, sqrt

from fluxlab.design.balance import Balance
from fluxlab.design.pour_volume import pour_density
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Amount, FillReport
from fluxlab.fusion.burning import FUEL, is_fuel
from fluxlab.fusion.deportment import priors
from fluxlab.fusion.gas import GasRow, gas_rows, steam
from fluxlab.fusion.gas_timing import FoamSlag
from fluxlab.fusion.heat import Furnace, default_furnace, heat_data
from fluxlab.fusion.losses import SlagColumn
from fluxlab.fusion.ore_gas import row as gas_row
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.fusion.redox import wall_of
from fluxlab.fusion.redox_types import Reducer, Wall
from fluxlab.fusion.role import Role, metals_of, role_of
from fluxlab.materials.flux_types import Component
from fluxlab.materials.formulas import formula
from fluxlab.vessel.vessel_types import Crucible

_NOT_METAL = FUEL | {"O", "F", "Cl", "Br", "I"}
_METAL_DENSITY = 9.2
"""Density of the metal where none is known [g/cm3]: silver near its melting point, CRC Handbook."""


@dataclass(slots=True)
class _Rows:
    """The rows of the flux table by what they do [g]."""

    reducers: list[Reducer] = field(default_factory=list)
    nitrates: dict[str, float] = field(default_factory=dict)
    reducible: dict[str, float] = field(default_factory=dict)
    sulphides: dict[str, float] = field(default_factory=dict)
    heated: list[tuple[str, str, float]] = field(default_factory=list)
    iron: float = 0.0
    lead: float = 0.0


def fusion_charge(work: Work, found: Balance, fill: FillReport | None, viscosity: Amount | None = None) -> FusionCharge:
    """The charge of the pot [g]; `viscosity` [Pa s] of the slag at the pour, None where it is not known."""
    recipe, feed = work.recipe, found.feed
    crucible = work.shelf.crucible(recipe.crucible)
    rows = _rows(work, found)
    sulphides = {m: g for m, g in feed.fuel.items() if is_fuel(m)}
    of_sulphides = sum(g * formula(m).mass_fractions.get("S", 0.0) for m, g in sulphides.items())
    slag = feed.oxides + found.fluxes.Y @ found.x
    elements = {s: g for s, g in feed.elements.items() if s in priors()}
    _add(elements, metals_of(found.fluxes.Y @ found.x), 1.0)
    _add(sulphides, rows.sulphides, 1.0)
    reducible = dict(feed.reducible)
    _add(reducible, rows.reducible, 1.0)
    raw = feed.roast is None and feed.stage != "calcine"
    return FusionCharge(
        route=recipe.route,
        charge=feed.charge,
        elements=elements,
        slag=slag,
        sulphides=sulphides,
        sulphate_sulphur=max(feed.sulphur - of_sulphides, 0.0),
        reducible=reducible,
        flux_lead=rows.lead,
        reducers=tuple(rows.reducers),
        nitrates=rows.nitrates,
        iron=rows.iron,
        native=_native(found),
        wall=wall_of(crucible.material, found.setting.pot.brim) if crucible and found.setting.pot else Wall(),
        wanted_lead=wanted_lead(found),
        carrier=recipe.ore.silver_carrier,
        flux_gases=_gases(found, raw, recipe.pour_temperature),
        minerals={m.name: (m.formula, m.grams) for m in feed.minerals} if raw else {},
        fluxes=tuple(rows.heated),
        water=feed.water,
        pour=recipe.pour_temperature,
        hold=max(recipe.hold, 0.0),
        feeds=max(recipe.feeds, 1),
        column=_column(found, fill, viscosity),
        foam=_foam(found, fill, viscosity),
        furnace=_furnace(crucible, found),
    )


def wanted_lead(found: Balance) -> float | None:
    """The lead button that the recipe aims at: the middle of its band [g Pb]; None where none is aimed at."""
    target = next((t for t in found.targets if t.key == "lead_button" and t.on), None)
    if target is None:
        return None
    ends = [end for end in (target.lo, target.hi) if end is not None]
    return max(sum(ends) / len(ends), 0.0) if ends else None


def _rows(work: Work, found: Balance) -> _Rows:
    rows = _Rows()
    for flux, name, grams in _plain(work, found):
        _take(rows, role_of(flux), name, grams)
    return rows


def _plain(work: Work, found: Balance) -> Iterator[tuple[Component, str, float]]:
    """Plain fluxes that are weighed, with the name of their row and their mass [g]; a jar comes by its parts."""
    fluxes = found.fluxes
    for component, made, grams in zip(fluxes.components, fluxes.yields, found.x.tolist(), strict=True):
        if grams <= 0.0:
            continue
        for uid, share in (made.amounts or {component.uid: 1.0}).items():
            flux = component if uid == component.uid else work.shelf.flux(uid)
            if flux is not None:
                yield flux, component.name, grams * share


def _take(rows: _Rows, role: Role, name: str, grams: float) -> None:
    if role.reducer is not None:
        power, low, high = role.reducer
        rows.reducers.append(Reducer(name, grams, power, min(low, power), max(high, power)))
    rows.iron += grams * role.iron
    rows.lead += grams * role.lead
    _add(rows.nitrates, role.nitrates, grams)
    _add(rows.reducible, role.reducible, grams)
    _add(rows.sulphides, role.sulphides, grams)
    text, pure = role.heated
    if text:
        rows.heated.append((name, text, grams * pure))


def _native(found: Balance) -> dict[str, float]:
    """Metals that come as metal, in the ore or in a flux, by symbol [g]."""
    native: dict[str, float] = {}
    for text, grams in found.feed.fuel.items():
        atoms = formula(text)
        if not _NOT_METAL & set(atoms.atoms):
            _add(native, atoms.mass_fractions, grams)
    for made, grams in zip(found.fluxes.yields, found.x.tolist(), strict=True):
        _add(native, made.metal, grams)
    return native


def _gases(found: Balance, raw: bool, pour: float) -> tuple[GasRow, ...]:
    """Gases of the fluxes, steam, and gases of a feed whose minerals are no longer what they were [g, mol, L]."""
    rows, feed = found.fluxes, found.feed
    each = zip(rows.components, found.x.tolist(), rows.yields, strict=True)
    own = gas_rows([(c.name, grams, made.gases) for c, grams, made in each if grams > 0.0], pour)
    if feed.water > 0.0:
        own = (*own, steam(f"damp {feed.stage}", feed.water, pour))
    if raw:
        return own
    return (*own, *(gas_row(feed.stage, s, g / formula(s).mass, pour) for s, g in feed.gases.items() if g > 0.0))


def _column(found: Balance, fill: FillReport | None, viscosity: Amount | None) -> SlagColumn | None:
    slag = pour_density(found.n, found.setting.temperature)
    if fill is None or viscosity is None or slag is None or viscosity.value <= 0.0:
        return None
    low, high = _ends(viscosity)
    return SlagColumn(
        viscosity.value, low, high, slag.value, max(fill.melt_level - fill.metal_level, 0.0), _metal_density(found)
    )


def _foam(found: Balance, fill: FillReport | None, viscosity: Amount | None) -> FoamSlag | None:
    slag, pot = pour_density(found.n, found.setting.temperature), found.setting.pot
    if fill is None or viscosity is None or slag is None or pot is None or viscosity.value <= 0.0:
        return None
    return FoamSlag(
        viscosity.value, slag.value, 2.0 * pot.radius(min(fill.melt_level, pot.depth)), max(fill.melt_from_rim, 0.0)
    )


def _ends(viscosity: Amount) -> tuple[float, float]:
    low = viscosity.value if viscosity.low is None else viscosity.low
    high = viscosity.value if viscosity.high is None else viscosity.high
    return max(min(low, viscosity.value), 1e-6), max(high, viscosity.value)


def _metal_density(found: Balance) -> float:
    """Density of the liquid silver, gold and wanted lead [g/cm3]."""
    mass = found.feed.silver + found.feed.gold + found.button
    volume = found.setting.metal_volume
    return mass / volume if volume > 0.0 and mass > 0.0 else _METAL_DENSITY


def _furnace(crucible: Crucible | None, found: Balance) -> Furnace | None:
    if crucible is None or found.setting.pot is None:
        return None
    return default_furnace(pot_mass(crucible, found.setting.pot.brim))


def pot_mass(crucible: Crucible, brim: float) -> float:
    """Mass of a pot by its brimful [cm3], wall and base [kg]: the wall goes round a cylinder of the same brimful."""
    depth = max(crucible.depth, 1.0)
    radius = sqrt(max(brim, 0.0) * 1e3 / (pi * depth))
    outer = pi * (radius + max(crucible.wall, 0.0)) ** 2 * (depth + max(crucible.base, 0.0)) * 1e-3
    density: float = heat_data()["body"]["density"]
    return max(outer - brim, 0.0) * density * 1e-3


def _add(total: dict[str, float], part: Mapping[str, float], by: float) -> None:
    for name, amount in part.items():
        total[name] = total.get(name, 0.0) + amount * by
