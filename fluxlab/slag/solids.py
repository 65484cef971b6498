"""How solids that stay undissolved thicken a melt.

The law of Einstein and Roscoe: the melt's viscosity times (1 - a f)^-2.5, f the share of solids by volume. R. Roscoe,
The viscosity of suspensions of rigid spheres, Br. J. Appl. Phys. 3 (1952) 267-269, as it is usually quoted: a = 1 for
grains of all sizes, 1.35 for equal spheres; 1/0.6 is used for crystals in lavas. All three were found second-hand.
"""

from dataclasses import dataclass

import numpy as np

from fluxlab.issue import Issue, note
from fluxlab.materials.oxides import Vec

LIKELY, LEAST, MOST = 1.35, 1.0, 1.0 / 0.6
"""Packing figure a: equal spheres, grains of all sizes, angular crystals [-]."""
_POWER = -2.5
_SHARES = (0.1, 0.3)
"""Shares of solids that are told as examples [by volume]; how much stays is not predicted."""


@dataclass(frozen=True, slots=True, eq=False)
class Thickening:
    """By how much solids multiply the viscosity [-]: likely, and the ends; infinite where the grains jam."""

    likely: Vec
    low: Vec
    high: Vec


def thickening(solids: Vec) -> Thickening:
    """By how much a share of solids [0..1 by volume] multiplies the viscosity [-]; not-a-number outside 0 to 1."""
    return Thickening(*(_factor(np.asarray(solids, dtype=np.float64), packing) for packing in (LIKELY, LEAST, MOST)))


def stiffening_issues(pour: float, last_crystal: float) -> tuple[Issue, ...]:
    """What crystals would do to the pour, where it lies below the highest temperature of the last crystal [degC]."""
    if not pour < last_crystal:
        return ()
    found = thickening(np.array(_SHARES))
    told = [
        f"{100.0 * share:.0f} % of solids by volume make it {likely:.1f} times as thick ({low:.1f} to {high:.1f})"
        for share, likely, low, high in zip(_SHARES, found.likely, found.low, found.high, strict=True)
    ]
    said = f"Crystals or sand left undissolved stiffen a slag: {', '.join(told)}."
    return (note("slag", said, "Go hotter or hold longer."),)


def _factor(solids: Vec, packing: float) -> Vec:
    room = 1.0 - packing * solids
    factor = np.where(room > 0.0, np.maximum(room, 1e-12) ** _POWER, np.inf)
    return np.asarray(np.where((solids >= 0.0) & (solids <= 1.0), factor, np.nan))
