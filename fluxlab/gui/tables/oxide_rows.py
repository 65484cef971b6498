"""Oxides as slim rails, one under the other: name, range, figure. Used for ores, calcines and fluxes."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.numbers import exact, shown
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.rail import RailSpec, nice_top

ROW = 27


@dataclass(frozen=True, slots=True)
class OxideRow:
    """One oxide: its share [mass %] and likely range [mass %], None where no range is known."""

    name: str
    percent: float
    low: float | None = None
    high: float | None = None


class OxideTable(GridView):
    """The rails; all have one scale, from nothing to a round number above the largest."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, ROW, parent, titles=False, whole=True)
        self._top, self._places = 1.0, 1
        self.oxides: GridModel[OxideRow] = GridModel(
            [
                Column("Oxide", lambda r: typeset(r.name), "name", 64, exact=lambda r: r.name),
                Column("Likely range", self._range, "rail", 150, 1, rail=self._rail),
                Column("%", self._figure, "value", 60, exact=lambda r: exact(round(r.percent, 4))),
            ],
            key=lambda r: r.name,
            parent=self,
        )
        self.show_model(self.oxides)

    def show_rows(self, rows: Sequence[OxideRow], places: int = 1) -> None:
        """Show these oxides, figures with so many places."""
        before = (self._top, self._places)
        self._top = nice_top(max([row.high or row.percent for row in rows], default=1.0))
        self._places = places
        self.oxides.set_rows(rows)
        if before != (self._top, self._places):
            self.oxides.redraw()

    def _figure(self, row: OxideRow) -> str:
        least = 10.0**-self._places
        return f"< {shown(least, self._places)}" if 0 < row.percent < least / 2 else shown(row.percent, self._places)

    def _range(self, row: OxideRow) -> str:
        if row.low is None or row.high is None:
            return ""
        return f"{shown(row.low, self._places)} to {shown(row.high, self._places)}"

    def _rail(self, row: OxideRow) -> RailSpec:
        likely = None if row.low is None or row.high is None else (row.low, row.high)
        return RailSpec(0.0, self._top, value=row.percent, likely=likely)
