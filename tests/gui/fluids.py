"""A melt as a liquid made by hand, so that a chart can be tested without the numeric rooms. All figures invented."""

from dataclasses import replace
from math import exp

from fluxlab.design.fluid_types import Crystal, FluidCurve, FluidReport, Likely, Move, Opinion
from fluxlab.issue import error

TEMPERATURES = tuple(float(t) for t in range(950, 1301, 10))
MOVES = (
    Move("Borax glass", "flux", 0.021, -0.012, -0.024),
    Move("Soda ash, dense", "flux", -0.034, 0.019, -0.031),
    Move("Silica sand", "flux", 0.046, -0.020, 0.052),
    Move("Charcoal", "flux", None, None, None),
    Move("SiO2", "oxide", 0.047, -0.021, 0.053),
    Move("Al2O3", "oxide", 0.0, 0.0, 0.060),
    Move("FeO", "oxide", -0.019, 0.014, -0.033),
    Move("CaO", "oxide", -0.025, 0.018, -0.012),
)
CRYSTALS = (
    Crystal("Spinel", 1040.0, 1120.0, "grains that hold up drops of metal", False, "invented for a test"),
    Crystal("Undissolved quartz", 1000.0, 1100.0, "white grains", True, "judgement"),
)


def around(value: float, factor: float) -> Likely:
    """A figure that is as likely larger as smaller by a factor."""
    half = factor**0.41
    return Likely(value, value / half, value * half, value / factor, value * factor)


def within(value: float, by: float) -> Likely:
    return Likely(value, value - 0.41 * by, value + 0.41 * by, value - by, value + by)


def viscosity(celsius: float, at_1150: float = 0.63) -> float:
    return at_1150 * exp(14000.0 * (1.0 / (celsius + 273.0) - 1.0 / 1423.0))


def sample_fluid(pour: float = 1150.0, at_1150: float = 0.63, limit: float | None = 1.0, melt_free: float = 1060.0):
    curve = FluidCurve(TEMPERATURES, tuple(around(viscosity(t, at_1150), 2.1) for t in TEMPERATURES), ())
    at = around(viscosity(pour, at_1150), 2.1)
    return FluidReport(
        pour=pour,
        limit=limit,
        floor=0.1,
        curve=curve,
        at_pour=at,
        below_floor=at.value < 0.1,
        chance=0.86 if limit else None,
        confidence="usual",
        pour_wanted=within(1105.0, 45.0),
        leaves_pot=within(985.0, 40.0),
        liquidus=within(1040.0, 110.0),
        melt_free=within(melt_free, 90.0),
        density=within(3.05, 0.2),
        surface_tension=within(290.0, 45.0),
        heat=within(412.0, 60.0),
        crystals=CRYSTALS,
        moves=MOVES,
        issues=(),
        sources=("invented for a test",),
    )


def doubted_fluid(**given):
    """A melt on which two equations differ."""
    fluid = sample_fluid(**given)
    lines = (
        Opinion("own equation", 0.3, tuple(viscosity(t, 1.4) for t in TEMPERATURES)),
        Opinion("Riboud", 0.7, tuple(viscosity(t, 0.4) for t in TEMPERATURES)),
    )
    return replace(fluid, confidence="low", curve=replace(fluid.curve, opinions=lines))


def unknown_fluid():
    issue = error("slag", "The slag holds no silica, so no viscosity can be told.", "Add silica.")
    none = dict.fromkeys(("curve", "at_pour", "chance", "pour_wanted", "leaves_pot", "liquidus", "melt_free",
                          "density", "surface_tension", "heat"))  # fmt: skip
    return replace(sample_fluid(), **none, confidence="none", crystals=(), moves=(), issues=(issue,))
