"""Rules on the slag and the hold: R31 to R33."""

from math import isfinite

from fluxlab.design.cautions.findings import Finding, past, past_to, rough, warn
from fluxlab.design.facts import Facts
from fluxlab.slag.pouring import LEAVES_POT, WARN_ABOVE_LIQUIDUS

HOURS_FROM = 120.0  # min, from which on a hold is told in hours
FUMING_HOLD, FUMING_FROM = 30.0, 1150.0  # min, degC; judgement, vapour pressure of lead sulphide computed


def stiff_slag(f: Facts) -> Finding:
    """R31: slag too stiff, or poured too near the temperature at which it freezes."""
    reasons = []
    if f.viscosity is not None and f.viscosity > LEAVES_POT:
        reasons.append(f"about {past(f.viscosity, LEAVES_POT)} Pa·s at the pour")
    if (
        f.melt_free is not None
        and f.pour_temperature is not None
        and f.pour_temperature < f.melt_free + WARN_ABOVE_LIQUIDUS
    ):
        over = f.pour_temperature - f.melt_free
        above = f"{past_to(over, WARN_ABOVE_LIQUIDUS)} K above" if over >= 0.0 else f"{-over:.0f} K below"
        reasons.append(f"poured {above} {f.melt_free:.0f} °C, where the last crystals melt")
    return warn("; ".join(reasons)) if reasons else None


def slow_settling(f: Facts) -> Finding:
    """R32: prills need longer to come down than the longest hold that is advised."""
    if f.hold_needed is not None and f.hold_needed > f.longest_hold:
        return warn(f"the prills that matter {_need(f.hold_needed, f.longest_hold)}")
    return None


def _need(minutes: float, longest: float) -> str:
    if not isfinite(minutes):
        return "never come down"
    if minutes < HOURS_FROM or longest >= HOURS_FROM:
        return f"need about {past_to(minutes, longest)} min"
    return f"need about {rough(minutes / 60.0)} h"


def fuming_hold(f: Facts) -> Finding:
    """R33: lead held hot for long."""
    hot = f.pour_temperature is not None and f.pour_temperature >= FUMING_FROM
    if f.lead > 0.0 and hot and f.hold is not None and f.hold > FUMING_HOLD:
        return warn(f"{past_to(f.hold, FUMING_HOLD)} min at {f.pour_temperature:.0f} °C with {rough(f.lead, 3)} g lead")
    return None
