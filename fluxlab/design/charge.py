"""The rows of the flux table as arrays: what a gram of each delivers, and between which weights it may lie."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fluxlab.design.recipe import Line, Shelf, Work
from fluxlab.issue import Issue, error, warning
from fluxlab.materials import oxides as ox
from fluxlab.materials.flux_types import ByParts, Component
from fluxlab.materials.fluxes import yields
from fluxlab.materials.oxides import Vec
from fluxlab.materials.trade_facts import evident
from fluxlab.materials.yield_types import Yield

_UNKNOWN_DENSITY = 1.0
"""What a powder without a density is taken to weigh [g/cm3]: judgement, the middle of the common fluxes."""

AGENTS = frozenset({"reducer", "nitrate", "iron"})
"""Tags of rows that drive a reaction instead of making slag; they stand outside "parts of flux"."""


@dataclass(frozen=True, slots=True, eq=False)
class Fluxes:
    """The visible rows of the flux table, one entry per row in every field.

    `Y` (oxides x rows) [mol/g]; `loose` loose volume [cm3/g]; `price` [money/g], NaN where none is known; `power` lead
    power [g Pb/g]; `borax_soda` [mol/g]; `tagged` plain fluxes by tag [g/g]; `lo`, `hi` [g].
    """

    lines: tuple[Line, ...]
    components: tuple[Component, ...]
    yields: tuple[Yield, ...]
    Y: Vec
    loose: Vec
    price: Vec
    power: Vec
    borax_soda: Vec
    tagged: tuple[Mapping[str, float], ...]
    lo: Vec
    hi: Vec
    issues: tuple[Issue, ...]

    @property
    def fixed(self) -> Vec:
        """Weights of the rows that cannot move [g], zero for the others."""
        return np.where(self.hi <= self.lo, self.lo, 0.0)

    @property
    def is_flux(self) -> Vec:
        """1 for rows that count as flux, 0 for reducers, nitrates and metallic iron, which are there for the redox."""
        return np.array([0.0 if y.tags & AGENTS else 1.0 for y in self.yields])

    def content(self, tag: str) -> Vec:
        """Plain fluxes of a tag in a gram of each row [g/g]; a jar counts by its parts."""
        return np.array([each.get(tag, 0.0) for each in self.tagged])


def _yield_of(component: Component, shelf: Shelf) -> Yield:
    """What a gram of a flux delivers; only a jar has to ask the shelf for its parts."""
    return yields(component, shelf.flux) if isinstance(component.made_of, ByParts) else _plain(component)


@lru_cache(maxsize=512)
def _plain(component: Component) -> Yield:
    return yields(component, lambda uid: None)


def fluxes(work: Work) -> Fluxes:
    """The flux table as arrays. Rows that the shelf cannot serve are left out, with an issue."""
    shelf = work.shelf
    lines, components, found, issues = [], [], [], []
    for line in work.recipe.lines:
        if line.hidden:
            continue
        component = shelf.flux(line.flux)
        where = f"lines.{line.flux}"
        if component is None:
            issues.append(
                error(where, f"The shelf has no flux called “{line.flux}”.", "Add it on the shelf, or remove the row.")
            )
            continue
        each = _yield_of(component, shelf)
        issues.extend(each.issues)
        lines.append(line)
        components.append(component)
        found.append(each)
    driven = {t.key for t in work.recipe.targets if t.on}
    lo, hi = [], []
    for line, component, each in zip(lines, components, found, strict=True):
        low, high, issue = _bounds(line, component)
        if not component.loose_density > 0.0:
            sentence = f"{component.name} has no loose density; {_UNKNOWN_DENSITY:g} g/cm³ is used."
            issues.append(warning(f"lines.{line.flux}", sentence, "Fill a known cup with it and enter the density."))
        if line.grams is None and not _steered(each, driven):
            # Without a target for it nothing tells how much of a reducer or oxidiser is wanted: it waits for the hand.
            high = low
        lo.append(low)
        hi.append(high)
        issues.extend(issue)
    return Fluxes(
        lines=tuple(lines),
        components=tuple(components),
        yields=tuple(found),
        Y=np.array([y.oxides for y in found]).T if found else np.zeros((ox.SIZE, 0)),
        loose=np.array([1.0 / (c.loose_density if c.loose_density > 0.0 else _UNKNOWN_DENSITY) for c in components]),
        price=np.array([np.nan if c.price is None else c.price / 1000.0 for c in components]),
        power=np.array([y.lead_power for y in found]),
        borax_soda=np.array([y.borax_soda for y in found]),
        tagged=tuple(_tagged(c, y, shelf) for c, y in zip(components, found, strict=True)),
        lo=np.array(lo),
        hi=np.array(hi),
        issues=tuple(issues),
    )


STEERS = {"reducer": "reducer_budget", "iron": "iron_for_sulphur", "nitrate": "nitre_for_sulphur"}
"""The target that tells how much of what drives a reaction is wanted, by the tag of the flux; a lead button tells it
of all."""


def _steered(each: Yield, driven: set[str]) -> bool:
    """Whether a target that is on tells how much of a flux is wanted."""
    if each.lead_power == 0.0 or "lead_button" in driven:
        return True
    kinds = each.tags & STEERS.keys()
    return bool(kinds) and all(STEERS[tag] in driven for tag in kinds)


def _tagged(component: Component, y: Yield, shelf: Shelf) -> Mapping[str, float]:
    """Plain fluxes in a gram of a flux, by tag [g/g]."""
    amounts = y.amounts or {component.uid: 1.0}
    total: dict[str, float] = {}
    for uid, share in amounts.items():
        part = component if uid == component.uid else shelf.flux(uid)
        for tag in evident(part) if part else ():
            total[tag] = total.get(tag, 0.0) + share
    return total


def _bounds(line: Line, component: Component) -> tuple[float, float, list[Issue]]:
    """Least and most that a row may weigh [g], and what is odd about them."""
    where = f"lines.{line.flux}"
    issues = []
    if line.grams is not None:
        if component.stock is not None and line.grams > component.stock:
            issues.append(
                warning(
                    where,
                    f"{component.name} is fixed at {line.grams:.10g} g and the shelf has {component.stock:.10g} g.",
                    "Fetch more, or fix less.",
                )
            )
        return line.grams, line.grams, issues
    low = line.least or 0.0
    high = np.inf if line.most is None else line.most
    if component.stock is not None:
        high = min(high, component.stock)
    if low > high:
        issues.append(
            warning(
                where,
                f"{component.name}: at least {low:.10g} g is wanted and at most {high:.10g} g can be had.",
                "The smaller figure is used.",
            )
        )
        low = high
    return low, high, issues
