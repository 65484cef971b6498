"""Volume and density of the slag as it is poured, for the vessels and the report.

The fitted equation counts where it is known, the rule that adds volumes where it is not; between the two they pass into
each other by how far the slag lies outside what was checked, so that no recipe jumps.
"""

from functools import lru_cache

import numpy as np

from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import MASS, Vec
from fluxlab.slag.density import melt_volume, volume_coefficients
from fluxlab.slag.domain import SPANS
from fluxlab.slag.hot_density import likely_volume_of, volume_at
from fluxlab.slag.melts import melts

_LEAST, _MOST = 0.8, 1.25
"""Between these the fitted volume may differ from the added one: judgement, beyond them one of the two has failed."""


def pour_volume(n: Vec, temperature: float) -> Estimate:
    """Volume of a slag [mol] at the temperature of the pour [degC], with the range that holds nine in ten [cm3]."""
    # a report asks for the same slag half a dozen times
    return _pour_volume(np.ascontiguousarray(n, dtype=np.float64).tobytes(), temperature)


@lru_cache(maxsize=32)
def _pour_volume(moles: bytes, temperature: float) -> Estimate:
    n = np.frombuffer(moles)
    added = melt_volume(n)
    made = melts(n)
    at = np.asarray(temperature, dtype=np.float64)
    outside = float(max(made.strange.max(), SPANS["density"].outside(at)))
    if added.value <= 0.0 or not outside < 1.0:
        return added
    hot = volume_at(n, temperature)
    if not np.isfinite(hot.ends).all():
        return added
    held = min(max(float(hot.value) / added.value, _LEAST), _MOST) * added.value
    scale = held / float(hot.value)
    low, high = float(hot.low90) * scale, float(hot.high90) * scale
    return Estimate(
        held + outside * (added.value - held), low + outside * (added.low - low), high + outside * (added.high - high)
    )


def pour_density(n: Vec, temperature: float) -> Estimate | None:
    """Density of a slag [mol] at the temperature of the pour [degC], with its range [g/cm3]; None for an empty slag."""
    mass, volume = float(MASS @ n), pour_volume(n, temperature)
    if volume.value <= 0.0:
        return None
    return Estimate(mass / volume.value, mass / volume.high, mass / volume.low)


def volume_factor(n: Vec, temperature: float) -> float:
    """Volume of a slag [mol] at the pour [degC] over that of the rule that adds volumes [cm3/cm3]; 1 for no slag."""
    added = melt_volume(n).value
    return pour_volume(n, temperature).value / added if added > 0.0 else 1.0


def volume_factors(slags: Vec, temperature: float) -> Vec:
    """The same for many slags (samples x oxides) [mol] at once (samples) [cm3/cm3]."""
    added = slags @ volume_coefficients()
    made, at = melts(slags), np.asarray(temperature, dtype=np.float64)
    outside = np.maximum(made.strange, SPANS["density"].outside(at))
    hot = likely_volume_of(made, at)
    told = np.isfinite(hot) & (added > 0.0)
    ratio = np.where(told, hot, 1.0) / np.where(told, added, 1.0)
    return np.where(told, outside + (1.0 - outside) * np.clip(ratio, _LEAST, _MOST), 1.0)
