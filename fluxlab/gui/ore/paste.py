"""Rows of a spreadsheet as shares: a name with its likely share, or with low, likely and high; or figures alone."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from fluxlab.gui.ore.share_columns import Kind
from fluxlab.gui.reading import reader
from fluxlab.issue import Issue
from fluxlab.ore.ore_types import Share

_SHARE = reader("share")
_FIELDS = ("low", "likely", "high")
HOW = "Give each row a name and its share, or its name, low, likely and high."


@dataclass(frozen=True, slots=True)
class Pasted:
    """The shares understood, and sentences about the rows that were not."""

    shares: tuple[Share, ...]
    refused: tuple[str, ...]


def pasted(rows: Sequence[Sequence[str]], kind: Kind, present: Sequence[Share], at: int, column: int) -> Pasted:
    """What the rows mean. Figures alone fill the description from row `at` on, from its figure column `column` (0 low,
    1 likely, 2 high) on."""
    filled = [row for row in rows if any(cell.strip() for cell in row)]
    if filled and all(_is_number(row[0]) for row in filled):
        return _figures(filled, present, max(at, 0), min(max(column, 0), 2))
    shares: list[Share] = []
    refused: list[str] = []
    old = {share.what: share for share in present}
    for number, row in enumerate(filled):
        found = _row(row, kind, old)
        if isinstance(found, Share):
            shares.append(found)
        elif number or any(_is_number(cell) for cell in row):
            # A first row without any figure is the heading of the spreadsheet.
            refused.append(found)
    if not shares and not refused:
        refused.append(f"There is nothing to paste. {HOW}")
    return Pasted(tuple(shares), tuple(refused))


def _row(row: Sequence[str], kind: Kind, old: dict[str, Share]) -> Share | str:
    name = named(row[0], kind)
    if name.startswith("“"):
        return name
    figures = [cell for cell in row[1:] if _is_number(cell)]
    words = [cell for cell in row[1:] if cell and not _is_number(cell)]
    numbers = [_SHARE(cell) for cell in figures]
    wrong = next((n for n in numbers if isinstance(n, str)), None)
    if wrong is not None:
        return f"{name}: {wrong}"
    values = [n for n in numbers if not isinstance(n, str)]
    known = words[-1] if words else old[name].known_from if name in old else "pasted"
    if len(values) == 1:
        return Share(name, values[0], known_from=known)
    if len(values) == 3:
        return Share(name, values[1], values[0], values[2], known)
    return f"{name}: {len(values)} figures cannot be placed. {HOW}"


def _figures(rows: Sequence[Sequence[str]], present: Sequence[Share], at: int, column: int) -> Pasted:
    shares: list[Share] = []
    refused: list[str] = []
    for share, row in zip(present[at:], rows, strict=False):
        changes: dict[str, Any] = {}
        for field, cell in zip(_FIELDS[column:], row, strict=False):
            value = _SHARE(cell)
            if isinstance(value, str):
                refused.append(f"{share.what}: {value}")
            else:
                changes[field] = value
        shares.append(replace(share, **changes))
    left = len(rows) - len(present[at:])
    if left > 0:
        refused.append(f"{left} more rows have no name to go with. {HOW}")
    return Pasted(tuple(shares), tuple(refused))


def named(text: str, kind: Kind) -> str:
    """The name that is meant, or a sentence that begins with the text in quotes."""
    from fluxlab.materials.formulas import read
    from fluxlab.materials.minerals import minerals

    wanted = text.strip()
    if kind != "minerals":
        plain = wanted.translate(str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")).removesuffix("%").strip()
        if plain in ("LOI", "L.O.I."):
            return plain
        found = read(plain)
        return f"“{wanted}” is no {'oxide' if kind == 'oxides' else 'element'}." if isinstance(found, Issue) else plain
    small = wanted.casefold()
    names = list(minerals())
    exact = [name for name in names if name.casefold() == small]
    begins = exact or [name for name in names if small and name.casefold().startswith(small)]
    if len(begins) == 1:
        return begins[0]
    if begins:
        return f"“{wanted}” may be {' or '.join(begins[:3])}."
    return f"“{wanted}” is not in the list of minerals."


def _is_number(cell: str) -> bool:
    return bool(cell.strip()) and (cell.strip()[0].isdigit() or cell.strip()[0] in "-+.,−<")
