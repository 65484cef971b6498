"""The slag map in words and rows: what the picture says, for a screen reader and a spreadsheet."""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING

from fluxlab.gui.charts.fluid_words import UNKNOWN
from fluxlab.gui.charts.map_grid import Rows
from fluxlab.gui.widgets.fields import show_number

if TYPE_CHECKING:
    from fluxlab.design.map_types import Axis, MapFrame

NOTHING_HOLDS = "No recipe on this map keeps every must. Open a limit among the targets."

NOTHING_MOVES = "Every row is fixed: free one to move the point."


def place_words(axis: Axis, value: float) -> str:
    """A quantity with its figure: "silicate degree 1.42"."""
    return f"{axis.label} {show_number(value, axis.decimals)}{f' {axis.unit}' if axis.unit else ''}"


def spoken(frame: MapFrame | None, empty: str = "", whisper: str = "") -> str:
    """Everything that the map shows, in words."""
    if frame is None:
        return f"Slag map: {empty or UNKNOWN}"
    said = []
    if frame.here is None:
        said.append("the recipe has no place on it")
    else:
        x, y = frame.here
        said.append(f"the recipe stands at {place_words(frame.pair.x, x)}, {place_words(frame.pair.y, y)}")
    limits = list(dict.fromkeys(side.words for side in frame.outline.sides if side.words))
    if limits:
        said.append(f"every must holds inside {', '.join(limits)}")
    elif not frame.outline.sides:
        said.append(whisper or "no recipe on it keeps every must")
    return f"Slag map: {'; '.join(said)}"


def field_rows(frame: MapFrame | None, rows: Rows | None) -> list[list[str]]:
    """The field, a line for each point: both axes, the viscosity and whether crystals are likely."""
    if frame is None or rows is None:
        return [["x", "y", "Pa·s", "crystals"]]
    x, y = frame.pair.x, frame.pair.y
    titles = [f"{axis.label} {axis.unit}".strip() for axis in (x, y)]
    made = [[*titles, "Pa·s", "crystals"]]
    for row in rows.ordered():
        last = max(1, len(row.log_viscosity) - 1)
        for k, level in enumerate(row.log_viscosity):
            if isfinite(level):
                at = rows.low + (rows.high - rows.low) * k / last
                figures = (show_number(at, 4), show_number(row.y, 4), show_number(10.0**level, 4))
                made.append([*figures, "likely" if row.crystals[k] else ""])
    return made
