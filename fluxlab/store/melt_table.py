"""Every entry of the melt record as a table for a spreadsheet, with what follows from its figures."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import datetime
from functools import partial
from typing import get_args

from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing
from fluxlab.learn.yields import (
    ALL_HELD,
    METALS,
    Metal,
    Recovery,
    fineness_error,
    impossible,
    recovery_of,
    row_of,
    yield_of,
)
from fluxlab.materials.estimate import Estimate
from fluxlab.store.keys import FIGURES, Figure
from fluxlab.store.reader import hints, key_of
from fluxlab.store.rows import KeptMelt

SUPERSEDED, STRUCK, STANDS = "superseded", "struck", "stands"
APART = "stands apart"
_TOLD_APART = ("weighed", "fineness", "beforehand", "seen", "struck", "notes")
_PERCENT, _GRAMS = Figure("%"), Figure("g")


@dataclass(frozen=True, slots=True)
class _Column:
    key: str
    of: Callable[[KeptMelt], object]


def melts_table(kept: Sequence[KeptMelt], ore_name: Callable[[str], str] = lambda ore: "") -> list[list[str]]:
    """Entries as rows under a line of keys that name the units, figures with a point.

    Weights and predictions stand as they were read and said (where a prediction comes from, only the document tells),
    what was measured is never cut. A likely range of what came back ends at all that was held, as on the screen;
    figures over that are marked. `state` says whether a later entry has taken the place of this one.
    """
    columns = (
        *_entry(kept, ore_name),
        *_as_entered(),
        *_weighings(kept),
        *_fineness(),
        *_predictions(),
        *_reckoned(),
        *(column for metal in METALS for column in _metal(metal, kept)),
        _Column("seen", lambda each: " ".join(each.melt.seen)),
        _Column("notes", lambda each: each.melt.notes),
    )
    return [[column.key for column in columns], *([_shown(column.of(each)) for column in columns] for each in kept)]


def _entry(kept: Sequence[KeptMelt], ore_name: Callable[[str], str]) -> Iterator[_Column]:
    later = {each.melt.replaces: each.melt.uid for each in kept if each.melt.replaces}
    yield _Column("number", lambda each: each.number)
    yield _Column("entry", lambda each: each.entry)
    yield _Column("recorded", lambda each: each.recorded)
    yield _Column("state", lambda each: _state(each, later))
    yield _Column("superseded_by", lambda each: later.get(each.melt.uid))
    yield _Column("ore_name", lambda each: ore_name(each.melt.ore))


def _state(each: KeptMelt, later: Mapping[str, str]) -> str:
    return SUPERSEDED if each.melt.uid in later else STRUCK if each.melt.struck else STANDS


def _as_entered() -> Iterator[_Column]:
    for field in fields(Melt):
        if field.name not in _TOLD_APART:
            yield _Column(key_of(FIGURES, Melt, field.name), partial(_own, field.name))


def _own(name: str, each: KeptMelt) -> object:
    return getattr(each.melt, name)


def _weighings(kept: Sequence[KeptMelt]) -> Iterator[_Column]:
    """Two columns for everything that was ever weighed, in the order in which it first was."""
    names: dict[str, str] = {}
    for weighing in (weighing for each in kept for weighing in each.melt.weighed):
        names.setdefault(weighing.what, weighing.name)
    alike = Counter(names.values())
    for what, name in names.items():
        title = name if alike[name] == 1 else f"{name} ({what})"
        for part in ("asked", "read"):
            yield _Column(f"{title} {key_of(FIGURES, Weighing, part)}", partial(_weight, what, part))


def _weight(what: str, part: str, each: KeptMelt) -> object:
    return next((getattr(weighing, part) for weighing in each.melt.weighed if weighing.what == what), None)


def _fineness() -> Iterator[_Column]:
    for field in fields(Fineness):
        yield _Column(f"fineness_{key_of(FIGURES, Fineness, field.name)}", partial(_fine, field.name))
    yield _Column("fineness_error_counted_percent", _error_counted)


def _fine(name: str, each: KeptMelt) -> object:
    return None if each.melt.fineness is None else getattr(each.melt.fineness, name)


def _error_counted(each: KeptMelt) -> object:
    return None if each.melt.fineness is None else _reckon(100.0 * fineness_error(each.melt.fineness))


def _predictions() -> Iterator[_Column]:
    """What was known and said before the pour: a figure, or three where it has a range."""
    for name, hint in hints(Beforehand).items():
        figure = FIGURES[Beforehand][name]
        yield _Column(f"said_{figure.key(name)}", partial(_said, name, "value"))
        if Estimate in get_args(hint):
            for end in ("low", "high"):
                yield _Column(f"said_{figure.key(f'{name}_{end}')}", partial(_said, name, end))


def _said(name: str, part: str, each: KeptMelt) -> object:
    said = getattr(each.melt.beforehand, name)
    return _reckon(getattr(said, part) if isinstance(said, Estimate) else said)


def _reckoned() -> Iterator[_Column]:
    yield _Column("charge_g", lambda each: each.melt.charge)
    yield _Column("total_g", lambda each: each.melt.total)
    for key, part in (("yield", "value"), ("yield_low", "low"), ("yield_high", "high")):
        yield _Column(_PERCENT.key(key), partial(_yield, part))
    yield _Column("impossible", lambda each: impossible(each.melt))


def _yield(part: str, each: KeptMelt) -> object:
    return _part(yield_of(each.melt), part)


def _metal(metal: Metal, kept: Sequence[KeptMelt]) -> Iterator[_Column]:
    """What came back of one metal, and whether the melt counts in its mean."""
    apart = _apart(kept, metal)

    def found(each: KeptMelt) -> Recovery:
        return recovery_of(each.melt, metal)

    def end(each: KeptMelt, part: str) -> object:
        value = found(each).value
        return None if value is None else _reckon(min(getattr(value, part), ALL_HELD))

    yield _Column(_GRAMS.key(f"{metal}_held"), lambda each: _reckon(found(each).held))
    yield _Column(_GRAMS.key(f"{metal}_got"), lambda each: _reckon(found(each).got))
    yield _Column(_PERCENT.key(f"{metal}_recovery"), lambda each: _part(found(each).value, "value"))
    yield _Column(_PERCENT.key(f"{metal}_recovery_low"), lambda each: end(each, "low"))
    yield _Column(_PERCENT.key(f"{metal}_recovery_high"), lambda each: end(each, "high"))
    yield _Column(_PERCENT.key(f"{metal}_at_most"), lambda each: _reckon(found(each).at_most))
    yield _Column(f"{metal}_over_what_was_held", lambda each: _over(found(each)))
    yield _Column(f"{metal}_missing", lambda each: found(each).why)
    yield _Column(f"{metal}_left_out_of_mean", lambda each: apart.get(each.melt.uid))


def _over(found: Recovery) -> str:
    return "" if found.value is None else "yes" if found.value.value > ALL_HELD else "no"


def _apart(kept: Sequence[KeptMelt], metal: Metal) -> dict[str, str]:
    """Why a standing entry is left out of the mean of its ore, by its id."""
    later = {each.melt.replaces for each in kept}
    standing = [each.melt for each in kept if each.melt.uid not in later and not each.melt.struck]
    found: dict[str, str] = {}
    for ore in dict.fromkeys(melt.ore for melt in standing):
        own = [melt for melt in standing if melt.ore == ore]
        row = row_of(own, metal)
        found |= dict.fromkeys(row.apart, APART)
        found |= {melt.uid: impossible(melt) for melt in own if melt.uid in row.impossible}
    return found


def _part(value: object, part: str) -> object:
    return None if value is None else _reckon(getattr(value, part))


def _reckon(value: object) -> object:
    """A figure that was reckoned, with the places that are worth telling."""
    return f"{value:.6g}" if isinstance(value, float) else value


def _shown(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="seconds")
    return str(value)
