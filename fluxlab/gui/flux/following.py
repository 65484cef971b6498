"""Rows of the table while a point or a line is dragged: how far each has moved since the drag began."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fluxlab.design.report_types import LineReport
from fluxlab.gui.widgets.fields import show_number


def following(lines: Sequence[LineReport], before: Mapping[str, LineReport], places: int) -> tuple[LineReport, ...]:
    """The rows with their change for a reason; free and fixed as they were when the drag began."""
    return tuple(_followed(line, before.get(line.flux), places) for line in lines)


def _followed(line: LineReport, before: LineReport | None, places: int) -> LineReport:
    if before is None or before.fixed:
        return line
    change = round(line.grams - before.grams, places)
    sign = "+" if change > 0.0 else "−"
    words = f"Follows the hand, {sign} {show_number(abs(change), places)} g" if change else "Stays as it is"
    return replace(line, fixed=False, why=words)
