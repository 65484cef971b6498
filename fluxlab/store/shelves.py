"""Shelves put together: what a recipe uses, an opened recipe on today's shelf, and changes of two windows."""

from dataclasses import fields, replace
from typing import Protocol, TypeVar

from fluxlab.design.recipe import Recipe, Shelf, Work
from fluxlab.design.workshop import Workshop
from fluxlab.issue import Issue, note
from fluxlab.materials.flux_types import ByParts, Component


class Thing(Protocol):
    """Whatever stands on a shelf."""

    @property
    def uid(self) -> str:
        """Its id."""

    @property
    def name(self) -> str:
        """Its name."""


Item = TypeVar("Item", bound=Thing)


def used_shelf(work: Work) -> Shelf:
    """The shelf with only what the recipe uses: its fluxes and their parts, its pot and its mould."""
    recipe, shelf = work.recipe, work.shelf
    wanted = {line.flux for line in recipe.lines} | {flux for flux, _ in recipe.house}
    seen: set[str] = set()
    while wanted:
        uid = wanted.pop()
        seen.add(uid)
        component = shelf.flux(uid)
        if component is not None and isinstance(component.made_of, ByParts):
            wanted |= {part.flux for part in component.made_of.parts} - seen
    return replace(
        shelf,
        fluxes=tuple(c for c in shelf.fluxes if c.uid in seen),
        crucibles=tuple(c for c in shelf.crucibles if c.uid == recipe.crucible),
        moulds=tuple(m for m in shelf.moulds if m.uid == recipe.mould),
        notes="",
    )


def on_shelf(recipe: Recipe, kept: Shelf, today: Shelf) -> tuple[Work, tuple[Issue, ...]]:
    """A recipe on today's shelf; what it was kept with and today's shelf lacks is added to it.

    Where both have it but differ, today's counts, and a note says so.
    """
    issues: list[Issue] = []
    shelf = replace(
        today,
        fluxes=_joined(kept.fluxes, today.fluxes, issues),
        crucibles=_joined(kept.crucibles, today.crucibles, issues),
        moulds=_joined(kept.moulds, today.moulds, issues),
    )
    return Work(recipe, shelf), tuple(issues)


def merged(since: Shelf, ours: Shelf, theirs: Shelf) -> Shelf:
    """The shelf with our changes since `since` put on top of theirs."""
    return Shelf(
        fluxes=_merged(since.fluxes, ours.fluxes, theirs.fluxes),
        crucibles=_merged(since.crucibles, ours.crucibles, theirs.crucibles),
        moulds=_merged(since.moulds, ours.moulds, theirs.moulds),
        balance_step=theirs.balance_step if ours.balance_step == since.balance_step else ours.balance_step,
        currency=theirs.currency if ours.currency == since.currency else ours.currency,
        notes=theirs.notes if ours.notes == since.notes else ours.notes,
        workshop=_merged_card(since.workshop, ours.workshop, theirs.workshop),
    )


def _merged_card(since: Workshop, ours: Workshop, theirs: Workshop) -> Workshop:
    """The card with each fact that we changed since on top of theirs."""
    pairs = ((f.name, getattr(ours, f.name)) for f in fields(Workshop))
    return replace(theirs, **{name: value for name, value in pairs if value != getattr(since, name)})


def _joined(kept: tuple[Item, ...], today: tuple[Item, ...], issues: list[Issue]) -> tuple[Item, ...]:
    present = {item.uid: item for item in today}
    added = tuple(item for item in kept if item.uid not in present)
    for item in kept:
        if item.uid in present and _essence(item) != _essence(present[item.uid]):
            issues.append(
                note(
                    f"shelf.{item.uid}",
                    f"{present[item.uid].name} was changed after this recipe was kept; today's shelf counts.",
                    "Compare it on the Shelf place if the figures have moved.",
                )
            )
    issues.extend(
        note(f"shelf.{item.uid}", f"{item.name} came with the recipe and now stands on the shelf.") for item in added
    )
    return (*today, *added)


def _essence(item: Thing) -> Thing:
    # Stock and price move every day and change no figure of the melt.
    return replace(item, stock=None, price=None) if isinstance(item, Component) else item


def _merged(since: tuple[Item, ...], ours: tuple[Item, ...], theirs: tuple[Item, ...]) -> tuple[Item, ...]:
    before = {item.uid: item for item in since}
    mine = {item.uid: item for item in ours}
    kept = []
    for item in theirs:
        uid = item.uid
        if uid in mine:
            kept.append(item if mine[uid] == before.get(uid) else mine[uid])
        elif item != before.get(uid):
            kept.append(item)
    known = {item.uid for item in theirs}
    # What we have and they have not: new from us, or removed by them; ours stays when we changed it.
    return (*kept, *(item for item in ours if item.uid not in known and item != before.get(item.uid)))
