"""The temperatures that decide a pour: thin enough, out of the pot, free of crystals.

A melt is free when it is thinner than 10 Pa s and above its liquidus; it is poured at the wanted viscosity and 30 degC
above its liquidus at least.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.issue import Issue, error, warning
from fluxlab.materials.oxides import Vec
from fluxlab.slag.hot_density import shaped
from fluxlab.slag.interval import LEVELS, Evidence, evidence
from fluxlab.slag.liquidus import liquidus_of
from fluxlab.slag.melts import melts
from fluxlab.slag.opinions import opinions
from fluxlab.slag.own_viscosity import REFERENCE, ZERO
from fluxlab.slag.pouring import ABOVE_LIQUIDUS, LEAVES_POT, WARN_ABOVE_LIQUIDUS
from fluxlab.slag.spread import Spread
from fluxlab.slag.viscosity import SPAN, temperature_of

# the ends of a spread after its value: a thinner melt than predicted has its viscosity colder
_LEVELS = [LEVELS.index(level) for level in (50, 50, 90, 90)]
_HIGH = [1, 3]
_SIGNS = np.array([-1.0, 1.0, -1.0, 1.0])


@dataclass(frozen=True, slots=True, eq=False)
class Workable:
    """Temperatures [degC]: for the wanted viscosity, for 10 Pa s, of the last crystal, free of crystals, of the pour.

    `thin` holds where the melt has the wanted viscosity, `leaves_pot` where it has 10 Pa s; both are not-a-number where
    that lies outside 650 to 1450 degC. `melt_free` and `pour` take a melt that is thin enough at 650 degC as it is.
    """

    thin: Spread
    leaves_pot: Spread
    liquidus: Spread
    melt_free: Spread
    pour: Spread


def workable(n: Vec, wanted: ArrayLike) -> Workable:
    """The temperatures of a pour [degC] of melts [mol] at a wanted viscosity [Pa s]."""
    return workable_of(evidence(opinions(melts(n))), np.asarray(wanted, dtype=np.float64))


def workable_of(known: Evidence, wanted: Vec) -> Workable:
    """The temperatures of a pour [degC] of melts whose evidence is known, at a wanted viscosity [Pa s]."""
    found = known.found
    last = liquidus_of(found.melts)
    targets = np.stack(np.broadcast_arrays(np.log10(wanted), np.log10(LEAVES_POT))).reshape(2, -1)
    both = temperature_of(found, targets)
    spare = targets - found.log_viscosity(np.asarray(SPAN.least))
    already = np.isnan(both) & found.melts.told & (spare > 0.0)
    held = _with_ranges(known, np.where(already, SPAN.least, both), np.where(already, spare, 0.0))
    ends = np.where(already, np.nan, held)
    thin, leaves, thin_enough, left = (
        shaped(found.melts, Spread(each[:, i])) for each in (ends, held) for i in range(2)
    )
    return Workable(
        thin=thin,
        leaves_pot=leaves,
        liquidus=last,
        melt_free=left.higher(last),
        pour=thin_enough.higher(last.raised(ABOVE_LIQUIDUS)),
    )


def pour_issues(found: Workable, temperature: float) -> tuple[Issue, ...]:
    """What speaks against pouring one melt at a temperature [degC]."""
    issues: list[Issue] = []
    last, leaves = float(found.liquidus.value), float(found.leaves_pot.value)
    if temperature < leaves:
        said = f"Below about {leaves:.0f} °C it is thicker than {LEAVES_POT:g} Pa·s and will not leave the pot."
        issues.append(error("slag", said, "Go hotter, or use more flux."))
    if temperature < last + WARN_ABOVE_LIQUIDUS:
        off = float(found.liquidus.high90) - last
        said = (
            f"The last crystal goes at about {last:.0f} °C, give or take {off:.0f}: at {temperature:.0f} °C"
            " crystals may stay in the slag."
        )
        issues.append(
            warning("slag", said, f"Pour at {last + WARN_ABOVE_LIQUIDUS:.0f} °C or above, or make a trial melt.")
        )
    return tuple(issues)


def _with_ranges(known: Evidence, at: Vec, spare: Vec) -> Vec:
    """Temperatures (2, samples) and what the half-widths of the viscosity make of them (5, 2, samples) [degC].

    `spare` [log10 Pa s] is how much thinner than wanted the melt is there; of a range only the part that is hotter
    counts then.
    """
    found, safe = known.found, np.where(np.isnan(at), SPAN.least, at)
    widths = known.half_widths(found.each(safe), np.maximum(found.melts.strange, SPAN.outside(safe)))
    steepness = found.along(REFERENCE / (safe + ZERO))[1]
    off = widths[_LEVELS] * _SIGNS.reshape(-1, *(1,) * at.ndim) - spare
    ends = _degrees(REFERENCE / (at + ZERO) - off / steepness)
    ends[_HIGH] = np.maximum(ends[_HIGH], at)
    return np.concatenate((at[None], ends))


def _degrees(u: Vec) -> Vec:
    """A temperature [degC] from u = 1273.15 K over it; infinite where no heat would do."""
    told = ~(u <= 0.0)
    return np.asarray(np.where(told, REFERENCE / np.where(told, u, 1.0) - ZERO, np.inf))
