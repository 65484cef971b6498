"""Melts as a table for a spreadsheet, with what follows from their figures."""

from collections.abc import Sequence
from dataclasses import fields

from fluxlab.learn.melt import Melt
from fluxlab.learn.yields import recovery_of, yield_of
from fluxlab.store.keys import FIGURES
from fluxlab.store.reader import key_of
from fluxlab.store.rows import KeptMelt

_TOLD_APART = ("weighed", "fineness", "beforehand", "seen", "struck")
_ADDED = (
    "charge_g",
    "total_g",
    "silver_percent",
    "gold_percent",
    "fineness_by",
    "silver_held_g",
    "yield_percent",
    "recovery_percent",
    "recovery_low_percent",
    "recovery_high_percent",
    "seen",
)


def melts_table(kept: Sequence[KeptMelt]) -> list[list[str]]:
    """Melts as rows under a line of keys, figures with a point: the keys name the units."""
    plain = [field.name for field in fields(Melt) if field.name not in _TOLD_APART]
    names = [name for name in plain if name != "notes"]
    head = ["number", *(key_of(FIGURES, Melt, name) for name in names), *_ADDED, "notes"]
    return [head, *(_cells(each, names) for each in kept)]


def _cells(kept: KeptMelt, names: Sequence[str]) -> list[str]:
    melt = kept.melt
    own = [_shown(getattr(melt, name)) for name in names]
    fine = melt.fineness
    found, yields = recovery_of(melt), yield_of(melt)
    recovery = found.value
    added = (
        melt.charge,
        melt.total,
        fine and fine.silver,
        fine and fine.gold,
        fine and fine.by,
        found.held,
        yields and yields.value,
        recovery and recovery.value,
        recovery and recovery.low,
        recovery and recovery.high,
        " ".join(melt.seen),
    )
    return [str(kept.number), *own, *map(_shown, added), melt.notes]


def _shown(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.6g}"
    return str(value)
