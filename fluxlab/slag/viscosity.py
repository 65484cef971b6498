"""Viscosity of a melt with its range, its derivative by the oxides, and the temperature for a wanted viscosity.

Everything takes one composition (oxides) or many (samples, oxides) [mol] and one temperature or an array of them that
broadcasts against the samples [degC]; one composition with many temperatures gives a curve. What cannot be told (no
composition, one substance alone, far outside every measurement) is not-a-number; fluxlab.slag.validity says why.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.materials.oxides import Vec
from fluxlab.slag.domain import SPANS, blank, outside, tells
from fluxlab.slag.interval import LEVELS, half_widths
from fluxlab.slag.melts import Flags, Melts, melts
from fluxlab.slag.opinions import OPINIONS, Opinions, opinions
from fluxlab.slag.own_viscosity import own_viscosity

FLOOR = 0.1
"""Thinnest melt that the data hold [Pa s]; below it only "< 0.1" may be shown."""
CEILING = 2000.0
"""Thickest melt for which the equations were scored [Pa s]."""
SPAN = SPANS["viscosity"]
_NEAR_ENOUGH = 1e-9
_MOST_STEPS = 60

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
    return made.shaped(blank(opinions(made).log_viscosity(_safe(hot)), _told(made, hot)))


def own_log_viscosity(n: Vec, temperature: ArrayLike) -> Vec:
    """log10 of the viscosity by the fitted equation alone [log10 Pa s] of compositions [mol] at temperatures [degC]."""
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    return made.shaped(blank(own_viscosity(made.moles).log_viscosity(_safe(hot)), _told(made, hot)))


def viscosity(n: Vec, temperature: ArrayLike) -> Viscosity:
    """Viscosities [log10 Pa s] of compositions [mol] at temperatures [degC], with ranges and opinions."""
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    return viscosity_of(opinions(made), hot)


def viscosity_of(found: Opinions, temperature: Vec) -> Viscosity:
    """Viscosities [log10 Pa s] of compositions whose opinions are known, at temperatures [degC]."""
    made, safe = found.melts, _safe(temperature)
    told = _told(made, temperature)
    each = found.each(safe)
    strange = np.maximum(outside(made), SPAN.outside(safe))
    return Viscosity(
        log10=made.shaped(blank(found.blend(each), told)),
        half_widths=made.shaped(blank(half_widths(found, each, strange), told)),
        opinions=made.shaped(blank(each, told)),
        weights=made.shaped(blank(found.weights, made.known)),
        leverage=made.shaped(blank(found.own.leverage, made.known)),
    )


def log_viscosity_slopes(n: Vec, temperature: ArrayLike) -> Vec:
    """Derivative of `log_viscosity` by the moles of each oxide (..., oxides) [log10 Pa s per mol].

    The temperature is one, or one per sample [degC].
    """
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    slopes = blank(opinions(made).slopes(_safe(hot)), _told(made, hot)).T
    return slopes[0] if made.single else slopes


def temperature_at(n: Vec, log10: ArrayLike) -> Vec:
    """Temperature [degC] at which compositions [mol] have viscosities [log10 Pa s]; broadcasts as temperatures do.

    Not-a-number where that temperature lies outside 650 to 1450 degC, between which viscosities are told.
    """
    made = melts(n)
    return made.shaped(temperature_of(opinions(made), np.asarray(log10, dtype=np.float64)))


def temperature_of(found: Opinions, log10: Vec) -> Vec:
    """Temperature [degC] for viscosities [log10 Pa s] of compositions whose opinions are known."""
    cold, hot = np.asarray(SPAN.least), np.asarray(SPAN.most)
    thick, thin = found.log_viscosity(cold) - log10, found.log_viscosity(hot) - log10
    told = tells(found.melts) & (thick >= 0.0) & (thin <= 0.0)
    low, high = np.broadcast_to(cold, told.shape), np.broadcast_to(hot, told.shape)
    guess = _between(low, high, thick, thin)
    for _ in range(_MOST_STEPS):
        off = found.log_viscosity(guess) - log10
        too_thick = off > 0.0
        low, thick = np.where(too_thick, guess, low), np.where(too_thick, off, thick)
        high, thin = np.where(too_thick, high, guess), np.where(too_thick, thin, off)
        previous, guess = guess, _between(low, high, thick, thin)
        if not (told & (np.abs(guess - previous) > _NEAR_ENOUGH)).any():
            break
        # a straight line that keeps one end creeps; halving that end's height frees it
        thin, thick = np.where(too_thick, thin / 2.0, thin), np.where(too_thick, thick, thick / 2.0)
    return blank(np.asarray(guess), told)


def _between(low: Vec, high: Vec, thick: Vec, thin: Vec) -> Vec:
    """Where the line through both ends crosses nil, over the reciprocal of the absolute temperature [degC]."""
    gap = thick - thin
    share = np.where(gap > 0.0, thick / np.where(gap > 0.0, gap, 1.0), 0.5)
    share = np.clip(share, 0.0, 1.0)
    colder, hotter = 1.0 / (low + 273.15), 1.0 / (high + 273.15)
    return np.asarray(1.0 / (colder + (hotter - colder) * share) - 273.15)


def _told(made: Melts, temperature: Vec) -> Flags:
    return np.asarray(tells(made) & SPAN.tells(temperature))


def _safe(temperature: Vec) -> Vec:
    """The temperature, held where viscosities are told so that the arithmetic goes through; outside it is blanked."""
    return np.asarray(np.fmin(np.fmax(temperature, SPAN.least), SPAN.most))
