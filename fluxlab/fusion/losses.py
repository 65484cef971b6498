"""Metal that stays behind in the slag as drops, the hold that brings them down, and when slag is worth another melt."""

from dataclasses import dataclass
from math import hypot, isfinite
from typing import Any

from fluxlab import resources
from fluxlab.fusion.settling import Prills, clean_drop, hold_for, reynolds, settled_size, trapped
from fluxlab.fusion.tables import Table
from fluxlab.issue import Issue, warning


@dataclass(frozen=True, slots=True)
class SlagColumn:
    """The slag over the metal: viscosity with its range [Pa s], depth [mm]; densities of slag and metal [g/cm3]."""

    viscosity: float
    viscosity_low: float
    viscosity_high: float
    density: float
    depth: float
    metal: float


@dataclass(frozen=True, slots=True)
class Settling:
    """What a hold brings down.

    `settled` [micrometre] is the smallest drop that comes down everywhere; `trapped` [g/g] of the drops stays, with its
    likely range. `wanted` [min] is the hold that brings down the drops that matter, `advised` [min] the same kept
    between the shortest and the longest sensible hold; `reynolds` [-] of the drops that matter.
    """

    settled: float
    trapped: float
    trapped_low: float
    trapped_high: float
    wanted: float
    advised: float
    reynolds: float
    issues: tuple[Issue, ...]


def losses_data() -> dict[str, Any]:
    """The tables of resources/fusion/losses.toml."""
    return resources.toml("fusion/losses.toml")


def prills_of(
    carrier: str = "", lead_per_silver: float = 0.0, median: float | None = None, data: Table | None = None
) -> tuple[Prills, Prills, Prills]:
    """Drops of metal to expect: likely, coarse and fine.

    `carrier` is the mineral that holds the silver; a shower of lead [g Pb per g Ag] gathers drops, the more the more
    there is of it. A known `median` [micrometre] takes the place of both.
    """
    table = data or losses_data()
    usual, fine, shower = table["prills"], table["fine_prills"], table["shower"]
    if median is not None:
        spreads = (usual["spread"], usual["spread_low"], usual["spread_high"])
        return Prills(median, spreads[0]), Prills(median, spreads[1]), Prills(median, spreads[2])
    row = fine if carrier in fine["carriers"] else usual
    rain = min(max(lead_per_silver, 0.0) / shower["lead_per_silver"], 1.0)
    gathered = 1.0 + rain * (shower["factor"] - 1.0)
    return (
        Prills(row["median"] * gathered, usual["spread"]),
        Prills(row["median_high"] * gathered, usual["spread_low"]),
        Prills(row["median_low"] * gathered, usual["spread_high"]),
    )


def settling(
    slag: SlagColumn, hold: float, prills: tuple[Prills, Prills, Prills] | None = None, data: Table | None = None
) -> Settling:
    """What a hold [min] of quiet melt brings down through this slag.

    `prills` are likely, coarse and fine. The range adds the squares of two moves: of the slag, to thin with clean drops
    and to stiff, and of the drops, to coarse and to fine.
    """
    table = data or losses_data()
    likely, coarse, fine = prills or prills_of(data=table)
    row = table["hold"]
    difference = slag.metal - slag.density
    thin = slag.viscosity_low / clean_drop(slag.viscosity_low, table["metal"]["viscosity"])

    def hangs(viscosity: float, sizes: Prills) -> float:
        return trapped(settled_size(viscosity, difference, slag.depth, hold), sizes)

    middle = hangs(slag.viscosity, likely)
    less = hypot(middle - hangs(thin, likely), middle - hangs(slag.viscosity, coarse))
    more = hypot(hangs(slag.viscosity_high, likely) - middle, hangs(slag.viscosity, fine) - middle)
    wanted = hold_for(row["size"], slag.viscosity, difference, slag.depth)
    issues: tuple[Issue, ...] = ()
    if wanted > row["most"]:
        minutes = f"{wanted:.0f} min" if isfinite(wanted) else "any time"
        sentence = f"Small drops of metal would take {minutes} to settle through this slag: too long to hold."
        issues = (warning("hold", sentence, "Thin the slag or melt hotter; a longer hold does not help."),)
    return Settling(
        settled=settled_size(slag.viscosity, difference, slag.depth, hold),
        trapped=middle,
        trapped_low=max(middle - less, 0.0),
        trapped_high=min(middle + more, 1.0),
        wanted=wanted,
        advised=min(max(wanted, row["least"]), row["most"]),
        reynolds=reynolds(row["size"], slag.viscosity, max(difference, 0.0), slag.density),
        issues=issues,
    )


def worth_retreating(held: float, silver: float, step: float = 0.0, data: Table | None = None) -> bool:
    """Whether slag and matte that hold so much of the silver [g, g] are worth a melt of their own.

    It has to be more than a part of the silver, and more than a `step` of the balance [g]: a button that the balance
    does not show pays for no melt.
    """
    share: float = (data or losses_data())["retreat"]["share"]
    return held > max(share * silver, step, 0.0)
