"""Where the recipe stands against each target."""

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.design.melt_law import pour_viscosity
from fluxlab.design.question import LEAD, PB
from fluxlab.design.recipe import Target
from fluxlab.design.report_types import TargetReport
from fluxlab.design.standing import Standing, one_step, standing
from fluxlab.design.windows import shape, words
from fluxlab.materials.oxides import Vec
from fluxlab.slag.viscosity import FLOOR


def target_reports(found: Balance, targets: tuple[Target, ...], sources: dict[str, str]) -> tuple[TargetReport, ...]:
    """One report per target of the recipe, those that are off with them."""
    return tuple(_report(found, t, sources) for t in targets)


def value_of(found: Balance, t: Target, n: Vec | None = None, x: Vec | None = None) -> float | None:
    """What a target's quantity comes to, in the target's unit; None where it has no meaning."""
    n, x = found.n if n is None else n, found.x if x is None else x
    if t.key == "viscosity":
        return pour_viscosity(n, found.setting.temperature)
    made = shape(found.setting, t)
    if made is None:
        return None
    num, den = made
    top = float(num.u @ n + num.v @ x) + num.c
    if den is not None:
        bottom = float(den.u @ n + den.v @ x) + den.c
        if abs(bottom) < 1e-12:
            return None
        top /= bottom
    if t.key == "lead_button":
        return max(min(top, _lead_there(found, x)), 0.0)
    if t.key == "cover":
        pot, metal = found.setting.pot, found.setting.cover_metal
        return None if pot is None else pot.level(metal + top) - pot.level(metal)
    return top if np.isfinite(top) else None


def as_asked(found: Balance, key: str) -> bool:
    """Whether a target that is on holds, or is missed by less than what a balance step of one row would mend: nobody
    could weigh it nearer."""
    t = next((t for t in found.targets if t.key == key and t.on), None)
    value = None if t is None else value_of(found, t)
    if t is None or value is None:
        return False
    stands = standing(found, t, value)
    return stands.state not in ("below", "above") or stands.off_by <= 0.5 * one_step(found, t, value)


def _lead_there(found: Balance, x: Vec) -> float:
    """Lead of the whole charge [g]: no reducer brings down more."""
    return found.feed.lead + float(found.fluxes.Y[PB] @ x) * LEAD


def _report(found: Balance, t: Target, sources: dict[str, str]) -> TargetReport:
    text = words(t.key)
    value = value_of(found, t)
    stands = standing(found, t, value)
    return TargetReport(
        key=t.key,
        label=text["label"],
        unit=text["unit"],
        value=value,
        lo=t.lo,
        hi=t.hi,
        lo_kind=t.lo_kind,
        hi_kind=t.hi_kind,
        on=t.on,
        state=stands.state,
        off_by=stands.off_by,
        decimals=int(text["decimals"]),
        sentence=_sentence(text, t, value, stands),
        source=sources.get(t.key) or text["source"],
        convention=t.convention or ("SB" if t.key == "degree" else None),
        floor=FLOOR if t.key == "viscosity" else None,
    )


def _sentence(text: dict[str, str], t: Target, value: float | None, stands: Standing) -> str:
    state = stands.state
    label, unit = text["label"], f" {text['unit']}" if text["unit"] else ""
    if state == "off":
        return f"{label} is not asked for"
    if value is None:
        return f"{label} cannot be worked out for this charge"
    decimals = int(text["decimals"])
    got = f"{value:.{decimals}f}"
    if t.key == "viscosity" and value < FLOOR:
        return f"{label} under {FLOOR:g}{unit}"

    def against(end: float) -> str:
        # One more place where rounding would hide by how much the target is missed.
        return f"{end:.{decimals}f}" if f"{end:.{decimals}f}" != got else f"{end:.{decimals + 2}f}"

    for end, ends, side in ((t.lo, ("below", "at lo"), "least"), (t.hi, ("above", "at hi"), "most")):
        if stands.off_by > 0.0 and state in ends and end is not None:
            asked = against(end)
            near = ": on its limit, as near as the balance weighs" if state == ends[1] else ""
            return f"{label} {_as_long_as(asked, value, got)}{unit}, at {side} {asked} asked{near}"
    return f"{label} {got}{unit}"


def _as_long_as(asked: str, value: float, got: str) -> str:
    places = len(asked.partition(".")[2])
    return got if len(got.partition(".")[2]) >= places else f"{value:.{places}f}"
