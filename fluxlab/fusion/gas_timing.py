"""When the gas of a charge comes, how high it foams, and how much time it needs.

Each gas comes evenly over its window of temperature while the charge is heated at an even rate; what would come later
than the pour comes before it. Foam stands as high as the speed of the gas through the slag times the foam index.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import exp, inf, pi
from typing import Any

from fluxlab import resources
from fluxlab.fusion.foam import feeds_for_foam, foam_index
from fluxlab.fusion.gas import ROOM, GasRow, gas_volume
from fluxlab.fusion.gas_words import timing_issues
from fluxlab.fusion.heating import Heating
from fluxlab.fusion.tables import Table
from fluxlab.issue import Issue
from fluxlab.vessel.feeding import MOST_STAGES

_STEPS = 30
_NARROW = 25.0
_GAS = 8.314462618e-3


@dataclass(frozen=True, slots=True)
class FoamSlag:
    """The slag that foams: viscosity at the pour [Pa s] and its activation energy [kJ/mol], density [g/cm3].

    Without an activation energy the half-melted charge, rich in soda and borax, counts as no stiffer than the finished
    slag (judgement).

    `bore` [mm] is the inside diameter where the slag stands, `free` [mm] the height above it; `tension` [N/m],
    `bubble` [mm].
    """

    viscosity: float
    density: float
    bore: float
    free: float
    activation: float = 0.0
    tension: float = 0.28
    bubble: float = 5.0


@dataclass(frozen=True, slots=True)
class GasStep:
    """Gas of one step of the heat: temperatures [degC], hot litres [L], foam height [mm], litres of each source [L]."""

    low: float
    high: float
    litres: float
    foam: float
    by_source: Mapping[str, float]

    @property
    def source(self) -> str:
        """The source of most of it."""
        return max(self.by_source, key=lambda name: self.by_source[name], default="")


@dataclass(frozen=True, slots=True)
class GasTiming:
    """When gas comes and what it does.

    `steps` from cold to the pour, `peak` the one that foams highest (None before the charge is liquid). `time_planned`
    [min] is how long gas comes through the liquid charge as heated, `time_needed` [min] how long at the fastest even
    rate that keeps the foam in. `tried` says that the index was measured for such a slag; `stage` that the charge foams
    over as heated, `feeds` how many equal feeds would keep the foam in (0 if no sensible number does).
    """

    steps: tuple[GasStep, ...]
    peak: GasStep | None
    time_needed: float
    time_planned: float
    tried: bool
    stage: bool
    feeds: int
    issues: tuple[Issue, ...]


def foam_data() -> dict[str, Any]:
    """The tables of resources/fusion/foam.toml."""
    return resources.toml("fusion/foam.toml")


def gas_timing(
    rows: Iterable[GasRow], heating: Heating, slag: FoamSlag | None = None, data: Table | None = None, feeds: int = 1
) -> GasTiming:
    """When the gases of one of so many equal `feeds` come and how high they foam; without a slag only when."""
    table = data or foam_data()
    releases = [_window(row, heating.pour) for row in rows if row.moles > 0.0]
    edges = _edges(heating.pour)
    found = [_step(low, high, releases, heating, slag, table) for low, high in pairwise(edges)]
    steps = tuple(step for step in found if step.litres > 0.0)
    planned = sum(_liquid(step, heating) for step in steps) / heating.rate.value
    liquid = [step for step in steps if step.foam > 0.0]
    peak = max(liquid, key=lambda step: step.foam, default=None)
    stiff = slag is not None and slag.viscosity > table["slag"]["tried_to"]
    foam, free = peak.foam if peak else 0.0, slag.free if slag is not None else inf
    over, wanted = foam > free, feeds_for_foam(foam, free, feeds, MOST_STAGES)
    needed = planned * foam / free if free > 0.0 else (inf if foam > 0.0 else 0.0)
    return GasTiming(
        steps=steps,
        peak=peak,
        time_needed=needed,
        time_planned=planned,
        tried=not stiff,
        stage=over,
        feeds=wanted,
        issues=timing_issues(peak.source, peak.low, heating.rate.value, free / foam, wanted) if peak and over else (),
    )


@dataclass(frozen=True, slots=True)
class _Release:
    source: str
    moles: float
    low: float
    high: float


def _window(row: GasRow, pour: float) -> _Release:
    """The window of a gas [degC]; one without a window comes all the way, and none comes after the pour."""
    low = 100.0 if row.low is None else row.low
    high = pour if row.high is None else row.high
    low = min(low, pour - _NARROW)
    return _Release(row.source, row.moles, low, max(min(high, pour), low + _NARROW))


def _edges(pour: float) -> Sequence[float]:
    rise = max(pour - ROOM, 1.0)
    return [ROOM + rise * i / _STEPS for i in range(_STEPS + 1)]


def _step(
    low: float, high: float, releases: Sequence[_Release], heating: Heating, slag: FoamSlag | None, data: Table
) -> GasStep:
    """Gas of one step, and how high it foams where the charge is liquid."""
    middle = (low + high) / 2.0
    by_source: dict[str, float] = {}
    for gas in releases:
        part = max(min(high, gas.high) - max(low, gas.low), 0.0) / (gas.high - gas.low)
        if part > 0.0:
            by_source[gas.source] = by_source.get(gas.source, 0.0) + gas.moles * part
    each = {name: gas_volume(moles, middle) for name, moles in by_source.items()}
    litres = sum(each.values())
    quiet = GasStep(low, high, litres, 0.0, each)
    liquid = _liquid(quiet, heating) / (high - low)
    if slag is None or liquid <= 0.0 or litres <= 0.0:
        return quiet
    index = _index(slag, middle, heating.pour, data)
    seconds = (high - low) / heating.rate.value * 60.0
    speed = litres * 1e-3 / seconds / (pi * slag.bore**2 / 4.0 * 1e-6) if slag.bore > 0.0 else inf
    return replace(quiet, foam=speed * index * liquid * 1e3)


def _liquid(step: GasStep, heating: Heating) -> float:
    """Part of a step in which the charge is liquid [degC]."""
    return max(step.high - max(step.low, heating.liquid_from), 0.0)


def _index(slag: FoamSlag, temperature: float, pour: float, data: Table) -> float:
    """Foam index at a temperature [degC] [s]; no slag counts as stiffer than the index is used for."""
    colder = 1.0 / (temperature + 273.15) - 1.0 / (pour + 273.15)
    viscosity = slag.viscosity * exp(min(slag.activation / _GAS * colder, 50.0))
    most: float = data["slag"]["most_viscosity"]
    return foam_index(min(viscosity, most), slag.density, slag.tension, slag.bubble, data)
