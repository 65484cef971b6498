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


def feed_masses(fill: FillReport | None, rows: Sequence[TicketRow], total: float, step: float) -> tuple[float, ...]:
    """Masses of the feeds of one melt in whole steps [g], nitre left out; together they are what one melt is given.

    Empty while the feeding is not known.
    """
    if fill is None or not fill.stages or fill.melts_needed < 1:
        return ()
    apart = sum(row.grams for row in rows if row.apart)
    left = (total - apart) / fill.melts_needed
    feeds: list[float] = []
    for stage in fill.stages[:-1]:
        feed = in_steps(min(stage.mass, left), step)
        if feed > 0.0:
            feeds.append(feed)
            left -= feed
    last = in_steps(left, step)
    return (*feeds, last) if last > 0.0 else tuple(feeds)


def _heap(fill: FillReport | None) -> str:
    if fill is None:
        return "fill height not known"
    first = fill.stages[0].from_rim if fill.stages else fill.loose_from_rim
    what = "first part " if len(fill.stages) > 1 else "charge "
    return f"{what}{abs(first):.0f} mm {'below' if first > -0.5 else 'over'} the rim"


def _feed(
    fill: FillReport | None, rows: Sequence[TicketRow], total: float, step: float, places: int, mark: str
) -> Fact:
    feeds = feed_masses(fill, rows, total, step)
    if fill is None or not feeds:
        return Fact("Feed", "Not known", "no pot, or no bulk densities")
    nitre = ", nitre last, by the spoon" if any(row.apart for row in rows) else ""
    weights = [written(feed, places, mark) for feed in feeds]
    many = len(feeds) > 1
    if fill.melts_needed > 1:
        each = written(in_steps(total / fill.melts_needed, step), places, mark)
        parts = f"each in {len(feeds)} parts, {weights[0]} g first" if many else "each fed at once"
        return Fact("Feed", f"{fill.melts_needed} melts of {each} g", parts + nitre)
    joined = (", then " if len(feeds) < 4 else ", ").join(weights)
    if not many:
        return Fact("Feed", f"{joined} g at once", f"mixed{nitre}")
    return Fact("Feed", f"{joined} g", f"each when the last lies quiet{nitre}")


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
