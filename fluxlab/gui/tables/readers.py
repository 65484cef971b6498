"""Readers of typed numbers, put together: above zero, may be empty, may be below zero."""

from collections.abc import Callable

from fluxlab.gui.widgets.fields import Reader


def above_zero(read: Reader, what: str) -> Reader:
    """The same reader for what must be above zero; `what` begins the sentence."""

    def read_positive(text: str) -> float | str:
        found = read(text)
        return f"{what} must be above zero." if not isinstance(found, str) and found <= 0.0 else found

    return read_positive


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
