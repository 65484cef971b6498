"""How far a planned roast goes: temperatures and times to shares burnt, split and kept.

Shrinking core, sulphates and carbonates as logistic steps of the finish temperature. All of it is memory and judgement
with its spread (resources/roast/programme.toml), smooth in every number of the plan and of the mix.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from fluxlab.materials.minerals import Mineral
from fluxlab.ore.roast_arrays import METALS, Arr, Arrays
from fluxlab.ore.roast_phases import Melting, burning_share, meltings
from fluxlab.ore.roast_tables import burning, decompositions, settings, sulphates
from fluxlab.ore.roast_types import Pairs, RoastPlan

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(6)
_FASTEST = -8.0
"""However hot, nothing splits faster than at so many scales above its middle: the heat has to reach it; judgement."""
_SALT_FORMERS = frozenset({"Cu", "Ag", "Pb", "S"})


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """Where a plan takes a mix: `progress` [-] of each mineral that burns (1 = burnt through), finish [degC, min].

    `floor` is the share that no commercial roast gets out, `bases` lime, lead and manganese to one of arsenic [mol],
    `own` the operator's figures of the programme.
    """

    progress: Arr
    temperature: float
    minutes: float
    floor: float
    bases: float
    unstirred: float
    own: Pairs = ()


@dataclass(frozen=True, slots=True)
class Ramp:
    """One heated step: from a temperature to another [degC] in so many minutes."""

    start: float
    end: float
    minutes: float


def ramps(plan: RoastPlan, fusible: float) -> tuple[Ramp, Ramp, Ramp]:
    """Low roast, main burn and finish of a plan; `fusible` is the share of fusible sulphides in the mix [g/g].

    The low roast stays lower the more of them there are, but never below the start; no step goes above the finish.
    """
    s = settings(plan.figures)
    low, main, finish = (s["steps"][key] for key in ("low", "main", "finish"))
    minutes = plan.minutes / (low["share"] + main["share"] + finish["share"])
    top, gentle = plan.finish_temperature, s["gentle"]
    part = fusible / (fusible + gentle["half_share"]) if fusible > 0.0 else 0.0
    start = min(plan.start_temperature, top)
    turn = min(max(low["high"] - part * (low["high"] - gentle["least"]), start), top)
    return (
        Ramp(start, turn, minutes * low["share"]),
        Ramp(turn, min(max(main["high"], turn), top), minutes * main["share"]),
        Ramp(top, top, minutes * finish["share"]),
    )


def fusible_share(a: Arrays, shares: Arr) -> float:
    """Share of stibnite, sulphosalts, realgar and the like, which melt early [g/g]."""
    return float(shares @ _fusible(a.minerals)) if a.minerals else 0.0


def course(a: Arrays, shares: Arr, plan: RoastPlan) -> Course:
    """Where the plan takes this mix of minerals [g/g]."""
    s, rows = settings(plan.figures), burning(plan.figures)
    k = s["kinetics"]
    steps = ramps(plan, fusible_share(a, shares))
    done = _burning_minutes(steps, k, meltings(a.minerals, shares, own=plan.figures), plan.figures)
    slower = (plan.bed_depth / k["reference_bed"]) ** k["bed_power"] * plan.particle_size / k["reference_size"]
    slower *= 1.0 if plan.rabbled else k["unstirred"]
    tau = np.array([rows[m.name].tau if m.name in rows else np.inf for m in a.minerals])
    sulphur = float(shares @ a.sulphide_raw)
    kept = s["floor"]["sulphide_sulphur"] * float(shares @ a.burnt_mass)
    arsenic = float(shares @ a.arsenic_freed)
    lime = float(shares @ a.metals[:, [METALS.index(m) for m in ("Ca", "Pb", "Mn")]].sum(axis=1))
    magnetic = s["magnetite"]
    air = magnetic["rabbled"] if plan.rabbled else magnetic["unrabbled"]
    return Course(
        progress=done / (tau * max(slower, 1e-12)),
        temperature=plan.finish_temperature,
        minutes=steps[2].minutes,
        floor=kept / (kept + sulphur) if kept + sulphur > 0.0 else 0.0,
        bases=lime / arsenic if arsenic > 0.0 else 0.0,
        unstirred=min(air * plan.bed_depth / k["reference_bed"], magnetic["most"]),
        own=plan.figures,
    )


def conversions(a: Arrays, c: Course, slower: Arr, hotter: Arr) -> Arr:
    """Conversion of each mineral [0..1], states x minerals, where the burning takes `slower` times as long (states x
    minerals) and the bed is `hotter` by so much [degC] (states)."""
    k, finish = (settings(c.own)[row] for row in ("kinetics", "finish"))
    rate = 2.0 ** (hotter[:, None] / k["doubling"])
    left = np.maximum(0.0, 1.0 - c.progress * rate / slower)
    burnt = (1.0 - left**3) * (1.0 - c.floor)
    middle, scale = _fall_apart(a.minerals)
    split = fallen_apart(c.temperature + hotter[:, None], c.minutes, middle, scale, finish["reference_minutes"])
    return np.where(a.burns, burnt, np.where(np.isfinite(middle), split, 1.0))


def persistence(temperature: Arr, minutes: float, own: Pairs = ()) -> Arr:
    """Share of each sulphate of METALS that outlasts a finish at these temperatures [degC] for so many minutes."""
    middle, scale = _splits()
    reference = settings(own)["finish"]["reference_minutes"]
    return 1.0 - fallen_apart(temperature[:, None], minutes, middle, scale, reference)


@cache
def formed() -> tuple[Arr, Arr, Arr]:
    """Low, likely and high share of each of METALS that turns to sulphate before the finish."""
    rows = {s.element: s.formed for s in sulphates()}
    low, likely, high = (np.array([getattr(rows[m], end) for m in METALS]) for end in ("low", "value", "high"))
    return low, likely, high


def arsenate_share(c: Course) -> tuple[float, float, float]:
    """Low, likely and high share of the arsenic that stays as arsenate; the more lime, lead and manganese the more."""
    s = settings()["arsenate"]
    return s["low"], s["low"] + (s["high"] - s["low"]) * c.bases / (1.0 + c.bases), s["high"]


def fallen_apart(temperature: Arr, minutes: float, middle: Arr, scale: Arr, reference: float) -> Arr:
    """Share gone in so many minutes of a finish [degC]: half at the middle in the reference time, none in no time."""
    behind = np.clip((middle - temperature) / scale, _FASTEST, 200.0)
    return np.asarray(minutes / (minutes + reference * np.exp(behind)))


def _burning_minutes(steps: tuple[Ramp, ...], k: Mapping[str, float], clots: tuple[Melting, ...], own: Pairs) -> float:
    """Minutes at the reference temperature, nothing clotted, that burn as much as the steps do."""
    start, end, minutes = (np.array([getattr(r, what) for r in steps])[:, None] for what in ("start", "end", "minutes"))
    along = 0.5 * (start + end) + 0.5 * (end - start) * _NODES
    rate = 2.0 ** ((along - k["reference_temperature"]) / k["doubling"]) * burning_share(clots, along, own)
    return float((minutes[:, 0] * (rate @ _WEIGHTS) / 2.0).sum())


@cache
def _splits() -> tuple[Arr, Arr]:
    rows = {s.element: s for s in sulphates()}
    return np.array([rows[m].t_mid for m in METALS]), np.array([rows[m].scale for m in METALS])


@cache
def _fall_apart(minerals: tuple[Mineral, ...]) -> tuple[Arr, Arr]:
    rows = [decompositions().get(m.name) for m in minerals]
    return (
        np.array([r.middle if r else np.inf for r in rows]),
        np.array([r.scale if r else 1.0 for r in rows]),
    )


@cache
def _fusible(minerals: tuple[Mineral, ...]) -> Arr:
    return np.array([float(_melts_early(m)) for m in minerals])


def _melts_early(mineral: Mineral) -> bool:
    atoms = mineral.read.atoms.keys()
    if "S" not in atoms or "O" in atoms:
        return False
    return "Sb" in atoms or ("As" in atoms and atoms <= _SALT_FORMERS | {"As"})
