"""Figures of melts in words."""

from typing import TYPE_CHECKING

from fluxlab.gui.widgets.fields import show_exact, show_number
from fluxlab.learn import yields

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from fluxlab.learn.measured import Measured
    from fluxlab.learn.melt import Melt
    from fluxlab.materials.estimate import Estimate

ALL_HELD = yields.ALL_HELD
OVER = "more than the ore was said to hold: check assay or weights"
LOOKS = 1
"""So many looks of the slag are named in the table; the sheet has them all."""
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(when: "datetime") -> str:
    """A date, short."""
    return f"{when.day} {_MONTHS[when.month - 1]}"


def grams(value: float, step: float = 0.1) -> str:
    """A weight with the places that its balance shows."""
    from fluxlab.design.ticket_rows import decimals_of

    return show_number(value, max(1, decimals_of(step)))


def reading(value: float, step: float = 1.0) -> str:
    """A weight as the balance showed it: no digit that was read is rounded away."""
    from fluxlab.design.ticket_rows import decimals_of

    return show_exact(value, decimals_of(step))


def percent(value: float) -> str:
    """A share with the places that are worth telling."""
    return show_number(value, 1 if value >= 10.0 else 2)


def between(low: float, high: float, places: int = 1) -> str:
    """A likely range."""
    return f"{show_number(low, places)} – {show_number(high, places)}"


def likely(measured: "Measured") -> str:
    """The likely range of a measured share [%]."""
    return f"likely {between(measured.low, measured.high, 1 if measured.value >= 10.0 else 2)}"


def back_ends(measured: "Measured") -> tuple[float, float]:
    """The likely range of what came back [%], cut where nothing more can."""
    return min(measured.low, ALL_HELD), min(measured.high, ALL_HELD)


def likely_back(measured: "Measured") -> str:
    """The likely range of what came back [%], or that it cannot be."""
    if measured.value > ALL_HELD:
        return "more than was held"
    return f"likely {between(*back_ends(measured), 1 if measured.value >= 10.0 else 2)}"


def said(estimate: "Estimate | None", places: int = 1) -> str:
    """What was expected."""
    if estimate is None:
        return ""
    none = estimate.high < 0.5 * 10.0**-places
    return "none expected" if none else f"expected {between(estimate.low, estimate.high, places)}"


def slag_look(melt: "Melt", words: "Mapping[str, str]", groups: "Mapping[str, str]") -> str:
    """How the slag looked, in the words of the table of looks."""
    seen = [words[key] for key in melt.seen if groups.get(key, "").startswith("slag") and key in words]
    more = f", +{len(seen) - LOOKS}" if len(seen) > LOOKS else ""
    return ", ".join([seen[0], *(each[0].lower() + each[1:] for each in seen[1:LOOKS])]) + more if seen else ""
