"""What an operator typed, read as a number in the program's own unit, or the sentence that says why not."""

from typing import TYPE_CHECKING

from fluxlab.gui.widgets.fields import Reader, decimal_mark, show_exact

if TYPE_CHECKING:
    from fluxlab.units import Quantity


def reader(quantity: "Quantity", lo: float | None = None, hi: float | None = None, name: str = "") -> Reader:
    """A reader for amounts of `quantity` from `lo` to `hi` in the program's own unit; `name` is for the sentence."""

    def read(words: str) -> float | str:
        from fluxlab import units

        found = units.parse(words, quantity, decimal_comma=decimal_mark() == ",", most=hi)
        if found.value is None:
            return found.problem
        if lo is not None and found.value < lo:
            return f"{name or 'It'} cannot be below {show_exact(lo, 0)}. {show_exact(found.value, 0)} was not taken."
        return found.value

    return read


def read_mass(words: str) -> float | str:
    """A weight [g] from text such as "12.5", "12.5 g" or "2 ozt"."""
    return reader("mass")(words)


def reader_for_unit(unit: str) -> Reader:
    """A reader for a target's limit that is shown in `unit`."""
    quantities: dict[str, Quantity] = {"g": "mass", "mm": "length", "%": "share", "°C": "temperature", "min": "time"}
    return reader(quantities.get(unit, "number"))
