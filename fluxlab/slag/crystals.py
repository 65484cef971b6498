"""Crystals that are likely in a slag, as ranges of temperature and not as a verdict.

What sets them off stands in resources/slag/crystals.toml and may be replaced by the operator's own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from fluxlab import resources
from fluxlab.issue import Issue, warning
from fluxlab.materials.oxides import Vec
from fluxlab.slag.liquidus import spinel_of
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp
from fluxlab.slag.spread import ERRORS


@dataclass(frozen=True, slots=True)
class Passing:
    """A share of the slag to be passed: of what, where it starts to count and where it counts in full [mass %]."""

    of: str
    starts: float
    full: float


@dataclass(frozen=True, slots=True)
class Trigger:
    """What sets a warning off, below which temperatures [degC] (none: those of spinel), and in which words."""

    name: str
    shares: tuple[Passing, ...]
    low: float | None
    high: float | None
    sentence: str
    remedy: str
    judgement: bool
    source: str


@dataclass(frozen=True, slots=True)
class Crystals:
    """Crystals that are likely below a temperature between `low` and `high` [degC]; `strength` [0..1] grows with what
    sets them off.
    """

    trigger: Trigger
    strength: float
    low: float
    high: float

    def issue(self, temperature: float) -> Issue | None:
        """The warning at a temperature [degC]; None where the melt is hotter than the whole range."""
        if temperature >= self.high:
            return None
        name, judged = self.trigger.name, " (judgement)" if self.trigger.judgement else ""
        said = (
            f"{name} likely below some temperature between {self.low:.0f} and {self.high:.0f} °C{judged}:"
            f" {self.trigger.sentence}."
        )
        return warning("slag", said, self.trigger.remedy)


def read_triggers(document: Mapping[str, Any]) -> tuple[Trigger, ...]:
    """Triggers from a document like resources/slag/crystals.toml; raises KeyError where a row lacks something."""
    return tuple(
        Trigger(
            name=row["name"],
            shares=tuple(Passing(each["of"], each["starts"], each["full"]) for each in row["shares"]),
            low=row["low"] if row.get("at") != "spinel" else None,
            high=row["high"] if row.get("at") != "spinel" else None,
            sentence=row["sentence"],
            remedy=row["remedy"],
            judgement=row["judgement"],
            source=row["source"],
        )
        for row in document["crystal"]
    )


def default_triggers() -> tuple[Trigger, ...]:
    """The triggers as shipped."""
    return read_triggers(resources.toml("slag/crystals.toml"))


def crystals(n: Vec, triggers: Sequence[Trigger] | None = None) -> tuple[Crystals, ...]:
    """Crystals likely in one melt (oxides) [mol], the likeliest first; none where nothing can be told of it."""
    made = melts(n)
    if not made.told[0]:
        return ()
    found = [_found(made, each) for each in (default_triggers() if triggers is None else triggers)]
    return tuple(sorted((each for each in found if each.strength > 0.0), key=lambda each: -each.strength))


def _found(made: Melts, trigger: Trigger) -> Crystals:
    shares = made.shares(share_masses([each.of for each in trigger.shares]))[:, 0]
    passed = [float(ramp(share, each.starts, each.full)) for share, each in zip(shares, trigger.shares, strict=True)]
    low, high = trigger.low, trigger.high
    if low is None or high is None:
        middle, off = float(spinel_of(made)[0]), ERRORS["liquidus"].half90
        low, high = middle - off, middle + off
    return Crystals(trigger, float(np.prod(passed)), low, high)
