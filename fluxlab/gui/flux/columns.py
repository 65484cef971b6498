"""The columns of the flux table: titles, places and what each copies as."""

from dataclasses import dataclass
from enum import IntEnum

from fluxlab.design.report_types import LineReport
from fluxlab.gui.widgets.fields import show_number


class Col(IntEnum):
    """Columns in the order they stand on the page."""

    WHAT = 0
    GRAMS = 1
    LOCK = 2
    SHARE = 3
    RAIL = 4
    COST = 5
    LOOSE = 6
    STOCK = 7


@dataclass(frozen=True, slots=True)
class Column:
    """Title over the column, its name in menus, its width on the grid [px], and whether the first view shows it."""

    title: str
    name: str
    width: int
    first_view: bool = True
    may_hide: bool = True


COLUMNS: dict[Col, Column] = {
    Col.WHAT: Column("What, and why", "What, and why", 0, may_hide=False),
    Col.GRAMS: Column("Grams", "Grams", 74, may_hide=False),
    Col.LOCK: Column("", "Fixed or free", 32, may_hide=False),
    Col.SHARE: Column("Share", "Share of the flux", 58),
    Col.RAIL: Column("Least – most, stock", "Least and most, stock", 130),
    Col.COST: Column("Cost", "Cost", 70, first_view=False),
    Col.LOOSE: Column("Loose", "Loose volume", 74, first_view=False),
    Col.STOCK: Column("On hand", "On hand", 78, first_view=False),
}
FIRST_VIEW = frozenset(col for col, column in COLUMNS.items() if column.first_view)


def places_of(step: float) -> int:
    """Decimal places that a balance step needs [-]."""
    text = f"{step:.10g}"
    return len(text.partition(".")[2]) if "e" not in text else 3


def is_nothing(line: LineReport, places: int) -> bool:
    """Whether a row weighs nothing that the balance could show."""
    return round(line.grams, places) <= 0


def cell_text(line: LineReport, col: Col, places: int, currency: str) -> str:
    """What a cell says in plain text, for the screen reader, the clipboard and a file."""
    match col:
        case Col.WHAT:
            return line.name
        case Col.GRAMS:
            return show_number(line.grams, places)
        case Col.LOCK:
            return "fixed" if line.fixed else "free"
        case Col.SHARE:
            return f"{show_number(line.share, 1)} %" if not is_nothing(line, places) else "–"
        case Col.RAIL:
            return limits_words(line, places)
        case Col.COST:
            return "–" if line.cost is None else f"{show_number(line.cost, 2)} {currency}".strip()
        case Col.LOOSE:
            return f"{show_number(line.loose_volume, 0)} mL"
        case Col.STOCK:
            return "not counted" if line.stock is None else f"{show_number(line.stock, places)} g"


def limits_words(line: LineReport, places: int) -> str:
    """Least, most and stock of a row in words."""
    parts = []
    if line.least is not None:
        parts.append(f"at least {show_number(line.least, places)} g")
    if line.most is not None:
        parts.append(f"at most {show_number(line.most, places)} g")
    if line.stock is not None:
        parts.append(f"{show_number(line.stock, places)} g on the shelf")
    return ", ".join(parts) or "no limits"
