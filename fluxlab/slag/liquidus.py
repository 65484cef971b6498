"""The temperature at which the last crystal goes, as advice: no rule tried tells it better than to some 100 degC.

Eight planes over cation fractions, one for each family of crystals, of which the highest holds (smoothly); spinel of
ferric slags comes in evenly between 2 and 6 % Fe2O3. Data: see resources/slag/README.md.
"""

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import CATIONS, SIZE, Vec
from fluxlab.slag.domain import blank
from fluxlab.slag.hot_density import shaped
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.own_viscosity import CATION_GROUPS
from fluxlab.slag.products import product
from fluxlab.slag.ratio import frozen
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp
from fluxlab.slag.spread import ERRORS, Spread
from fluxlab.slag.terms import read_terms

_SOFTNESS = 25.0
_SPINEL_STARTS, _SPINEL_HOLDS = 2.0, 6.0

_PLANES = resources.table("slag/liquidus_planes.csv")
_NAMES = [title for title in _PLANES[0] if title != "plane"]
_TERMS = read_terms(_NAMES, CATION_GROUPS, CATIONS)
_COEFFICIENTS = frozen(np.array([[float(row[name]) for name in _NAMES] for row in _PLANES]))
_FERRIC = share_masses(["Fe2O3"])


def liquidus(n: Vec) -> Spread:
    """Temperature at which the last crystal of melts [mol] goes, with ranges [degC]."""
    return liquidus_of(melts(n))


def liquidus_of(made: Melts) -> Spread:
    """Temperature at which the last crystal of checked melts goes, with ranges [degC]."""
    planes = planes_of(made)
    share = ramp(made.shares(_FERRIC)[0], _SPINEL_STARTS, _SPINEL_HOLDS)
    value = planes + share * np.maximum(spinel_of(made) - planes, 0.0)
    return shaped(made, ERRORS["liquidus"].around(blank(value, made.told), made.strange))


def planes_of(made: Melts) -> Vec:
    """The liquidus by the eight planes alone (samples) [degC]."""
    planes = _TERMS.sums(made.moles, _COEFFICIENTS)
    highest = planes.max(0)
    return np.asarray(highest + _SOFTNESS * np.log(np.exp((planes - highest) / _SOFTNESS).sum(0)))


def spinel_of(made: Melts) -> Vec:
    """The liquidus of spinel in ferric borosilicates (samples) [degC].

    Its coefficients know ferric iron only; what they do not know, FeO first of all, is left out of the shares.
    """
    return np.asarray(product(_SPINEL, made.moles) / np.maximum(product(_SPINEL_MASS, made.moles), 1e-300))


def _spinel() -> tuple[Vec, Vec]:
    rows = {row["oxide"]: float(row["T_i"]) for row in resources.table("slag/liquidus_spinel.csv")}
    known, heights = np.zeros(SIZE), np.zeros(SIZE)
    for symbol, masses in zip(_SPINEL_OXIDES, share_masses(_SPINEL_OXIDES), strict=True):
        known += masses
        heights += rows[symbol] * masses
    return frozen(heights), frozen(known)


_SPINEL_OXIDES = [r["oxide"] for r in resources.table("slag/liquidus_spinel.csv") if r["oxide"] not in ("SO3", "La2O3")]
_SPINEL, _SPINEL_MASS = _spinel()
