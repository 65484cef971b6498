"""How solids that stay undissolved thicken a melt.

The law of Einstein and Roscoe: the melt's viscosity times (1 - a f)^-2.5, f the share of solids by volume. R. Roscoe,
The viscosity of suspensions of rigid spheres, Br. J. Appl. Phys. 3 (1952) 267-269, as it is usually quoted: a = 1 for
grains of all sizes, 1.35 for equal spheres; 1/0.6 is used for crystals in lavas. All three were found second-hand.
"""

from dataclasses import dataclass

import numpy as np

from fluxlab.issue import Issue, error, warning
from fluxlab.materials.oxides import Vec

LIKELY, LEAST, MOST = 1.35, 1.0, 1.0 / 0.6
"""Packing figure a: equal spheres, grains of all sizes, angular crystals [-]."""
_POWER = -2.5
# judgement: fewer solids than this are lost in the error of the viscosity itself
_WORTH_SAYING = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class Thickening:
    """By how much solids multiply the viscosity [-]: likely, and the ends; infinite where the grains jam."""

    likely: Vec
    low: Vec
    high: Vec


def thickening(solids: Vec) -> Thickening:
    """By how much a share of solids [0..1 by volume] multiplies the viscosity [-]; not-a-number outside 0 to 1."""
    return Thickening(*(_factor(np.asarray(solids, dtype=np.float64), packing) for packing in (LIKELY, LEAST, MOST)))


def solid_share(mass: float, density: float, melt_volume: float) -> float:
    """Share of solids by volume [0..1] of a mass [g] and density [g/cm3] in a melt volume [cm3]; 0 without either."""
    solid = mass / density if density > 0.0 else 0.0
    together = solid + melt_volume
    return solid / together if together > 0.0 else 0.0


def solids_issues(share: float) -> tuple[Issue, ...]:
    """What a share of solids [0..1 by volume] means for the pour."""
    if not share >= _WORTH_SAYING:
        return ()
    found = thickening(np.asarray(share))
    percent = 100.0 * share
    if not np.isfinite(found.likely):
        said = f"{percent:.0f} % of the melt by volume is solid: the grains jam and it does not flow."
        return (error("slag", said, "Use more flux, go hotter or hold longer."),)
    end = f"{found.high:.1f}" if np.isfinite(found.high) else "no flow at all"
    said = (
        f"{percent:.0f} % of the melt by volume is solid: {found.likely:.1f} times thicker ({found.low:.1f} to {end})."
    )
    return (warning("slag", said, "Use more flux, go hotter or hold longer."),)


def _factor(solids: Vec, packing: float) -> Vec:
    room = 1.0 - packing * solids
    factor = np.where(room > 0.0, np.maximum(room, 1e-12) ** _POWER, np.inf)
    return np.asarray(np.where((solids >= 0.0) & (solids <= 1.0), factor, np.nan))
