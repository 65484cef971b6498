"""What a rule finds: how grave, and the figures behind it."""

from math import floor, log10

from fluxlab.design.report_types import CautionLevel

Finding = tuple[CautionLevel, str] | None


def block(because: str) -> Finding:
    """A finding that stops the ticket."""
    return "block", because


def warn(because: str) -> Finding:
    """A finding that warns."""
    return "warn", because


def caution(because: str) -> Finding:
    """A finding that is good to know."""
    return "caution", because


def rough(value: float) -> str:
    """A figure with two digits that count, thousands apart: 11 000; an order of size is all that a plan can give."""
    if value <= 0.0:
        return "0"
    digits = 1 - floor(log10(value))
    rounded = round(value, digits)
    return f"{rounded:,.0f}".replace(",", "\u202f") if digits <= 0 else f"{rounded:.{digits}f}"
