"""The two-line facts of a ticket: pot, feeding, pour, mould, metal."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluxlab.design.report_types import FillReport, MouldReport, Report
from fluxlab.design.ticket_rows import TicketRow, in_steps, written


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact: its label, the value in bold and a note under it."""

    label: str
    value: str
    note: str = ""


def facts_of(report: Report, rows: Sequence[TicketRow], total: float, places: int, mark: str) -> tuple[Fact, ...]:
    """The facts that the furnace needs, in the order of the work."""
    recipe, shelf = report.work.recipe, report.work.shelf
    pot, mould = shelf.crucible(recipe.crucible), shelf.mould(recipe.mould)
    hold = written(recipe.hold, 0 if recipe.hold == round(recipe.hold) else 1, mark)
    return (
        Fact("Crucible", pot.name if pot else "Not chosen", _heap(report.fill)),
        _feed(report.fill, rows, total, shelf.balance_step, places, mark),
        Fact("Pour", f"{recipe.pour_temperature:.0f} °C", f"hold {hold} min"),
        Fact("Mould", mould.name if mould else "Not chosen", _mould(report.mould, recipe.mould_preheat)),
        _metal(report.precious_metal_limit, mark),
    )


def feed_masses(feeds: int, rows: Sequence[TicketRow], total: float, step: float) -> tuple[float, ...]:
    """Masses of equal feeds in whole steps [g], nitre left out; together they are what was weighed without it."""
    left = total - sum(row.grams for row in rows if row.apart)
    masses = []
    for waiting in range(feeds, 1, -1):
        masses.append(in_steps(left / waiting, step))
        left -= masses[-1]
    return (*masses, in_steps(left, step))


def _heap(fill: FillReport | None) -> str:
    if fill is None or not fill.stages:
        return "fill height not known"
    if len(fill.stages) == 1:
        return f"charge {_from_rim(fill.stages[0].from_rim)}"
    first, last = fill.stages[0].from_rim, fill.stages[-1].from_rim
    if first > -0.5 and last > -0.5:
        return f"first part {first:.0f}, last {_from_rim(last)}"
    return f"first part {_from_rim(first)}, last {_from_rim(last)}"


def _from_rim(gap: float) -> str:
    return f"{abs(gap):.0f} mm {'below' if gap > -0.5 else 'over'} the rim"


def _feed(
    fill: FillReport | None, rows: Sequence[TicketRow], total: float, step: float, places: int, mark: str
) -> Fact:
    if fill is None or not fill.stages:
        return Fact("Feed", "Not known", "no pot, or no bulk densities")
    masses = feed_masses(len(fill.stages), rows, total, step)
    nitre = ", nitre last, by the spoon" if any(row.apart for row in rows) else ""
    weights = [written(mass, places, mark) for mass in masses]
    if fill.melts_needed > 1:
        each = written(in_steps(total / fill.melts_needed, step), places, mark)
        nitre = f"; too much for one melt, make {fill.melts_needed} of {each} g{nitre}"
    if len(masses) == 1:
        return Fact("Feed", f"{weights[0]} g at once", f"mixed{nitre}")
    same = len(set(weights)) == 1 and len(weights) > 2
    parts = f"{len(weights)} times {weights[0]}" if same else (", then " if len(masses) < 4 else ", ").join(weights)
    return Fact("Feed", f"{parts} g", f"each when the last lies quiet{nitre}")


def _mould(mould: MouldReport | None, preheat: float | None) -> str:
    heat = "preheat not given" if preheat is None else f"at {preheat:.0f} °C"
    if mould is None:
        return heat
    free = mould.freeboard
    return f"{heat}, {free:.0f} mm stay free" if free >= 0.0 else f"{heat}, {-free:.0f} mm too shallow"


def _metal(limit: float | None, mark: str) -> Fact:
    if limit is None:
        return Fact("Metal", "Not known", "no silver or gold grade given")
    places = 3 if limit < 1.0 else 2 if limit < 10.0 else 1
    return Fact("Metal", f"At most {written(limit, places, mark)} g", "silver + gold by the assay")
