"""Numbers in cells: shown with the decimals that a column needs, and stepped by a key while being typed."""

import re
from collections.abc import Iterable

from fluxlab.gui.widgets.fields import decimal_mark, show_exact, show_number

_LEADING = re.compile(r"\s*(-?\d*[.,]?\d+|-?\d+)")


def decimals_for(values: Iterable[float | None], least: int = 1, most: int = 4) -> int:
    """Places with which every figure of a column is shown whole, between `least` and `most`."""
    wanted = least
    for value in values:
        if value is not None:
            plain = f"{value:.{most}f}".rstrip("0")
            wanted = max(wanted, len(plain.partition(".")[2]))
    return wanted


def shown(value: float | None, decimals: int, none: str = "") -> str:
    """A figure with fixed places, `none` when there is no figure."""
    return none if value is None else show_number(value, decimals)


def exact(value: float | None) -> str:
    """A figure as it was given, for an editor and the clipboard."""
    return "" if value is None else show_exact(value, 0)


def stepped(text: str, step: float) -> str | None:
    """The text with its leading number changed by `step`, what follows it kept; None if it has no number."""
    found = _LEADING.match(text)
    if found is None:
        return None
    number = float(found.group(1).replace(",", ".")) + step
    return f"{max(0.0, number):.10g}".replace(".", decimal_mark()) + text[found.end() :]
