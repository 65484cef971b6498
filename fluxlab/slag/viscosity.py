"""Viscosity of a melt with its range, its derivative by the oxides, and the temperature for a wanted viscosity.

Everything takes one composition (oxides) or many (samples, oxides) [mol] and one temperature or an array of them that
broadcasts against the samples [degC]; one composition with many temperatures gives a curve. What cannot be told (no
composition, one substance alone, far outside every measurement) is not-a-number; fluxlab.slag.validity says why.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.materials.oxides import Vec
from fluxlab.slag.domain import SPANS, Flags, blank
from fluxlab.slag.interval import LEVELS, Evidence, evidence
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.opinions import OPINIONS, Opinions, believed, opinions
from fluxlab.slag.own_viscosity import REFERENCE, ZERO, own_viscosity

FLOOR = 0.1
"""Thinnest melt that the data hold [Pa s]; below it only "< 0.1" may be shown."""
CEILING = 2000.0
"""Thickest melt for which the equations were scored [Pa s]."""
SPAN = SPANS["viscosity"]
# of the logarithm: what ends the search, and what a search that did not end may be off and still be told
_NEAR_ENOUGH = 1e-12
_CLOSE = 1e-9
_DUST = 1e-12
_MOST_STEPS = 20

__all__ = [
    "CEILING",
    "FLOOR",
    "LEVELS",
    "OPINIONS",
    "SPAN",
    "Viscosity",
    "log_viscosity",
    "log_viscosity_slopes",
    "own_log_viscosity",
    "temperature_at",
    "viscosity",
]


@dataclass(frozen=True, slots=True, eq=False)
class Viscosity:
    """Viscosities with their ranges and the opinions behind them; not-a-number where nothing can be told.

    `log10` (...) [log10 Pa s]; `half_widths` (levels, ...) [log10 Pa s] of the ranges in which a measurement falls with
    the chances `LEVELS`; `opinions` (opinions, ...) [log10 Pa s] and `weights` (opinions, samples) [-] in the order of
    `OPINIONS`; `leverage` (samples) [-].
    """

    log10: Vec
    half_widths: Vec
    opinions: Vec
    weights: Vec
    leverage: Vec


def log_viscosity(n: Vec, temperature: ArrayLike) -> Vec:
    """log10 of the viscosity [log10 Pa s] of compositions [mol] at temperatures [degC]."""
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    return made.shaped(blank(believed(made, SPAN.held(hot)), _told(made, hot)))


def own_log_viscosity(n: Vec, temperature: ArrayLike) -> Vec:
    """log10 of the viscosity by the fitted equation alone [log10 Pa s] of compositions [mol] at temperatures [degC]."""
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    return made.shaped(blank(own_viscosity(made.moles).log_viscosity(SPAN.held(hot)), _told(made, hot)))


def viscosity(n: Vec, temperature: ArrayLike) -> Viscosity:
    """Viscosities [log10 Pa s] of compositions [mol] at temperatures [degC], with ranges and opinions."""
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    return viscosity_of(evidence(opinions(made)), hot)


def viscosity_of(known: Evidence, temperature: Vec) -> Viscosity:
    """Viscosities [log10 Pa s] of compositions whose evidence is known, at temperatures [degC]."""
    found, safe = known.found, SPAN.held(temperature)
    made = found.melts
    told = _told(made, temperature)
    each = found.each(safe)
    strange = np.maximum(made.strange, SPAN.outside(safe))
    return Viscosity(
        log10=made.shaped(blank(found.blend(each), told)),
        half_widths=made.shaped(blank(known.half_widths(each, strange), told)),
        opinions=made.shaped(blank(each, told)),
        weights=made.shaped(blank(found.weights, made.known)),
        leverage=made.shaped(blank(found.own.leverage, made.known)),
    )


def log_viscosity_slopes(n: Vec, temperature: ArrayLike) -> Vec:
    """Derivative of `log_viscosity` by the moles of each oxide (..., oxides) [log10 Pa s per mol].

    The temperature is one, or one per sample [degC].
    """
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    slopes = blank(opinions(made).slopes(SPAN.held(hot)), _told(made, hot)).T
    return slopes[0] if made.single else slopes


def temperature_at(n: Vec, log10: ArrayLike) -> Vec:
    """Temperature [degC] at which compositions [mol] have viscosities [log10 Pa s]; broadcasts as temperatures do.

    Not-a-number where that temperature lies outside 650 to 1450 degC, between which viscosities are told.
    """
    made = melts(n)
    return made.shaped(temperature_of(opinions(made), np.asarray(log10, dtype=np.float64)))


def temperature_of(found: Opinions, log10: Vec) -> Vec:
    """Temperature [degC] for viscosities [log10 Pa s] of compositions whose opinions are known."""
    hot, cold = np.asarray(REFERENCE / (SPAN.most + ZERO)), np.asarray(REFERENCE / (SPAN.least + ZERO))
    thin, thick = found.along(hot)[0], found.along(cold)[0]
    told = found.melts.told & (thin <= log10) & (thick >= log10)
    wanted = np.where(told, log10, thin)
    u = hot + (cold - hot) * (wanted - thin) / np.maximum(thick - thin, _DUST)
    low, high = hot, cold
    for _ in range(_MOST_STEPS):
        value, slope = found.along(u)
        off = value - wanted
        if np.abs(off).max(initial=0.0) < _NEAR_ENOUGH:
            break
        too_hot = off < 0.0
        low, high = np.where(too_hot, u, low), np.where(too_hot, high, u)
        u = np.minimum(np.maximum(u - off / np.maximum(slope, _DUST), low), high)
    return blank(REFERENCE / u - ZERO, told & (np.abs(off) < _CLOSE))


def _told(made: Melts, temperature: Vec) -> Flags:
    return np.asarray(made.told & SPAN.tells(temperature))
