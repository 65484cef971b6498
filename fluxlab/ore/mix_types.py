"""The ore as a mix of minerals: plain values between the description and the pot."""

from collections.abc import Iterable
from dataclasses import dataclass

from fluxlab.issue import Issue
from fluxlab.materials.minerals import Mineral


@dataclass(frozen=True, slots=True)
class Entry:
    """A mineral's share of the dry material [g/g] with its low and high; `flag` says where the share is from."""

    mineral: Mineral
    likely: float
    low: float
    high: float
    flag: str = ""

    def scaled(self, by: float, flag: str = "") -> "Entry":
        """The same entry with its share and range multiplied."""
        return Entry(self.mineral, self.likely * by, self.low * by, self.high * by, flag or self.flag)


@dataclass(frozen=True, slots=True)
class Explained:
    """How much of an assayed element the mix explains [mass %]."""

    element: str
    assayed: float
    explained: float


@dataclass(frozen=True, slots=True)
class Mix:
    """The described material as minerals [g/g], `unnamed` [g/g] being what an assay leaves out and `missing` [g/g] what
    the shares lacked of a whole before they were scaled to one.

    `residual_percent` is the sum of the differences between assay and mix over the assayed elements [mass %], None
    where there is no assay; `explained` lists them. `pooled` says that the entries are oxides of one assay and not
    minerals, so that its fluorine may take lime of any of them.
    """

    entries: tuple[Entry, ...]
    unnamed: float = 0.0
    residual_percent: float | None = None
    explained: tuple[Explained, ...] = ()
    pooled: bool = False
    missing: float = 0.0
    issues: tuple[Issue, ...] = ()


def merged_entries(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries with those of the same mineral added up [g/g]."""
    merged: dict[str, Entry] = {}
    for e in entries:
        old = merged.get(e.mineral.name)
        if old:
            e = Entry(e.mineral, old.likely + e.likely, old.low + e.low, old.high + e.high, old.flag)
        merged[e.mineral.name] = e
    return tuple(merged.values())
