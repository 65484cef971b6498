"""What a rule finds: how grave, and the figures behind it."""

from fluxlab.design.report_types import CautionLevel

Finding = tuple[CautionLevel, str] | None
TRACE = 0.0001
"""What is less is told as less than this; judgement."""


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
