"""The figures of lot and roast that may be replaced, as the report tells them."""

from collections.abc import Iterable, Iterator, Mapping

from fluxlab.design.plain_types import Amount
from fluxlab.design.pot_types import FigureRow
from fluxlab.ore.own_figures import OWN, Figures, OreFigure


def figure_rows(known: Figures, own: Mapping[str, float]) -> tuple[FigureRow, ...]:
    """Every figure that may be replaced, as used and as shipped, in the unit of its row; `own` are those that count."""
    return tuple(_row(figure, own.get(key)) for key, figure in known.items())


def _row(figure: OreFigure, own: float | None) -> FigureRow:
    shipped = Amount(figure.shipped)
    value, told = (shipped, figure.source) if own is None else (Amount(own), OWN)
    return FigureRow(
        figure.key, figure.words, figure.unit, value, own is not None, told, shipped, figure.source, figure.group
    )


def own_rows(figures: Iterable[FigureRow]) -> Iterator[tuple[str, str]]:
    """The operator's own figures as rows of the plain text, each with what it stands in place of."""
    for row in figures:
        if row.own:
            own, usual = (f"{amount.value:.4g} {row.unit}".rstrip() for amount in (row.value, row.shipped))
            yield "  own figure", f"{row.words}: {own}, in place of {usual}"
