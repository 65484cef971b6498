"""The two-line facts of a ticket: pot, feeding, pour, mould, metal."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from fluxlab.design.button_words import button_name, expected_button, mass_words, span_words
from fluxlab.design.fluid_text import viscosity_words
from fluxlab.design.pot_types import PotReport
from fluxlab.design.report_types import FillReport, MouldReport, Report
from fluxlab.design.rising import highest_rise
from fluxlab.design.roast_text import weight_doubt
from fluxlab.design.ticket_rows import TicketRow, in_steps, written

_LAYER = 0.05
"""A layer of matte or speiss below this mass [g] is not told."""


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
        _with_rise(_feed(report.fill, rows, total, shelf.balance_step, places, mark), report),
        Fact("Pour", f"{recipe.pour_temperature:.0f} °C", _pour(report, hold, mark)),
        Fact("Mould", mould.name if mould else "Not chosen", _mould(report.mould, recipe.mould_preheat)),
        _metal(report, mark),
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


def _with_rise(feed: Fact, report: Report) -> Fact:
    """How the charge is fed, and how high it rises then."""
    if report.fill is None or not report.fill.stages or report.fill.melts_needed > 1:
        return feed
    rise = highest_rise(report.fill, report.pot.gas if report.pot else None)
    return replace(feed, note=f"{feed.note}; {rise.words}")


def _mould(mould: MouldReport | None, preheat: float | None) -> str:
    heat = "preheat not given" if preheat is None else f"at {preheat:.0f} °C"
    if mould is None:
        return heat
    free = mould.freeboard
    return f"{heat}, {free:.0f} mm stay free" if free >= 0.0 else f"{heat}, {-free:.0f} mm too shallow"


def _pour(report: Report, hold: str, mark: str) -> str:
    """The hold, a longer one where drops of metal want it, and how thick the melt is."""
    words = f"hold {hold} min"
    drops = report.pot.drops if report.pot else None
    if drops is not None and drops.advised > report.work.recipe.hold + 0.5:
        words += f", better {drops.advised:.0f} min"
    if report.fluid is not None and report.fluid.at_pour is not None:
        words += f"; {viscosity_words(report.fluid).replace('.', mark)}"
    return words


def _metal(report: Report, mark: str) -> Fact:
    """The expected button; what the assay allows at most where the balance of the pot is not known."""
    limit, button = report.precious_metal_limit, expected_button(report.pot)
    doubt = weight_doubt(report.ore.roast).replace(".", mark)
    if doubt:
        return Fact(button_name(report).capitalize(), "Not known", f"the roast weight cannot be right: {doubt}")
    if button is not None and report.pot is not None:
        note = "; ".join(part for part in _beside(report, report.pot, span_words(button, mark), mark) if part)
        return Fact(button_name(report).capitalize(), mass_words(button.value, mark), note)
    if report.pot is not None and report.pot.button.silver_recovery_percent is not None:
        held = "" if limit is None else f": {_at_most(limit, mark)} silver + gold stay in matte and slag"
        return Fact("Button", "None expected", f"no metal comes down{held}")
    if limit is None:
        return Fact("Metal", "Not known", "no silver or gold grade given")
    return Fact("Metal", f"At most {_at_most(limit, mark)}", "silver + gold by the assay")


def _beside(report: Report, pot: PotReport, span: str, mark: str) -> Iterator[str]:
    """The range of the button, the silver in it, and the layers on it where no mould tells them."""
    yield f"likely {span}" if span else ""
    silver = next((metal.grams for metal in pot.button.metals if metal.symbol == "Ag"), None)
    if silver is not None:
        yield f"silver {span_words(silver, mark) or mass_words(silver.value, mark)}"
    if report.mould is not None:
        return
    for name, layer in (("matte", pot.sulphur.matte), ("speiss", pot.sulphur.speiss)):
        if layer.value >= _LAYER:
            yield f"{name} about {mass_words(layer.value, mark)}"


def _at_most(limit: float, mark: str) -> str:
    places = 3 if limit < 1.0 else 2 if limit < 10.0 else 1
    return f"{written(limit, places, mark)} g"
