"""Volume and density of the melt by adding partial volumes, and of the metals under it.

The slag rule adds the volumes that the oxides have as partial densities (resources/oxides.csv). Its range is 8 % for
the common oxides and 15 to 20 % for the rare ones; a slag takes the mean of its oxides' ranges by volume.
"""

import numpy as np

from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import INDEX, MASS, MELT_DENSITY, MELT_DENSITY_RANGE, Vec
from fluxlab.slag.ratio import frozen

COUNTED_AS_METAL = ("PbO", "Cu2O")
"""Oxides that a slag cover does without: lead and copper of the charge are taken there as metal."""


def volume_coefficients() -> Vec:
    """Melt volume per mole of each basis oxide [cm3/mol]."""
    return _VOLUME


def cover_volume_coefficients() -> Vec:
    """Melt volume per mole of each basis oxide, lead and copper oxides left out [cm3/mol]."""
    return _COVER_VOLUME


def melt_volume(n: Vec) -> Estimate:
    """Volume of the melt of a composition [mol] [cm3]."""
    volumes = _VOLUME * n
    value = float(volumes.sum())
    spread = float(volumes @ MELT_DENSITY_RANGE) / 100.0
    return Estimate(value, value - spread, value + spread)


def melt_density(n: Vec) -> Estimate | None:
    """Density of the melt of a composition [mol] [g/cm3]; None for an empty slag."""
    mass = float(MASS @ n)
    volume = melt_volume(n)
    if volume.value <= 0.0:
        return None
    density = mass / volume.value
    spread = (volume.high - volume.value) / volume.value * density
    return Estimate(density, density - spread, density + spread)


_VOLUME = frozen(MASS / MELT_DENSITY)
_COVER_VOLUME = frozen(np.where(np.isin(np.arange(MASS.size), [INDEX[s] for s in COUNTED_AS_METAL]), 0.0, _VOLUME))
