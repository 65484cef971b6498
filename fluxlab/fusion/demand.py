"""What reducible oxides of a charge ask of a reducer, and in which order."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from fluxlab import resources
from fluxlab.materials.formulas import atomic_mass, formula

IronState = Literal["ferric", "ferrous", "by reducer"]
"""Common practice, no source: iron and lead routes make FeO, nitre makes Fe2O3; after a roast the balance tells."""


@dataclass(frozen=True, slots=True)
class Demand:
    """One step of reduction: mass of the substance and the oxygen that it gives up [g]; a low rank comes first."""

    substance: str
    becomes: str
    grams: float
    oxygen: float
    rank: int


@dataclass(frozen=True, slots=True)
class Met:
    """How much of a demand [g O] the reducer met [g O]."""

    demand: Demand
    oxygen: float


@cache
def oxygen_demand(substance: str) -> float:
    """Oxygen that one gram of a substance gives up on its way to its usual end state [g O per g]; 0 for any other."""
    return sum(per_gram for _, per_gram, _ in _steps().get(substance, ()))


def demands(feed: Mapping[str, float]) -> tuple[Demand, ...]:
    """What the substances of a feed [g], by formula, give up [g O], in the order in which they are reduced.

    Order: nitrates; copper, silver and bismuth; red lead, manganese, ferric to magnetic iron; litharge; sulphates;
    magnetic iron to FeO, antimony, nickel, tin; zinc. Substances that are not reduced do not appear.
    """
    found = [
        Demand(substance, becomes, grams, grams * per_gram, rank)
        for substance, grams in feed.items()
        for rank, per_gram, becomes in _steps().get(substance, ())
        if grams > 0.0
    ]
    return tuple(sorted(found, key=lambda demand: demand.rank))


@cache
def step_source(substance: str) -> str:
    """Where the place of a substance in the order of reduction and its oxygen are from; empty for any other."""
    return "; ".join(
        dict.fromkeys(row["source"] for row in resources.table("reductions.csv") if row["substance"] == substance)
    )


@cache
def _steps() -> Mapping[str, tuple[tuple[int, float, str], ...]]:
    steps: dict[str, tuple[tuple[int, float, str], ...]] = {}
    for row in resources.table("reductions.csv"):
        substance = row["substance"]
        per_gram = float(row["oxygen"]) * atomic_mass("O") / formula(substance).mass
        steps[substance] = (*steps.get(substance, ()), (int(row["rank"]), per_gram, row["becomes"]))
    return steps
