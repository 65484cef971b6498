"""Frozen values to plain JSON values and back, by the types of their fields.

Reading is strict: what is unknown, missing or of the wrong kind is an Issue that names the path, and all of them come
together. What was written is read back equal.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime
from math import isfinite
from typing import Any, Generic, TypeVar

from fluxlab.issue import Issue
from fluxlab.store.keys import FIGURES
from fluxlab.store.reader import TAG, TAGS, Figures, Reader, key_of

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Read(Generic[T]):
    """What was read: the value, or None and the issues that stand against it."""

    value: T | None
    issues: tuple[Issue, ...] = ()


class Codec:
    """Writes and reads values whose numbers are described by `figures`."""

    def __init__(self, figures: Figures) -> None:
        self._figures = figures

    def plain(self, value: object) -> Any:
        """The plain JSON value of a frozen value; a number that is none raises ValueError, for it is our own fault."""
        if is_dataclass(value) and not isinstance(value, type):
            kind = type(value)
            tag = {TAG: TAGS[kind]} if kind in TAGS else {}
            return tag | {key_of(self._figures, kind, f.name): self.plain(getattr(value, f.name)) for f in fields(kind)}
        if isinstance(value, str):
            return str(value) if value.isascii() else value.encode("utf-8", "replace").decode("utf-8")
        if isinstance(value, float) and not isfinite(value):
            raise ValueError(f"{value} cannot be written")
        if isinstance(value, datetime):
            return value.isoformat()
        if isinstance(value, frozenset):
            return sorted(self.plain(item) for item in value)
        if isinstance(value, tuple):
            return [self.plain(item) for item in value]
        if isinstance(value, Mapping):
            return {str(k): self.plain(v) for k, v in value.items()}
        if value is None or isinstance(value, (bool, int, float)):
            return value
        raise TypeError(f"{type(value).__name__} cannot be written")

    def value(self, kind: type[T], plain: object, where: str, *, ranges: bool = True) -> Read[T]:
        """The value of type `kind` that a plain JSON value stands for; `where` is its path for the issues.

        With `ranges` a number outside what makes sense (a negative mass) is refused too.
        """
        reader = Reader(self._figures, ranges)
        found = reader.read(kind, plain, where, None)
        return Read(None, tuple(reader.issues)) if reader.issues else Read(found)


CODEC = Codec(FIGURES)
