"""What was seen after a melt, and the causes that it points to, as plain values."""

from dataclasses import dataclass

from fluxlab.issue import Issue


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing that can be seen: its key, the group it is listed in, its words, and where the table has it from.

    `points_to` are causes with how strongly the look speaks for each, from 0 to 1, judgement.
    """

    key: str
    group: str
    words: str
    source: str
    points_to: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Cause:
    """One probable cause. `share` [%] is its part of what the causes that were looked at come to together.

    `why` says what of this recipe makes it likely or unlikely, with figures; `change` what to do; `may_be_mended` tells
    that some edit of a recipe makes it; `seen` are the observations that point to it.
    """

    key: str
    words: str
    share: float
    why: str
    change: str
    may_be_mended: bool
    source: str
    seen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Causes by falling likelihood, and what could not be understood of what was said."""

    causes: tuple[Cause, ...]
    issues: tuple[Issue, ...] = ()
