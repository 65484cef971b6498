"""The viscosity of a melt as the solver asks for it: figure and derivative of one melt at one temperature."""

from math import log10

import numpy as np

from fluxlab.blend.types import Vec
from fluxlab.blend.viscosity_cut import Law
from fluxlab.design.recipe import Target
from fluxlab.slag.viscosity import SPAN, log_viscosity, log_viscosity_slopes

VISCOSITY = "viscosity#hi"
"""Key of the window for the thickest melt that may be poured; its value is log10 of the viscosity [log10 Pa s]."""


def law(temperature: float) -> Law:
    """log10 of the viscosity [log10 Pa s] and its derivative by the oxides [1/mol], as a function of the melt [mol].

    A temperature [degC] outside those at which viscosities are told counts as the nearest of them: if the limit went
    away there, the recipe would jump.
    """
    held = min(max(temperature, SPAN.least), SPAN.most)

    def at(n: Vec) -> tuple[float, Vec]:
        return float(log_viscosity(n, held)), log_viscosity_slopes(n, held)

    return at


def pour_viscosity(n: Vec, temperature: float) -> float | None:
    """Viscosity of a melt [mol] at a temperature [degC] [Pa s]; None where it cannot be told."""
    found = float(log_viscosity(n, temperature))
    return float(10.0**found) if np.isfinite(found) else None


def log_limit(target: Target) -> float | None:
    """The upper end of a viscosity target [log10 Pa s]; None where it has none that makes sense."""
    return log10(target.hi) if target.hi is not None and 0.0 < target.hi < 1e30 else None


def log_tolerance(most: float, tolerance: float) -> float:
    """A tolerance [Pa s] at a limit [Pa s] as a step of the logarithm."""
    return log10(1.0 + tolerance / most)
