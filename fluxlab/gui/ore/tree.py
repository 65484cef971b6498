"""The ore types of the library as the left column shows them: groups, ore types, recipes; and what a search leaves."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

NO_GROUP = "No place named"


@dataclass(frozen=True, slots=True)
class RecipeEntry:
    """One saved recipe of an ore type."""

    uid: str
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class OreEntry:
    """One ore type with its recipes, the latest first."""

    uid: str
    name: str
    group: str = ""
    note: str = ""
    recipes: tuple[RecipeEntry, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """A place or other group of ore types."""

    name: str
    ores: tuple[OreEntry, ...]


def grouped(ores: Iterable[OreEntry]) -> tuple[Group, ...]:
    """Ore types by group, both by name; those without a group stand last."""
    by_name: dict[str, list[OreEntry]] = {}
    for ore in ores:
        by_name.setdefault(ore.group.strip(), []).append(ore)
    names = sorted(by_name, key=lambda name: (not name, name.casefold()))
    return tuple(
        Group(name or NO_GROUP, tuple(sorted(by_name[name], key=lambda ore: ore.name.casefold()))) for name in names
    )


def searched(groups: Iterable[Group], text: str) -> tuple[Group, ...]:
    """What a search leaves: every word must be found in the group, the ore type or the recipe.

    An ore type that is found itself keeps all its recipes; else only the recipes that were found stay.
    """
    words = text.casefold().split()
    if not words:
        return tuple(groups)
    kept = []
    for group in groups:
        ores = tuple(ore for entry in group.ores if (ore := _searched_ore(entry, group.name, words)) is not None)
        if ores:
            kept.append(Group(group.name, ores))
    return tuple(kept)


def _searched_ore(ore: OreEntry, group: str, words: list[str]) -> OreEntry | None:
    own = f"{group} {ore.name} {ore.note}".casefold()
    if all(word in own for word in words):
        return ore
    recipes = tuple(r for r in ore.recipes if all(word in f"{own} {r.name} {r.note}".casefold() for word in words))
    return replace(ore, recipes=recipes) if recipes else None
