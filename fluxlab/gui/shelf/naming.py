"""Names and ids of things on the shelf: refused when empty or taken, and never the same id twice."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from typing import Protocol, TypeVar


class Thing(Protocol):
    """Whatever stands on the shelf."""

    @property
    def uid(self) -> str:
        """Its id."""

    @property
    def name(self) -> str:
        """Its name."""


T = TypeVar("T")


def refusal(name: str, things: Iterable[Thing], own_uid: str = "") -> str:
    """Why a thing cannot have this name, empty when it can."""
    if not name.strip():
        return "A name is needed, so that the ticket can say it."
    if any(t.uid != own_uid and t.name.casefold() == name.strip().casefold() for t in things):
        return f"There is already “{name.strip()}” on the shelf; choose another name."
    return ""


def free_name(wanted: str, things: Iterable[Thing]) -> str:
    """The name, with a number when it is taken."""
    taken = {t.name.casefold() for t in things}
    name, count = wanted, 2
    while name.casefold() in taken:
        name, count = f"{wanted} {count}", count + 1
    return name


def free_uid(name: str, things: Iterable[Thing]) -> str:
    """An id made of the name, with a number when it is taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "thing"
    taken = {t.uid for t in things}
    uid, count = stem, 2
    while uid in taken:
        uid, count = f"{stem}-{count}", count + 1
    return uid


def copied(thing: T, things: Iterable[Thing]) -> T:
    """A copy with a name and an id of its own."""
    everything = tuple(things)
    name = free_name(f"{thing.name}, copy", everything)  # type: ignore[attr-defined]
    return replace(thing, name=name, uid=free_uid(name, everything))  # type: ignore[type-var]
