"""A solved recipe as the charge of a pot: every row by what it does there."""

from math import pi, sqrt

from fluxlab.design.balance import Balance
from fluxlab.design.pot_oxygen import elements_of, metal_wanted, native_metals, pot_oxygen, wanted_lead
from fluxlab.design.pour_volume import pour_density
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Amount, FillReport
from fluxlab.fusion.burning import FUEL
from fluxlab.fusion.gas import GasRow, gas_rows, steam
from fluxlab.fusion.gas_timing import FoamSlag
from fluxlab.fusion.heat import Furnace, default_furnace, heat_data
from fluxlab.fusion.losses import SlagColumn
from fluxlab.fusion.ore_gas import row as gas_row
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.materials.formulas import formula
from fluxlab.ore.feed_types import Feed
from fluxlab.vessel.vessel_types import Crucible

_NOT_METAL = FUEL | {"O", "F", "Cl", "Br", "I"}
_METAL_DENSITY = 9.2
"""Density of the metal where none is known [g/cm3]: silver near its melting point, CRC Handbook."""


def fusion_charge(work: Work, found: Balance, fill: FillReport | None, viscosity: Amount | None = None) -> FusionCharge:
    """The charge of the pot [g]; `viscosity` [Pa s] of the slag at the pour, None where it is not known."""
    recipe, feed = work.recipe, found.feed
    crucible = work.shelf.crucible(recipe.crucible)
    there = pot_oxygen(work, feed, found.fluxes, found.x, found.setting.pot)
    rows = there.rows
    raw = feed.roast is None and feed.stage != "calcine"
    return FusionCharge(
        route=recipe.route,
        charge=feed.charge,
        elements=elements_of(feed, found.fluxes, found.x),
        slag=there.slag,
        sulphides=there.sulphides,
        sulphate_sulphur=there.sulphate_sulphur,
        sulphide_doubt=_doubt(feed),
        reducible=there.reducible,
        flux_lead=rows.lead,
        reducers=tuple(rows.reducers),
        nitrates=rows.nitrates,
        iron=rows.iron,
        native=native_metals(feed, found.fluxes, found.x),
        wall=there.wall,
        wanted_lead=wanted_lead(found.targets),
        metal_wanted=metal_wanted(found.targets),
        step=max(work.shelf.balance_step, 0.0),
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


def _doubt(feed: Feed) -> float:
    """Sulphur of sulphides [g S] that the roast may have left beyond the likely one; none after a perfect roast."""
    figures = feed.roast.figures if feed.roast is not None else None
    if figures is None or figures.kind == "perfect" or figures.state.conversion == ():
        return 0.0
    left = figures.ranges.sulphide_sulphur
    return max(left.high - left.value, 0.0) / 100.0 * feed.charge


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
