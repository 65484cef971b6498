"""The rows of the flux table by what they do in the pot."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from fluxlab.design.charge import Fluxes
from fluxlab.design.recipe import Shelf
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.nitre import nitrate_oxygen
from fluxlab.fusion.redox_types import Reducer
from fluxlab.fusion.role import Role, role_of
from fluxlab.materials.flux_types import Component
from fluxlab.materials.oxides import Vec


@dataclass(slots=True)
class RowsInPot:
    """The rows of the flux table by what they do [g]; `heated` (name, formula, mass) takes heat to react."""

    reducers: list[Reducer] = field(default_factory=list)
    nitrates: dict[str, float] = field(default_factory=dict)
    reducible: dict[str, float] = field(default_factory=dict)
    sulphides: dict[str, float] = field(default_factory=dict)
    heated: list[tuple[str, str, float]] = field(default_factory=list)
    iron: float = 0.0
    lead: float = 0.0


def rows_in_pot(fluxes: Fluxes, shelf: Shelf, x: Vec) -> RowsInPot:
    """What the rows, so much of each [g], do in the pot [g]."""
    rows = RowsInPot()
    for row, grams in enumerate(x.tolist()):
        if grams > 0.0:
            for flux, share in parts_of(fluxes, shelf, row):
                _take(rows, role_of(flux), fluxes.components[row].name, grams * share)
    return rows


def parts_of(fluxes: Fluxes, shelf: Shelf, row: int) -> Iterator[tuple[Component, float]]:
    """Plain fluxes in a gram of a row [g/g]; a jar comes by its parts."""
    component = fluxes.components[row]
    for uid, share in (fluxes.yields[row].amounts or {component.uid: 1.0}).items():
        flux = component if uid == component.uid else shelf.flux(uid)
        if flux is not None:
            yield flux, share


@dataclass(frozen=True, slots=True, eq=False)
class Agents:
    """What a gram of each row drives: `reducers` oxygen that it takes as a reducer [g O/g], metallic `iron` [g/g],
    `nitre` nitrate by its oxygen, as that of potassium [g KNO3/g], `sulphide` [g/g]."""

    reducers: Vec
    iron: Vec
    nitre: Vec
    sulphide: Vec


def agents(fluxes: Fluxes, shelf: Shelf) -> Agents:
    """What a gram of each row drives."""
    found = np.zeros((4, len(fluxes.lines)))
    for row in range(len(fluxes.lines)):
        for flux, share in parts_of(fluxes, shelf, row):
            role = role_of(flux)
            power = role.reducer[0] if role.reducer else 0.0
            nitre = nitrate_oxygen(role.nitrates) / oxygen_demand("KNO3")
            drives = (power / LEAD_PER_OXYGEN, role.iron, nitre, sum(role.sulphides.values()))
            found[:, row] += share * np.array(drives)
    return Agents(*found)


def _take(rows: RowsInPot, role: Role, name: str, grams: float) -> None:
    if role.reducer is not None:
        power, low, high = role.reducer
        rows.reducers.append(Reducer(name, grams, power, min(low, power), max(high, power)))
    rows.iron += grams * role.iron
    rows.lead += grams * role.lead
    add(rows.nitrates, role.nitrates, grams)
    add(rows.reducible, role.reducible, grams)
    add(rows.sulphides, role.sulphides, grams)
    text, pure = role.heated
    if text:
        rows.heated.append((name, text, grams * pure))


def add(total: dict[str, float], part: Mapping[str, float], by: float) -> None:
    """Add so many times a part to a total."""
    for name, amount in part.items():
        total[name] = total.get(name, 0.0) + amount * by
