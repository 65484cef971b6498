"""What each number of the melt as a liquid, and of how sure a recipe is, means, as in `keys`."""

from fluxlab.design.chance_types import ChanceReport, LimitChance
from fluxlab.design.fluid_types import Crystal, FluidCurve, FluidReport, Move, Opinion
from fluxlab.store.keys import Figure

_CELSIUS = Figure("degC")
_VISCOSITY = Figure("Pa s")
_RATIO = Figure("-")

FLUID_FIGURES: dict[type, dict[str, Figure]] = {
    FluidReport: {
        "pour": _CELSIUS,
        "limit": _VISCOSITY,
        "floor": _VISCOSITY,
        "at_pour": _VISCOSITY,
        "chance": _RATIO,
        "pour_wanted": _CELSIUS,
        "leaves_pot": _CELSIUS,
        "liquidus": _CELSIUS,
        "melt_free": _CELSIUS,
        "density": Figure("g/cm3"),
        "surface_tension": Figure("mN/m"),
        "heat": Figure("kJ"),
    },
    FluidCurve: {"temperatures": _CELSIUS, "viscosity": _VISCOSITY},
    Opinion: {"weight": _RATIO, "viscosity": _VISCOSITY},
    Crystal: {"low": _CELSIUS, "high": _CELSIUS},
    Move: {"degree": _RATIO, "basicity": _RATIO, "viscosity": _RATIO},
    ChanceReport: {"musts": _RATIO, "samples": _RATIO},
    LimitChance: {"chance": _RATIO},
}
