"""What an operator types into a field or cell, read as a number in the program's unit or as the sentence why not."""

from collections.abc import Callable

from PySide6.QtCore import QLocale

from fluxlab.gui.widgets.fields import Reader
from fluxlab.units import Quantity


def reader(
    quantity: Quantity, what: str = "It", above_zero: bool = False, most: float | None = None, unit: str = ""
) -> Reader:
    """A reader for one quantity; `unit` is the one meant where none is typed, `most` the most that is sensible.

    "1.5 kg", "12 lb", "2 cm" are taken; what is no number, has a strange unit or makes no sense is answered in words.
    """

    def read(text: str) -> float | str:
        from fluxlab import units

        comma = QLocale().decimalPoint() == ","
        found = units.parse(text, quantity, decimal_comma=comma, unit=unit, most=most)
        if found.value is None:
            return found.problem
        if above_zero and found.value <= 0.0:
            return f"{what} must be above zero."
        return found.value

    return read


def optional(read: Reader) -> Callable[[str], float | str | None]:
    """The same reader for a cell that may be emptied."""
    return lambda text: read(text) if text.strip() else None


def signed(read: Reader) -> Reader:
    """The same reader for a quantity that may be below zero."""

    def read_signed(text: str) -> float | str:
        stripped = text.strip()
        if not stripped.startswith(("-", "−")):
            return read(text)
        found = read(stripped[1:])
        return found if isinstance(found, str) else -found

    return read_signed
