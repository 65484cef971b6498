"""The smallest values that every part of a report is made of."""

from dataclasses import dataclass
from typing import Literal

Answer = Literal["yes", "close", "no", "unknown"]


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure with its likely range (9 in 10), None where no range can be given."""

    value: float
    low: float | None = None
    high: float | None = None


NONE = Amount(0.0)
"""Nothing, for certain."""


@dataclass(frozen=True, slots=True)
class Mend:
    """One click that betters a verdict: the words on the button and the edit, by name and arguments."""

    words: str
    edit: str
    arguments: tuple[object, ...] = ()
