"""The columns of a description: what, low, likely, high, a triangle to one scale, and how it is known."""

from collections.abc import Callable, Sequence
from typing import Any, Literal

from fluxlab.gui.reading import reader
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.model import Column
from fluxlab.gui.tables.numbers import decimals_for, exact, shown
from fluxlab.gui.tables.readers import optional
from fluxlab.gui.widgets.rail import RailSpec, nice_top
from fluxlab.ore.ore_types import Share

Kind = Literal["minerals", "oxides", "elements"]
TITLES: dict[Kind, str] = {"minerals": "Mineral", "oxides": "Oxide", "elements": "Element"}
KNOWN_FROM = ("by eye", "microscope", "acid fizz", "magnet", "panned", "laboratory", "hand-held XRF")
_SHARE = reader("share", name="A share")


class Scale:
    """One scale and one number of places for all rows of a description."""

    def __init__(self) -> None:
        self.top, self.places = 1.0, 1

    def fit(self, shares: Sequence[Share]) -> None:
        """Take the scale from these shares."""
        ends = [end for s in shares for end in (s.low, s.likely, s.high) if end is not None]
        self.top = min(100.0, nice_top(max(ends, default=1.0)))
        self.places = decimals_for(ends)


def share_columns(kind: Kind, scale: Scale, put: Callable[..., Any]) -> tuple[Column[Share], ...]:
    """The table of a description; `put(row number, field=value)` changes a row."""

    def number(title: str, field: str, look: Literal["figure", "quiet"], width: int) -> Column[Share]:
        read = _SHARE if field == "likely" else optional(_SHARE)

        def take(at: int, row: Share, text: str) -> str:
            value = read(text)
            if isinstance(value, str):
                return value
            put(at, **{field: value})
            return ""

        def show(row: Share) -> str:
            return shown(getattr(row, field), scale.places, "–")

        return Column(
            title, show, look, width, exact=lambda r: exact(getattr(r, field)), take=take, step=0.5, help=_HELP[field]
        )

    def known(at: int, row: Share, text: str) -> str:
        put(at, known_from=text)
        return ""

    return (
        Column(TITLES[kind], lambda r: _title(kind, r), "name", 130, 2, note=lambda r: _note(kind, r),
               exact=lambda r: r.what),
        number("Low", "low", "quiet", 58),
        number("Likely", "likely", "figure", 72),
        number("High", "high", "quiet", 58),
        Column("Share, %", lambda r: _range(r, scale.places), "rail", 140, 3, rail=lambda r: _rail(r, scale.top)),
        Column("Known from", lambda r: r.known_from, "words", 100, 1, take=known, choices=lambda: KNOWN_FROM),
    )  # fmt: skip


_HELP = {
    "low": "The least that is likely, mass %. Empty means: no less than the likely share.",
    "likely": "The share as far as it is known, mass %. The likely shares are scaled to 100.",
    "high": "The most that is likely, mass %. Empty means: no more than the likely share.",
}


def _title(kind: Kind, row: Share) -> str:
    return row.what if kind == "minerals" else typeset(row.what)


def _note(kind: Kind, row: Share) -> str:
    if kind != "minerals":
        return ""
    from fluxlab.materials.minerals import minerals

    found = minerals().get(row.what)
    return typeset(found.formula) if found else "not in the list of minerals"


def _range(row: Share, places: int) -> str:
    if row.low is None and row.high is None:
        return ""
    low, high = (row.likely if end is None else end for end in (row.low, row.high))
    return f"{shown(low, places)} to {shown(high, places)}"


def _rail(row: Share, top: float) -> RailSpec:
    if row.low is None and row.high is None:
        return RailSpec(0.0, top, value=row.likely)
    low, high = (row.likely if end is None else end for end in (row.low, row.high))
    return RailSpec(0.0, top, value=row.likely, triangle=(low, row.likely, high))
