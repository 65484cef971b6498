"""Everything that is told of a melt as a liquid, of one composition or of many at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from fluxlab.issue import Issue
from fluxlab.materials.oxides import MASS, Vec
from fluxlab.slag.crystals import Crystals, crystals
from fluxlab.slag.heat import enthalpy_of
from fluxlab.slag.hot_density import density_of
from fluxlab.slag.interval import evidence
from fluxlab.slag.melts import melts
from fluxlab.slag.opinions import opinions
from fluxlab.slag.products import product
from fluxlab.slag.spread import Spread
from fluxlab.slag.surface_tension import surface_tension_of
from fluxlab.slag.validity import temperature_issues, viscosity_issues
from fluxlab.slag.viscosity import Viscosity, viscosity_of
from fluxlab.slag.workable import Workable, pour_issues, workable_of

FLUID = 1.0
"""Viscosity of a melt that pours well [Pa s]; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Properties:
    """A melt as a liquid at a temperature: viscosity [log10 Pa s], density [g/cm3], volume [cm3], surface tension
    [mN/m], heat above 25 degC [kJ], and the temperatures of a pour [degC].
    """

    viscosity: Viscosity
    density: Spread
    volume: Spread
    surface_tension: Spread
    heat: Spread
    workable: Workable


def slag_properties(n: Vec, temperature: ArrayLike, wanted: ArrayLike = FLUID) -> Properties:
    """All properties of melts (oxides) or (samples, oxides) [mol] at a temperature, or one per sample [degC].

    `wanted` is the viscosity that the pour is to have [Pa s].
    """
    made, hot = melts(n), np.asarray(temperature, dtype=np.float64)
    known = evidence(opinions(made))
    density = density_of(made, hot)
    mass = made.shaped(product(MASS, made.moles))
    return Properties(
        viscosity=viscosity_of(known, hot),
        density=density,
        volume=density.under(mass),
        surface_tension=surface_tension_of(made, hot),
        heat=enthalpy_of(made, hot),
        workable=workable_of(known, np.asarray(wanted, dtype=np.float64)),
    )


def property_issues(
    n: Vec, temperature: float, found: Properties, likely: Sequence[Crystals] | None = None
) -> tuple[Issue, ...]:
    """Everything that makes the figures of one melt (oxides) [mol] at a temperature [degC] doubtful or unknown.

    `likely` are the crystals that may come, where they are known already.
    """
    issues = [*viscosity_issues(n, temperature, found.viscosity), *pour_issues(found.workable, temperature)]
    for name in ("density", "surface tension"):
        issues += temperature_issues(temperature, name)
    expected = crystals(n) if likely is None else likely
    issues += [issue for each in expected if (issue := each.issue(temperature)) is not None]
    return tuple(dict.fromkeys(issues))
