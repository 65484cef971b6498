"""What a rule finds: how grave, and the figures behind it."""

from collections.abc import Iterable

from fluxlab.design.report_types import CautionLevel

Finding = tuple[CautionLevel, str] | None
TRACE = 0.0001
"""What is less is told as less than this; judgement."""
_FINER = 3
"""So many digits more may tell a figure from the limit that it is past; judgement."""


def block(because: str) -> Finding:
    """A finding that stops the ticket."""
    return "block", because


def warn(because: str) -> Finding:
    """A finding that warns."""
    return "warn", because


def caution(because: str) -> Finding:
    """A finding that is good to know."""
    return "caution", because


def rough(value: float, digits: int = 2) -> str:
    """A figure with so many digits that count, thousands apart, never with a power of ten: 11 000, 0.034.

    Two digits give an order of size, which is all that most plans can give; what no balance shows is told as less.
    """
    if value <= 0.0:
        return "0"
    if value < TRACE:
        return f"less than {TRACE:.4f}"
    places = digits - 1 - int(f"{value:.{digits - 1}e}".partition("e")[2])
    rounded = round(value, places)
    return f"{rounded:,.0f}".replace(",", "\u202f") if places <= 0 else f"{rounded:.{places}f}"


def past(value: float, limit: float, digits: int = 2) -> str:
    """A figure as `rough` writes it, with as many digits more as tell it from the limit that it is past."""
    return _apart(value, limit, (rough(value, more) for more in range(digits, digits + _FINER)))


def past_to(value: float, limit: float, places: int = 0) -> str:
    """A figure with so many decimals, and as many more as tell it from the limit that it is past."""
    return _apart(value, limit, (f"{value:.{more}f}" for more in range(places, places + _FINER)))


def _apart(value: float, limit: float, written: Iterable[str]) -> str:
    """The first way of writing a figure that shows on which side of its limit it lies; else words."""
    for words in written:
        shown = float(words.replace("\u202f", "").removeprefix("less than "))
        if value == limit or (shown - limit) * (value - limit) > 0.0:
            return words
    return f"just {'over' if value > limit else 'under'} {limit:.10g}"
