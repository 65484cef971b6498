"""Rows as a spreadsheet puts them on the clipboard: tabs between cells, one line a row."""

from collections.abc import Iterable, Sequence

_SPACES = {"\u00a0": " ", "\u202f": " ", "\u2009": " "}


def write(rows: Iterable[Sequence[str]]) -> str:
    """Rows as tab-separated text; tabs and line ends inside a cell become spaces."""
    return "\n".join("\t".join(" ".join(cell.split()) for cell in row) for row in rows)


def read(text: str) -> list[list[str]]:
    """Rows of tab-separated text; empty lines are left out, hard spaces become plain ones.

    A text without any tab is cut at semicolons where every line has one, so that a plain list pastes too.
    """
    for odd, plain in _SPACES.items():
        text = text.replace(odd, plain)
    lines = [line for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n") if line.strip()]
    mark = ";" if lines and "\t" not in text and all(";" in line for line in lines) else "\t"
    return [[cell.strip() for cell in line.split(mark)] for line in lines]
