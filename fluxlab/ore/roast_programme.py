"""The roast as a programme of steps for this ore, and what the ore warns of: fire, clotting, fume, what stays."""

from collections.abc import Sequence
from math import log

import numpy as np

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials.substance import molar_mass
from fluxlab.ore.mix_types import Entry
from fluxlab.ore.roast_arrays import METALS, Arr, Arrays
from fluxlab.ore.roast_kinetics import Ramp, fusible_share, persistence, ramps
from fluxlab.ore.roast_phases import Melting, meltings
from fluxlab.ore.roast_tables import Burning, burning, settings
from fluxlab.ore.roast_types import Programme, RoastPlan, RoastStep

_FINE, _COARSE = 0.1, 0.2
_WHERE = "roast"
_LITTLE = 0.002
"""Share of a mineral that is worth a word [g/g]."""
_TRACE = 0.0001
"""What is less is told as less than this [%]; judgement."""


def programme(a: Arrays, entries: Sequence[Entry], plan: RoastPlan) -> Programme:
    """The steps [degC, min] for this mix and plan, and the warnings with their numbers and what they rest on."""
    shares = np.array([e.likely for e in entries])
    steps = ramps(plan, fusible_share(a, shares))
    if not _anything_burns(a, shares):
        none = "Nothing" if not (shares[a.burns] > 0.0).any() else "Hardly anything"
        sentence = f"{none} in this ore burns: the roast only dries it and drives off water and carbon dioxide."
        return Programme(_steps(steps, plan), (note(_WHERE, sentence), *_mercury(entries)))
    warnings = (
        *_mercury(entries),
        *_ignition(entries, plan),
        *_runaway(entries, plan),
        *_clotting(a, shares, steps, plan),
        *_bed(plan, float(shares @ a.iron) > 0.0),
        *_finish(a, shares, plan, steps[2]),
    )
    return Programme(_steps(steps, plan), warnings)


def ignition(row: Burning, particle_size: float) -> float | None:
    """Temperature at which a mineral of this grain [mm] takes fire in air [degC]; between fine and coarse by the
    logarithm of the size. None where it is not tabled."""
    if row.ignition is None:
        return None
    fine, coarse = row.ignition
    part = min(max(log(particle_size / _FINE) / log(_COARSE / _FINE), 0.0), 1.0)
    return fine + part * (coarse - fine)


def own_heat(entries: Sequence[Entry]) -> float:
    """Heat that the minerals set free when they burn [kJ per g of mix], as far as it is tabled."""
    rows = burning()
    found = ((e.likely, rows.get(e.mineral.name)) for e in entries)
    return sum(share * row.heat for share, row in found if row is not None and row.heat is not None)


def _steps(three: tuple[Ramp, Ramp, Ramp], plan: RoastPlan) -> tuple[RoastStep, ...]:
    s = settings(plan.figures)["steps"]
    dry, test = s["dry"], s["test"]
    middle = [
        RoastStep(key, s[key]["title"], r.start, r.end, r.minutes, s[key]["action"], s[key]["source"])
        for key, r in zip(("low", "main", "finish"), three, strict=True)
    ]
    end = three[2].end
    return (
        RoastStep("dry", dry["title"], dry["low"], dry["high"], dry["minutes"], dry["action"], dry["source"]),
        *middle,
        RoastStep("test", test["title"], end, end, test["minutes"], test["action"].format_map(test), test["source"]),
    )


def _anything_burns(a: Arrays, shares: Arr) -> bool:
    return bool(shares[a.burns].sum() >= _LITTLE) if len(shares) else False


def _mercury(entries: Sequence[Entry]) -> list[Issue]:
    share = 100.0 * sum(e.likely * e.mineral.read.mass_fractions.get("Hg", 0.0) for e in entries)
    if share <= 0.0:
        return []
    held = f"{share:.2g}" if share >= _TRACE else f"less than {_TRACE:.4f}"
    sentence = f"The ore holds {held} % mercury; all of it leaves the roast as vapour."
    return [error(_WHERE, sentence, "Do not roast it in the open; have it retorted by somebody who is set up for it.")]


def _ignition(entries: Sequence[Entry], plan: RoastPlan) -> list[Issue]:
    rows = burning(plan.figures)
    found = []
    for e in entries:
        row = rows.get(e.mineral.name)
        at = ignition(row, plan.particle_size) if row is not None else None
        if row is not None and at is not None and e.likely >= _LITTLE:
            found.append((at, e.mineral.name, row.ignition_source))
    if not found:
        return []
    at, name, source = min(found)
    give = settings(plan.figures)["limits"]["ignition_spread"]
    sentence = f"{name} takes fire by itself at about {at:.0f} ± {give:.0f} °C ({source})."
    return [note(_WHERE, sentence, "Take the heat up slowly from there and stir before the bed glows.")]


def _runaway(entries: Sequence[Entry], plan: RoastPlan) -> list[Issue]:
    limits = settings(plan.figures)["limits"]
    pyrite = 100.0 * sum(e.likely for e in entries if e.mineral.formula == "FeS2")
    if pyrite <= limits["runaway"]:
        return []
    sentence = (
        f"{pyrite:.0f} % pyrite: the bed makes {own_heat(entries):.1f} kJ per gram of its own and tends to run away and"
        f" clot above {limits['runaway']:.0f} % ({_flag(limits['runaway_source'])}; heat computed)."
    )
    dilute = pyrite / limits["runaway"] - 1.0
    remedy = (
        f"Spread it thinner than {plan.bed_depth:g} mm, or mix each 100 g with {100 * dilute:.0f} g or more of calcine"
        " or silica."
    )
    return [warning(_WHERE, sentence, remedy)]


def _clotting(a: Arrays, shares: Arr, steps: tuple[Ramp, Ramp, Ramp], plan: RoastPlan) -> list[Issue]:
    limits = settings(plan.figures)["limits"]
    least = limits["liquid_share"] / 100.0
    silver = float(shares @ a.metals[:, METALS.index("Ag")]) * molar_mass("Ag2SO4") / 2.0
    found = [m for m in meltings(a.minerals, shares, silver, plan.figures) if m.share >= least]
    burns = [m for m in found if m.liquid.burns_off]
    stays = [m for m in found if not m.liquid.burns_off]
    # What burns off is gone before the finish, what stays is there to the end.
    below = limits["below_liquid"]
    issues = [
        _first(burns, steps[0].end, "low roast", below),
        _first(burns, steps[1].end, "main burn", below, steps[0].end),
        _first(stays, steps[2].end, "finish", below),
    ]
    return [issue for issue in issues if issue is not None]


def _first(found: Sequence[Melting], top: float, step: str, below: float, after: float = -np.inf) -> Issue | None:
    """The lowest liquid that shows in a step up to `top` [degC] and not before `after`; stay so far `below` it."""
    for m in found:
        if after < m.liquid.low <= top:
            at = m.liquid
            span = f"{at.low:.0f}" if at.low == at.high else f"{at.low:.0f} to {at.high:.0f}"
            sentence = (
                f"{at.words.capitalize()} from about {span} °C ({at.source.split(';')[0]}), and the {step} goes to"
                f" {top:.0f} °C: the bed can clot, and what has clotted keeps its sulphur."
            )
            cool = f"{at.low - below:.0f} °C"
            remedy = (
                f"Stay below {cool} until no more fume comes off, stir, keep the bed thin."
                if at.burns_off
                else "Keep the bed thin, stir, and finish no hotter and no longer than the sulphates need; below"
                f" {cool} none of it melts, but more sulphate lasts."
            )
            return warning(_WHERE, sentence, remedy)
    return None


def _bed(plan: RoastPlan, iron: bool) -> list[Issue]:
    s = settings(plan.figures)
    limit, longer = s["limits"]["bed"], s["kinetics"]["unstirred"]
    issues = []
    if plan.bed_depth > limit:
        flag = _flag(s["limits"]["bed_source"])
        sentence = f"A bed of {plan.bed_depth:g} mm is deep; {limit:g} mm at most burns evenly ({flag})."
        issues.append(note(_WHERE, sentence, "Use a wider tray or roast in parts."))
    if not plan.rabbled:
        flag = _flag(s["kinetics"].get("unstirred_source") or s["kinetics"]["source"])
        black = " and leaves black magnetic iron" if iron else ""
        sentence = f"Unstirred, the roast takes about {longer:g} times as long{black} ({flag})."
        issues.append(note(_WHERE, sentence, "Stir every 3 to 5 minutes."))
    return issues


def _finish(a: Arrays, shares: Arr, plan: RoastPlan, last: Ramp) -> list[Issue]:
    limits, top = settings(plan.figures)["limits"], plan.finish_temperature
    red = f"{limits['weak_finish']:.0f} to {limits['red_heat_most']:.0f} °C"
    if top > limits["hard"]:
        sentence = f"A finish at {top:.0f} °C is above {limits['hard']:.0f} °C ({limits['hard_source']})."
        return [warning(_WHERE, sentence, f"Finish at {red}; hotter, silver fumes too.")]
    held = {m: v for m, v in zip(METALS, shares @ a.metals, strict=True) if v > 1e-5}
    lasts = dict(zip(METALS, persistence(np.array([top]), last.minutes, plan.figures)[0].tolist(), strict=True))
    weak = [
        f"{m} {100 * lasts[m]:.0f} %"
        for m in ("Fe", "Cu", "Zn", "Ag")
        if m in held and lasts[m] > limits["lasting"] / 100.0
    ]
    if top >= limits["weak_finish"] or not weak:
        return []
    sentence = (
        f"A finish at {top:.0f} °C leaves sulphates that a red heat would split, of what has formed: {', '.join(weak)}"
        " (temperatures computed, shares judgement). They come back as matte."
    )
    return [warning(_WHERE, sentence, f"Finish at {red} for 15 to 30 minutes.")]


def _flag(source: str) -> str:
    """What a figure rests on, in a word."""
    return source.partition(":")[0]
