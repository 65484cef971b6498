"""What sets a warning of crystals off, and the operator's own figures in its place."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isfinite

from fluxlab.issue import Issue, warning
from fluxlab.slag.crystals import Trigger, default_triggers

HOTTEST = 3000.0
_WORDS = {"starts": "from where it counts", "full": "where it counts in full", "low": "from", "high": "to"}


@dataclass(frozen=True, slots=True)
class CrystalFigure:
    """One figure of a trigger that the operator may replace, in `unit`; `key` is the name by which that is done."""

    key: str
    words: str
    unit: str
    shipped: float
    source: str


def crystal_figures() -> tuple[CrystalFigure, ...]:
    """Every figure that sets a warning of crystals off: shares [mass %] and temperatures [degC], as shipped."""
    return tuple(figure for trigger in default_triggers() for figure in _of_trigger(trigger))


def _of_trigger(t: Trigger) -> list[CrystalFigure]:
    stands = f"judgement: {t.source.removeprefix('judgement; ')}" if t.judgement else t.source
    found = [
        CrystalFigure(
            f"{t.name}|{each.of}|{end}", f"{t.name}: {each.of} {_WORDS[end]}", "%", getattr(each, end), stands
        )
        for each in t.shares
        for end in ("starts", "full")
    ]
    for end, value in (("low", t.low), ("high", t.high)):
        if value is not None:
            found.append(CrystalFigure(f"{t.name}||{end}", f"{t.name}: likely {_WORDS[end]}", "°C", value, stands))
    return found


def sensible_crystals(figures: Mapping[str, float]) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures that make sense, by key, and what is said of the others."""
    known = {figure.key: figure for figure in crystal_figures()}
    kept: dict[str, float] = {}
    issues = []
    for key, value in figures.items():
        figure = known.get(key)
        most = 100.0 if figure is not None and figure.unit == "%" else HOTTEST
        if figure is None:
            issues.append(warning("crystals", f"No crystals have a figure called “{key}”.", "Remove it."))
        elif not isfinite(value) or not 0.0 <= value <= most:
            sentence = f"{value:g} {figure.unit} cannot be a limit for crystals; the program's own figure is used."
            issues.append(warning("crystals", sentence, f"Give 0 to {most:g} {figure.unit}."))
        else:
            kept[key] = value
    return kept, tuple(issues)


def triggers_with(own: Mapping[str, float]) -> tuple[Trigger, ...]:
    """The triggers as shipped, with the operator's figures in place of theirs."""
    kept, _ = sensible_crystals(own) if own else ({}, ())
    return tuple(_replaced(t, kept) for t in default_triggers()) if kept else default_triggers()


def _replaced(t: Trigger, own: Mapping[str, float]) -> Trigger:
    shares = tuple(
        replace(
            each,
            starts=own.get(f"{t.name}|{each.of}|starts", each.starts),
            full=own.get(f"{t.name}|{each.of}|full", each.full),
        )
        for each in t.shares
    )
    low, high = (own.get(f"{t.name}||{end}", value) for end, value in (("low", t.low), ("high", t.high)))
    if low is not None and high is not None:
        low, high = min(low, high), max(low, high)
    mine = any(key.startswith(f"{t.name}|") for key in own)
    source = "your own figures in part" if mine else t.source
    return replace(t, shares=shares, low=low, high=high, source=source, judgement=t.judgement or mine)
