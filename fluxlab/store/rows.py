"""What the library answers, as plain values. Times are in UTC."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from fluxlab.design.recipe import Work
from fluxlab.issue import Issue
from fluxlab.learn.melt import Melt


@dataclass(frozen=True, slots=True)
class OreRow:
    """One ore type in the tree: its group, its name and how many recipes stand under it."""

    uid: str
    group: str
    name: str
    recipes: int
    archived: bool


@dataclass(frozen=True, slots=True)
class RecipeRow:
    """One recipe under its ore type, with its latest revision."""

    uid: str
    ore: str
    name: str
    latest: int
    saved: datetime
    note: str
    archived: bool


@dataclass(frozen=True, slots=True)
class Hit:
    """What a search found: an ore type, or a recipe under it."""

    ore: OreRow
    recipe: RecipeRow | None


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of a recipe, as kept."""

    recipe: str
    number: int
    saved: datetime
    note: str


@dataclass(frozen=True, slots=True)
class Loaded:
    """An opened recipe on today's shelf; the issues say what has moved since it was kept.

    `revision` is the one it comes from, None for a draft that was never kept.
    """

    work: Work
    revision: int | None
    issues: tuple[Issue, ...] = ()


@dataclass(frozen=True, slots=True)
class DraftRow:
    """An unsaved state of a recipe: of this window, of one that is gone, or of one that is open elsewhere."""

    recipe: str
    token: str
    name: str
    ore_name: str
    base: int | None
    saved: datetime
    owner: Literal["this", "gone", "elsewhere"]


@dataclass(frozen=True, slots=True)
class PrintedTicket:
    """A ticket as it was printed; `number` counts all tickets of the library, `copy` those of one revision."""

    number: int
    ore: str
    recipe: str
    revision: int | None
    copy: int
    printed: datetime
    confirmed: tuple[str, ...]
    document: str


@dataclass(frozen=True, slots=True)
class KeptMelt:
    """A melt as it stands on record: `number` counts the melts of its ore type, `entry` all entries of the library.

    `corrected` is how often an entry before this one was replaced.
    """

    number: int
    entry: int
    melt: Melt
    recorded: datetime
    corrected: int
