"""Exposure limits as planning figures: the limit in words, and the air that would thin a mass of it that far.

Limits are data with their sources (resources/exposure.toml). They plan a job; the law of the place decides.
"""

from dataclasses import dataclass
from functools import cache

from fluxlab import resources
from fluxlab.design.cautions.findings import rough


@dataclass(frozen=True, slots=True)
class Exposure:
    """One agent: `limit` [mg/m3] that plans are made with, `basis` says whose it is and as what the agent counts;
    `rel`, `pel`, `idlh` and `other` are the printed limits as text, each with the state of its source."""

    key: str
    name: str
    limit: float
    basis: str
    rel: str
    pel: str
    idlh: str
    other: str
    source: str


@cache
def exposures() -> dict[str, Exposure]:
    """The agents by key."""
    return {key: Exposure(key=key, **row) for key, row in resources.toml("exposure.toml").items()}


def dilution(key: str, grams: float) -> float:
    """Fresh air that thins a mass [g] of an agent to its planning limit [m3]."""
    return 1000.0 * grams / exposures()[key].limit


def air(key: str, grams: float, minutes: float | None = None) -> str:
    """The fresh air that would thin a mass [g] of an agent, in words; with `minutes`, per minute too."""
    volume = dilution(key, grams)
    each = f", {rough(volume / minutes)} m³ a minute over {minutes:.0f} min" if minutes else ""
    return f"planning figure: {rough(volume)} m³ of air to thin it to {exposures()[key].basis}{each}"


def limit_words(key: str) -> str:
    """The planning limit of an agent in words."""
    return f"planning limit {exposures()[key].basis}"
