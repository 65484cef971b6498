"""Edits of the ore type."""

from collections.abc import Sequence
from typing import Literal

from fluxlab.design.edits.common import Edited, figure, with_ore, with_recipe
from fluxlab.design.recipe import Work
from fluxlab.ore.ore_types import Grade, OreType, Share

KnownBy = Literal["minerals", "oxides", "elements"]


def _shares(work: Work, kind: KnownBy) -> tuple[Share, ...]:
    shares: tuple[Share, ...] = getattr(work.recipe.ore, kind)
    return shares


def set_ore(work: Work, ore: OreType, label: str = "Ore type") -> Edited:
    """Replace the ore type as a whole."""
    return label, with_recipe(work, ore=ore)


def set_known_by(work: Work, kind: KnownBy) -> Edited:
    """Choose which of the three descriptions counts."""
    words = {"minerals": "minerals by eye", "oxides": "oxide assay", "elements": "element assay"}
    return f"Known by {words[kind]}", with_ore(work, known_by=kind)


def set_share(work: Work, kind: KnownBy, index: int, share: Share) -> Edited:
    """Replace one row of a description [mass %]."""
    shares = _shares(work, kind)
    old = shares[index]
    word = f"{figure(old.likely)} → {figure(share.likely)} %" if old.likely != share.likely else "range"
    return f"{share.what} {word}", with_ore(work, **{kind: (*shares[:index], share, *shares[index + 1 :])})


def add_share(work: Work, kind: KnownBy, share: Share) -> Edited:
    """Add a row to a description; a row of the same name is replaced."""
    shares = tuple(s for s in _shares(work, kind) if s.what != share.what)
    return f"Add {share.what}", with_ore(work, **{kind: (*shares, share)})


def remove_share(work: Work, kind: KnownBy, index: int) -> Edited:
    """Take a row out of a description."""
    shares = _shares(work, kind)
    return f"Remove {shares[index].what}", with_ore(work, **{kind: (*shares[:index], *shares[index + 1 :])})


def paste_shares(work: Work, kind: KnownBy, shares: Sequence[Share]) -> Edited:
    """Take over rows from a spreadsheet, replacing rows of the same name: one undo step."""
    new = {s.what: s for s in shares}
    kept = tuple(new.pop(s.what, s) for s in _shares(work, kind))
    return f"Paste {len(shares)} shares", with_ore(work, **{kind: (*kept, *new.values())})


def tick_mineral(work: Work, name: str, on: bool) -> Edited:
    """Allow or forbid a mineral that an assay may be turned into."""
    rest = tuple(m for m in work.recipe.ore.ticked if m != name)
    return f"{'Allow' if on else 'Leave out'} {name}", with_ore(work, ticked=(*rest, name) if on else rest)


def set_grade(work: Work, metal: Literal["silver", "gold"], grade: Grade | None) -> Edited:
    """Set the silver or gold grade, None = unknown."""
    word = "unknown" if grade is None else f"{figure(grade.value)} {grade.unit}"
    return f"{metal.capitalize()} {word}", with_ore(work, **{metal: grade})
