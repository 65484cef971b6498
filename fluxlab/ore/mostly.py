"""The by-eye list for a new ore type: what it mostly is, with wide ranges. Every share is our judgement."""

from dataclasses import dataclass
from functools import cache

from fluxlab import resources
from fluxlab.ore.ore_types import Grade, OreType, Share

UNKNOWN = "unknown"
"""Key of “I don't know”."""


@dataclass(frozen=True, slots=True)
class Mostly:
    """One entry of the list: its key, its words, and the minerals that it stands for [mass %]."""

    key: str
    label: str
    minerals: tuple[Share, ...]


@cache
def choices() -> tuple[Mostly, ...]:
    """The list as shown, “I don't know” last."""
    document = resources.toml("by_eye.toml")
    return tuple(
        Mostly(key, row["label"], tuple(_share(*mineral) for mineral in row["minerals"]))
        for key, row in document.items()
    )


def new_ore(uid: str, name: str, mostly: str, silver: Grade | None = None, group: str = "") -> OreType:
    """A new ore type from the three things asked; a key that is not in the list counts as “I don't know”."""
    found = {choice.key: choice for choice in choices()}
    choice = found.get(mostly, found[UNKNOWN])
    return OreType(uid=uid, name=name, group=group, minerals=choice.minerals, silver=silver)


def _share(what: str, low: float, likely: float, high: float) -> Share:
    return Share(what, float(likely), float(low), float(high), "by-eye list, judgement")
