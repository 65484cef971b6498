"""What an operator typed, read as a number in the unit of the field, or the sentence that says why not."""

import re
from collections.abc import Callable

from PySide6.QtCore import QLocale

from fluxlab.gui.widgets.fields import Reader

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)$")
_SIGNS = {"−": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "}


def read_mass(words: str) -> float | str:
    """A weight [g] from text such as "12.5", "12,5 g" or "2 oz"."""
    return read_amount("g", lo=0.0, hi=1e6)(words)


def read_amount(unit: str, lo: float, hi: float) -> Reader:
    """A reader for amounts between `lo` and `hi` in `unit`."""

    def read(words: str) -> float | str:
        for odd, plain in _SIGNS.items():
            words = words.replace(odd, plain)
        body = words.strip().removesuffix(unit).strip() if unit else words.strip()
        if QLocale().decimalPoint() == ",":
            body = body.replace(",", ".", 1)
        if not _PLAIN.match(body):
            return f"“{words.strip()}” is no number. Type it like {12.5}{' ' + unit if unit else ''}."
        value = float(body)
        if not lo <= value <= hi:
            return f"{value:g} is out of range: it must lie between {lo:g} and {hi:g}{' ' + unit if unit else ''}."
        return value

    return read


def read_number(lo: float = -1e9, hi: float = 1e9) -> Callable[[str], float | str]:
    """A reader for plain numbers between `lo` and `hi`."""
    return read_amount("", lo, hi)
