"""Drops of metal that fall through a slag: how fast, how long they take, and what mass stays behind.

Stokes' speed counts for drops with surface films, which is how real ones fall; clean liquid drops are up to half as
fast again (Hadamard and Rybczynski). Sizes are log-normal by mass, so that the trapped mass has a closed form.
"""

from dataclasses import dataclass
from math import erfc, exp, inf, log, sqrt

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2]."""


@dataclass(frozen=True, slots=True)
class Prills:
    """Sizes of drops: median by mass [micrometre] and geometric standard deviation [-], at least 1."""

    median: float
    spread: float


def stokes(size: float, viscosity: float, difference: float) -> float:
    """Speed at which a drop of a size [micrometre] falls through a slag [m/s].

    `viscosity` [Pa s] of the slag, `difference` [g/cm3] of the densities. Holds while `reynolds` is below 1.
    """
    return GRAVITY * difference * 1e3 * (size * 1e-6) ** 2 / (18.0 * viscosity) if viscosity > 0.0 else inf


def clean_drop(viscosity: float, drop_viscosity: float) -> float:
    """How much faster a clean liquid drop falls than one with a film, by the two viscosities [Pa s] [-]: 1 to 1.5."""
    below = 2.0 * viscosity + 3.0 * drop_viscosity
    return 3.0 * (viscosity + drop_viscosity) / below if below > 0.0 else 1.0


def reynolds(size: float, viscosity: float, difference: float, slag_density: float) -> float:
    """Reynolds number of a drop that falls by Stokes' law through a slag of a density [g/cm3] [-]."""
    if viscosity <= 0.0:
        return inf
    return slag_density * 1e3 * stokes(size, viscosity, difference) * size * 1e-6 / viscosity


def settled_size(viscosity: float, difference: float, depth: float, hold: float) -> float:
    """Smallest drop that falls through a slag of a depth [mm] in a time [min] [micrometre].

    Infinite where nothing falls: without time, or without a difference of density.
    """
    if hold <= 0.0 or difference <= 0.0:
        return inf if depth > 0.0 else 0.0
    return 1e6 * sqrt(18.0 * viscosity * depth * 1e-3 / (GRAVITY * difference * 1e3 * hold * 60.0))


def hold_for(size: float, viscosity: float, difference: float, depth: float) -> float:
    """Time in which a drop of a size [micrometre] falls through a slag of a depth [mm] [min]."""
    speed = stokes(size, viscosity, difference)
    return depth * 1e-3 / speed / 60.0 if speed > 0.0 else inf


def trapped(settled: float, prills: Prills) -> float:
    """Mass fraction of the drops still in the slag when those of the size `settled` [micrometre] are just down [g/g].

    Drops are spread evenly at the start; of a smaller size d the part 1 - (d/settled)² is left.
    """
    if settled <= 0.0:
        return 0.0
    if settled == inf:
        return 1.0
    return max(_below(settled, prills, 0.0) - _below(settled, prills, 2.0) / settled**2, 0.0)


def _below(size: float, prills: Prills, power: float) -> float:
    """Sum of size**power over the mass of drops under a size [micrometre**power]."""
    if size <= 0.0:
        return 0.0
    s = log(max(prills.spread, 1.0 + 1e-9))
    m = log(prills.median)
    z = (log(size) - m) / s
    return exp(power * m + power**2 * s**2 / 2.0) * 0.5 * erfc(-(z - power * s) / sqrt(2.0))
