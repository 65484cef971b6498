"""Weights from a spreadsheet, matched to the rows of the flux table."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluxlab.design.recipe import Shelf
from fluxlab.design.report_types import LineReport
from fluxlab.gui.reading import read_mass
from fluxlab.gui.tables import tsv


@dataclass(frozen=True, slots=True)
class Pasted:
    """Weights that were understood (flux id, grams or None for free), and the sentence about the rest."""

    weights: tuple[tuple[str, float | None], ...]
    sentence: str


def read_weights(text: str, lines: Sequence[LineReport], shelf: Shelf) -> Pasted:
    """Weights for fluxes by name; a text of one column gives its weights to `lines` from the first on."""
    rows = tsv.read(text)
    if not rows:
        return Pasted((), "There is no text on the clipboard.")
    if all(len(row) == 1 for row in rows) and not isinstance(read_mass(rows[0][0]), str):
        return _by_place([row[0] for row in rows], lines)
    return _by_name(rows, lines, shelf)


def _by_place(cells: Sequence[str], lines: Sequence[LineReport]) -> Pasted:
    weights: list[tuple[str, float | None]] = []
    refused: list[str] = []
    for cell, line in zip(cells, lines, strict=False):
        weight = read_mass(cell)
        if isinstance(weight, str):
            refused.append(f"{line.name}: {weight}")
        else:
            weights.append((line.flux, weight))
    if len(cells) > len(lines):
        refused.append(f"{len(cells) - len(lines)} weights had no row left to go to.")
    return Pasted(tuple(weights), " ".join(refused))


def _by_name(rows: Sequence[Sequence[str]], lines: Sequence[LineReport], shelf: Shelf) -> Pasted:
    known = {component.name.casefold(): component.uid for component in shelf.fluxes}
    known |= {line.name.casefold(): line.flux for line in lines}
    weights: list[tuple[str, float | None]] = []
    refused: list[str] = []
    for place, row in enumerate(rows):
        flux = known.get(row[0].casefold())
        cell = next((cell for cell in row[1:] if cell), "")
        weight = read_mass(cell) if cell else "no weight beside it."
        if flux is None:
            if place or not isinstance(weight, str):
                refused.append(f"“{row[0]}” is neither in the table nor on the shelf.")
        elif isinstance(weight, str):
            refused.append(f"{row[0]}: {weight}")
        else:
            weights.append((flux, weight))
    return Pasted(tuple(weights), " ".join(refused))
