"""The melt as a liquid, for the report: will it pour, from when is it melted, and how sure is that."""

from math import isfinite, log10

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.design.crystal_figures import triggers_with
from fluxlab.design.fluid_moves import moves
from fluxlab.design.fluid_types import Confidence, Crystal, FluidCurve, FluidReport, Likely, Opinion
from fluxlab.design.plain_types import Amount
from fluxlab.design.recipe import Work
from fluxlab.issue import Issue
from fluxlab.materials.oxides import Vec
from fluxlab.slag.crystals import Crystals, crystals
from fluxlab.slag.interval import LEVELS, chance_below
from fluxlab.slag.properties import Properties, property_issues, slag_properties
from fluxlab.slag.solids import stiffening_issues
from fluxlab.slag.spread import Spread
from fluxlab.slag.validity import LOW_WEIGHT, THIN_DATA
from fluxlab.slag.viscosity import FLOOR, OPINIONS, SPAN, Viscosity, viscosity

STEP = 10.0
"""Distance of the points of the curve [degC]."""
LIMIT = 2.0
"""Thickest melt that is poured where the recipe sets no limit [Pa s]; judgement."""
SHARED = 0.02
"""An opinion with less than this share of the say [-] is not told."""
_EVEN, _NINE = LEVELS.index(50), LEVELS.index(90)
_TEMPERATURES = np.arange(SPAN.least, SPAN.most + STEP / 2.0, STEP)
_SOURCES = (
    "viscosity: own equation fitted to open glass data (SciGlass database), Riboud 1981 where iron and manganese"
    " borosilicates favour it; density, surface tension and liquidus: own fits to the same data",
    "heat: additive liquid heat capacities after Stebbins et al. 1984 and Mills 2011; range judged",
)


def fluid_report(work: Work, found: Balance) -> FluidReport:
    """The melt as a liquid at the recipe's pour temperature. Never raises; what cannot be told is None."""
    pour, limit, n = work.recipe.pour_temperature, limit_of(found), found.n
    there = slag_properties(n, pour, limit)
    at = _viscosities(there.viscosity)[0]
    likely = crystals(n, triggers_with(dict(work.recipe.crystal_figures)))
    known = isfinite(at.value)
    return FluidReport(
        pour=pour,
        limit=limit,
        floor=FLOOR,
        curve=_curve(n) if known else None,
        at_pour=at if known else None,
        below_floor=known and at.value < FLOOR,
        chance=_chance(there.viscosity, limit) if known else None,
        confidence=_confidence(there.viscosity) if known else "none",
        pour_wanted=_likely(there.workable.pour),
        leaves_pot=_likely(there.workable.leaves_pot),
        liquidus=_likely(there.workable.liquidus),
        melt_free=_likely(there.workable.melt_free),
        density=_likely(there.density),
        surface_tension=_likely(there.surface_tension),
        heat=_likely(there.heat),
        crystals=_crystals(likely),
        moves=moves(found, pour),
        issues=_issues(n, pour, there, likely),
        sources=_SOURCES,
    )


def limit_of(found: Balance) -> float:
    """Thickest melt that the recipe allows at the pour [Pa s]."""
    asked = next((t.hi for t in found.targets if t.key == "viscosity" and t.on and t.hi is not None), None)
    return asked if asked is not None and asked > 0.0 else LIMIT


def at_pour(fluid: FluidReport) -> Amount | None:
    """Viscosity at the pour with its nine-in-ten range [Pa s]; None where it is not known."""
    at = fluid.at_pour
    return None if at is None else Amount(at.value, at.low90, at.high90)


def _viscosities(found: Viscosity) -> list[Likely]:
    """Viscosities [Pa s] of one composition with their ranges, one per temperature."""
    even, nine = found.half_widths[_EVEN], found.half_widths[_NINE]
    logs = found.log10
    ends = np.atleast_2d(np.power(10.0, np.stack((logs, logs - even, logs + even, logs - nine, logs + nine)).T))
    return [Likely(*row) for row in ends.tolist()]


def _curve(n: Vec) -> FluidCurve:
    found = viscosity(n, _TEMPERATURES)
    weights = found.weights.ravel().tolist()
    told = [i for i, weight in enumerate(weights) if weight >= SHARED]
    each = np.power(10.0, found.opinions)
    opinions = tuple(Opinion(OPINIONS[i], weights[i], tuple(each[i].tolist())) for i in told) if len(told) > 1 else ()
    return FluidCurve(tuple(_TEMPERATURES.tolist()), tuple(_viscosities(found)), opinions)


def _chance(found: Viscosity, limit: float) -> float:
    return float(chance_below(found.log10, found.half_widths, log10(limit)))


def _confidence(found: Viscosity) -> Confidence:
    doubtful = float(found.weights[1:].sum()) >= LOW_WEIGHT or float(found.leverage) > THIN_DATA
    return "low" if doubtful else "usual"


def _likely(spread: Spread) -> Likely | None:
    ends = [float(getattr(spread, end)) for end in ("value", "low50", "high50", "low90", "high90")]
    return Likely(*ends) if all(isfinite(end) for end in ends) else None


def _crystals(likely: tuple[Crystals, ...]) -> tuple[Crystal, ...]:
    return tuple(
        Crystal(c.trigger.name, c.low, c.high, c.trigger.sentence, c.trigger.judgement, c.trigger.source)
        for c in likely
    )


def _issues(n: Vec, pour: float, there: Properties, likely: tuple[Crystals, ...]) -> tuple[Issue, ...]:
    return (*property_issues(n, pour, there, likely), *stiffening_issues(pour, float(there.workable.liquidus.high90)))
