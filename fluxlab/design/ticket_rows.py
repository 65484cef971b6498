"""What is weighed, in the order of weighing, in whole balance steps."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Protocol

from fluxlab.design.batch import BatchRow
from fluxlab.design.recipe import Shelf
from fluxlab.design.report_types import LineReport, Report
from fluxlab.materials.flux_types import ByParts, Component

# a weight handed over as rounded may miss its step by the noise of binary fractions only
_NOISE = Decimal("1e-6")
APART = 3
"""The turn of nitre in the order of weighing: last, and out of the mix."""
_FEED_NAMES = {"ore": "Ore", "concentrate": "Concentrate", "calcine": "Calcine"}


class Rounded(Protocol):
    """Weights fitted to the balance: grams by flux, whether every must still holds, and a sentence that says so."""

    @property
    def grams(self) -> Mapping[str, float]:
        """Weight of each flux [g]."""

    @property
    def kept(self) -> bool:
        """Whether the rounded recipe still meets every must."""

    @property
    def sentence(self) -> str:
        """The words for the foot of the ticket."""


@dataclass(frozen=True, slots=True)
class TicketRow:
    """One weighing: `grams` in whole steps [g]; `hint` says in which form; `apart` keeps it out of the mix."""

    what: str
    name: str
    hint: str
    grams: float
    apart: bool = False


def charge_weighings(report: Report, grams: Mapping[str, float]) -> tuple[TicketRow, ...]:
    """Weighings [g] of a recipe: the charge, then fluxes by falling weight, fluorspar, reducer, and nitre apart.

    What weighs nothing is left out.
    """
    recipe, shelf = report.work.recipe, report.work.shelf
    step = shelf.balance_step
    feed = report.ore.feed
    charge = TicketRow(feed, _FEED_NAMES.get(feed, feed), "dry" if recipe.dry else "", in_steps(recipe.charge, step))
    fluxes = [_flux_row(line, grams.get(line.flux, 0.0), shelf) for line in report.lines]
    weighed = [row for row in fluxes if row.grams > 0.0]
    return (charge, *sorted(weighed, key=lambda row: (turn(row.what, shelf), -row.grams)))


def batch_weighings(batch: Sequence[BatchRow], apart: Collection[str] = ()) -> tuple[TicketRow, ...]:
    """Weighings [g] of a jar, in the order that the batch has; what stays out of the mix last."""
    rows = [
        TicketRow(row.flux, row.name, _hint(row.name, row.form, row.flux in apart), row.grams, row.flux in apart)
        for row in batch
        if row.grams > 0.0
    ]
    return tuple(sorted(rows, key=lambda row: row.apart))


def turn(flux: str, shelf: Shelf) -> int:
    """Place of a flux in the order of weighing: 0 plain, 1 fluorspar, 2 reducer, 3 nitre or a jar that holds some."""
    component = shelf.flux(flux)
    if component is None:
        return 0
    if holds(component, "nitrate", shelf):
        return APART
    return 2 if "reducer" in component.tags else 1 if "fluoride" in component.tags else 0


def counts_as_flux(flux: str, shelf: Shelf) -> bool:
    """Whether a weighing counts in flux to ore: reducers, nitrates and metallic iron are there for the redox."""
    from fluxlab.design.charge import AGENTS

    component = shelf.flux(flux)
    return component is None or not component.tags & AGENTS


def holds(component: Component, tag: str, shelf: Shelf, depth: int = 4) -> bool:
    """Whether a flux, or any part of a jar, has a tag."""
    if tag in component.tags:
        return True
    if depth == 0 or not isinstance(component.made_of, ByParts):
        return False
    parts = (shelf.flux(part.flux) for part in component.made_of.parts if part.likely > 0.0)
    return any(part is not None and holds(part, tag, shelf, depth - 1) for part in parts)


def in_steps(grams: float, step: float) -> float:
    """A weight in whole balance steps [g], the nearest."""
    unit = Decimal(str(step))
    return float((Decimal(repr(grams)) / unit).quantize(Decimal(1), rounding=ROUND_HALF_EVEN) * unit)


def total_of(rows: Sequence[TicketRow], step: float) -> float:
    """Sum of the rows [g], free of binary noise."""
    return in_steps(sum(row.grams for row in rows), step)


def decimals_of(step: float) -> int:
    """Decimal places that a balance step needs [-]."""
    exponent = Decimal(str(step)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def written(value: float, places: int, mark: str = ".") -> str:
    """A figure with all its places and the decimal mark of the country."""
    return f"{value:.{places}f}".replace(".", mark)


def _flux_row(line: LineReport, grams: float, shelf: Shelf) -> TicketRow:
    snapped = in_steps(grams, shelf.balance_step)
    if abs(Decimal(repr(snapped)) - Decimal(repr(grams))) > _NOISE:
        raise ValueError(f"{line.flux}: {grams!r} g is not in whole steps of {shelf.balance_step:g} g")
    apart = turn(line.flux, shelf) == APART
    return TicketRow(line.flux, line.name, _hint(line.name, line.form, apart), snapped, apart)


def _hint(name: str, form: str, apart: bool) -> str:
    """The form of a flux, unless its name says it, and that it stays apart."""
    said = "" if form.lower() in name.lower() else form
    return ", ".join(word for word in (said, "apart, last" if apart else "") if word)
