"""A jar of mixed flux as a list for the balance, and a jar made out of a recipe's flux lines."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite

from fluxlab.design.report_types import LineReport
from fluxlab.materials.flux_types import ByParts, Component, Part


@dataclass(frozen=True, slots=True)
class BatchRow:
    """One weighing of a batch: `grams` rounded to the balance's step [g], `exact` before rounding [g], `percent`
    of the batch [mass %] with the range of the jar's recipe (None where it is known)."""

    flux: str
    name: str
    form: str
    grams: float
    exact: float
    percent: float
    low_percent: float | None = None
    high_percent: float | None = None


def batch_rows(
    component: Component, grams: float, fluxes: Sequence[Component] = (), step: float = 0.1
) -> tuple[BatchRow, ...]:
    """Weighings [g] that make `grams` of a jar, in the order of weighing.

    `fluxes` lends the parts their names, `step` [g] is the balance's; the rounded weights add up to the batch rounded
    to the step. Nothing to weigh (no jar, no parts, no weight) gives an empty tuple.
    """
    if not isinstance(component.made_of, ByParts) or not isfinite(grams) or grams <= 0:
        return ()
    parts = [part for part in component.made_of.parts if part.likely > 0]
    total = sum(part.likely for part in parts)
    if not parts:
        return ()
    shelf = {flux.uid: flux for flux in fluxes}
    exact = [grams * part.likely / total for part in parts]
    rounded = _rounded(exact, grams, step)
    rows = [
        _row(part, shelf.get(part.flux), weight, true, total)
        for part, weight, true in zip(parts, rounded, exact, strict=True)
    ]
    return tuple(sorted(rows, key=lambda row: (_turn(shelf.get(row.flux)), -row.exact)))


def jar_of_lines(lines: Sequence[LineReport]) -> ByParts:
    """The flux lines of a recipe as parts of one jar [mass parts]; lines of no weight stay out."""
    return ByParts(tuple(Part(line.flux, line.grams) for line in lines if line.grams > 0))


def _row(part: Part, flux: Component | None, grams: float, exact: float, total: float) -> BatchRow:
    return BatchRow(
        flux=part.flux,
        name=flux.name if flux else part.flux,
        form=flux.form if flux else "",
        grams=grams,
        exact=exact,
        percent=100 * part.likely / total,
        low_percent=None if part.low is None else 100 * part.low / total,
        high_percent=None if part.high is None else 100 * part.high / total,
    )


def _turn(flux: Component | None) -> int:
    """Place in the order of weighing: plain fluxes, fluorspar, reducer, and nitre last and apart."""
    tags = flux.tags if flux else frozenset()
    return 3 if "nitrate" in tags else 2 if "reducer" in tags else 1 if "fluoride" in tags else 0


def _rounded(exact: Sequence[float], grams: float, step: float) -> list[float]:
    """Weights in whole steps [g] that add up to the batch in whole steps: the largest remainders are rounded up."""
    unit = Fraction(str(step))
    steps = [int(value / unit) for value in map(Fraction, exact)]
    missing = round(Fraction(grams) / unit) - sum(steps)
    by_remainder = sorted(range(len(exact)), key=lambda i: steps[i] - exact[i] / step)
    for i in by_remainder[:missing]:
        steps[i] += 1
    return [float(count * unit) for count in steps]
