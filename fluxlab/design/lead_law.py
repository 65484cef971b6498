"""The lead that a charge throws down and keeps up, by the same model as the pot, for the rows of the solver."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from fluxlab.design.charge import Fluxes
from fluxlab.design.recipe import Shelf
from fluxlab.design.row_roles import parts_of
from fluxlab.fusion.burning import burning, is_fuel
from fluxlab.fusion.currency import LEAD_PER_OXYGEN, METAL_OXYGEN, lead_of_oxygen
from fluxlab.fusion.demand import demands
from fluxlab.fusion.litharge import SulphideLead, sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import nitrate_oxygen, nitre_efficiency
from fluxlab.fusion.redox import OXYGEN_PER_CARBON
from fluxlab.fusion.redox_types import Wall
from fluxlab.fusion.role import role_of
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import Vec
from fluxlab.ore.feed_types import Feed

UP_TO_IRON = frozenset({"PbO", "PbSO4", "CaSO4", "Sb2O4", "Sb2O3", "NiO", "CoO", "SnO2", "ZnO"})
"""What gives its oxygen with or after litharge: it keeps no lead up."""


def lead_of_feed(feed: Feed, melt: Melt, tables: Tables | None = None) -> float:
    """Lead that the feed itself throws down in this melt; negative: that its oxides keep up [g Pb].

    `tables` hold the operator's own constants of sulphate, and of nitre below.
    """
    return burnt_feed(feed, melt, tables).lead - lead_kept_up(feed.reducible)


def burnt_feed(feed: Feed, melt: Melt, tables: Tables | None = None) -> SulphideLead:
    """Lead that the sulphides of a feed throw down in this melt [g Pb]."""
    figures = tables or shipped_tables()
    fuel = feed.fuel.items() if feed.sulphide > 0.0 else ()
    return sulphide_lead({mineral: grams for mineral, grams in fuel if is_fuel(mineral)}, melt, figures.sulphate)


def lead_kept_up(reducible: Mapping[str, float]) -> float:
    """Lead that oxides [g], by formula, keep up [g Pb]."""
    return lead_of_oxygen(sum(d.oxygen for d in demands(reducible) if d.substance not in UP_TO_IRON))


def lead_thrown_down(mineral: str, burnt: SulphideLead) -> float:
    """Lead that a gram of a sulphide throws down, its sulphur held as it is in a charge [g Pb/g]."""
    if not is_fuel(mineral):
        return 0.0
    each = burning(mineral)
    oxygen = each.oxygen + burnt.held.shares.get(mineral, 0.0) * (each.sulphur + each.more_arsenic)
    return oxygen / formula(mineral).mass * atomic_mass("Pb")


def with_iron(rows: Fluxes, shelf: Shelf) -> Fluxes:
    """The rows with the lead power of the metallic iron that is in them, as the pot counts it."""
    power = rows.power.copy()
    for row in range(len(rows.lines)):
        for flux, share in parts_of(rows, shelf, row):
            iron = role_of(flux).iron
            if iron > 0.0:
                power[row] += share * (lead_of_oxygen(iron * METAL_OXYGEN["Fe"]) - flux.lead_power)
    return replace(rows, power=power) if (power != rows.power).any() else rows


def lead_of_wall(wall: Wall) -> float:
    """Lead that the carbon of a pot wall throws down [g Pb]."""
    return lead_of_oxygen(wall.likely * OXYGEN_PER_CARBON)


def nitrate_rows(rows: Fluxes, shelf: Shelf) -> tuple[Vec, Vec]:
    """Lead power of each row without its nitrates [g Pb/g], and the oxygen that these hold ready [g O/g]."""
    power, oxygen = rows.power.copy(), np.zeros(len(rows.lines))
    for i, (component, made) in enumerate(zip(rows.components, rows.yields, strict=True)):
        for uid, share in (made.amounts or {component.uid: 1.0}).items():
            part = component if uid == component.uid else shelf.flux(uid)
            salts = role_of(part).nitrates if part else {}
            if part and salts:
                power[i] -= share * part.lead_power
                oxygen[i] += share * nitrate_oxygen(salts)
    return power, oxygen


def with_nitre(rows: Fluxes, nitrates: tuple[Vec, Vec], melt: Melt, tables: Tables | None = None) -> Fluxes:
    """The rows with the lead power of their nitrates as it is in this melt."""
    power, oxygen = nitrates
    if not oxygen.any():
        return rows
    works = nitre_efficiency(melt, (tables or shipped_tables()).nitre).value
    return replace(rows, power=power - oxygen * works * LEAD_PER_OXYGEN)
