"""Why the recipe is as it is, as plain values: views read these and nothing else."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Move:
    """By how much a flux moves [g]."""

    flux: str
    name: str
    grams: float


@dataclass(frozen=True, slots=True)
class WhyLine:
    """What holds one flux at its weight. `limit` is the target's end that does ("degree#lo"), empty where none does."""

    flux: str
    name: str
    grams: float
    limit: str
    sentence: str


@dataclass(frozen=True, slots=True)
class WhyOxide:
    """What one more gram of an oxide in the charge asks of the fluxes [g].

    Exact for the next `holds_for` grams, None where there is no end to it.
    """

    oxide: str
    moves: tuple[Move, ...]
    holds_for: float | None
    sentence: str


@dataclass(frozen=True, slots=True)
class WhyLimit:
    """What opening one limit that holds the recipe buys: moves, flux altogether [g] and cost [money, None unpriced].

    `by` is how far it is opened, in the unit of the target.
    """

    limit: str
    by: float
    moves: tuple[Move, ...]
    flux: float
    cost: float | None
    sentence: str


@dataclass(frozen=True, slots=True)
class WhyReport:
    """Every reason for the recipe: row by row, oxide by oxide (the heaviest first), limit by limit."""

    lines: tuple[WhyLine, ...]
    oxides: tuple[WhyOxide, ...]
    limits: tuple[WhyLimit, ...]
