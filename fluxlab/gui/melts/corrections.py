"""What the entries of a melt have changed, each against the one that it took the place of."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields
from itertools import pairwise
from typing import TYPE_CHECKING

from fluxlab.gui.melts.fields import SPECS, value_in
from fluxlab.gui.widgets.fields import show_exact

if TYPE_CHECKING:
    from fluxlab.learn.melt import Melt

NONE = "left empty"
FINENESS = (("silver", "silver in the button"), ("gold", "gold in the button"), ("error", "error of the fineness"))

BY: Mapping[str, str] = {"assayer": "an assayer", "x-ray gun": "an x-ray gun", "own guess": "own guess"}
TOLD = {"uid", "replaces", "poured", "fineness", "weighed", "beforehand", "seen", "notes"} | {s.name for s in SPECS}
"""Fields of a melt that have words of their own; of any other at least its name is told."""


def corrections(entries: "Sequence[Melt]") -> tuple[str, ...]:
    """A sentence for each correction: the figures that it changed, with what stood there before."""
    return tuple(_sentence(old, new) for old, new in pairwise(entries))


def _sentence(old: "Melt", new: "Melt") -> str:
    changed = ", ".join(_changed(old, new))
    when = f"{new.poured:%Y-%m-%d %H:%M}"
    poured = [] if old.poured == new.poured else [f"poured {when}, was {old.poured:%Y-%m-%d %H:%M}"]
    told = ", ".join(part for part in (*poured, changed) if part)
    return f"Corrected: {told}." if told else "Entered anew, nothing changed."


def _changed(old: "Melt", new: "Melt") -> Iterator[str]:
    for spec in SPECS:
        before, after = value_in(old, spec), value_in(new, spec)
        if before != after:
            yield _pair(spec.words.lower(), before, after, spec.unit)
    for part, words in FINENESS:
        before, after = (None if m.fineness is None else getattr(m.fineness, part) for m in (old, new))
        if before != after:
            yield _pair(words, before, after, "%")
    if old.fineness is not None and new.fineness is not None and old.fineness.by != new.fineness.by:
        yield f"fineness by {BY[new.fineness.by]}, was by {BY[old.fineness.by]}"
    for one, other in zip(old.weighed, new.weighed, strict=False):
        if one.read != other.read:
            yield _pair(other.name.lower(), one.read, other.read, "g")
    if old.beforehand != new.beforehand:
        yield "grade of the ore taken anew"
    for words, was, now in (("what was seen", old.seen, new.seen), ("notes", old.notes, new.notes)):
        if was != now:
            yield words
    for field in fields(new):
        if field.name not in TOLD and getattr(old, field.name) != getattr(new, field.name):
            yield field.name.replace("_", " ")


def _pair(words: str, before: float | None, after: float | None, unit: str) -> str:
    return f"{words} {_figure(after, unit)}, was {_figure(before, unit)}"


def _figure(value: float | None, unit: str) -> str:
    return NONE if value is None else f"{show_exact(value, 0)} {unit}".rstrip()
