"""The chance that each target holds and that every must does, over likely ores."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from fluxlab.blend.chance import held_windows
from fluxlab.blend.types import MUST, Mask, Mat, Vec
from fluxlab.design.balance import Balance
from fluxlab.design.chance_types import ChanceReport, LimitChance
from fluxlab.design.likely import Likely, Pour, likely
from fluxlab.design.limit_words import in_sentence, limit_words
from fluxlab.design.melt_law import VISCOSITY, log_limit
from fluxlab.design.question import FEED
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import TargetReport
from fluxlab.design.windows import LITHARGE
from fluxlab.ore.samples import CHECK
from fluxlab.slag.viscosity import LEVELS, log_viscosity, viscosity

_NO_RANGES = "The ore has no ranges: give low and high shares, and the chance is worked out"
_NO_MUSTS = "Nothing must hold, so there is no chance to speak of"


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """Which limits hold in which sample (limits x samples), by the keys of their windows; `must` says which must."""

    keys: tuple[str, ...]
    must: Mask
    mask: Mask

    @property
    def together(self) -> float:
        """Chance that every must holds [0..1]."""
        return float(np.logical_and.reduce(self.mask[self.must], axis=0).mean())

    @property
    def weakest(self) -> str:
        """Key of the must that fails most often; empty where none fails."""
        each = np.where(self.must, self.mask.mean(axis=1), np.inf)
        return self.keys[int(np.argmin(each))] if len(each) and each.min() < 1.0 else ""


def chance(
    work: Work, found: Balance, pour: Pour | None = None, targets: Iterable[TargetReport] | None = None
) -> ChanceReport:
    """How likely the targets of a solved recipe hold [0..1], judged on the second set of likely ores.

    `pour` is the viscosity at the pour, with one error of its model per ore; by default the recipe's own limit. A lead
    button has an error too, one per ore. `targets` are the reports of the targets, if they are known already.
    """
    pour = pour or pour_of_recipe(found)
    drawn = likely(work, found, CHECK, pour, targets=targets)
    judged = held(found, found.result.x, drawn, pour)
    limits = _limits(found, judged, pour)
    if not judged.must.any():
        return ChanceReport(None, limits, "", len(drawn.oxides), _NO_MUSTS)
    if not drawn.known:
        return ChanceReport(None, limits, "", len(drawn.oxides), _NO_RANGES)
    musts, weakest = judged.together, judged.weakest
    return ChanceReport(musts, limits, weakest, len(drawn.oxides), _sentence(found, limits, musts, weakest))


def pour_of_recipe(found: Balance) -> Pour | None:
    """The recipe's own limit on the viscosity with the error of its prediction; None where it has none or none is
    predicted."""
    target = next((t for t in found.targets if t.key == "viscosity" and t.on), None)
    if target is None or target.hi is None or log_limit(target) is None:
        return None
    at = found.setting.temperature
    width = float(viscosity(found.n, at).half_widths[LEVELS.index(90)])
    return Pour(log_viscosity, width, at, target.hi) if np.isfinite(width) else None


def held(found: Balance, x: Vec, drawn: Likely, pour: Pour | None = None) -> Held:
    """Which limits hold in which likely ore at the weights x [g] of the problem's components."""
    c = found.compiled
    keys = tuple(c.index)
    mask = held_windows(c, x, drawn.oxides, drawn.shift, drawn.allowed)
    must = np.asarray(c.priority <= MUST)
    if pour is None:
        return Held(keys, must, mask)
    thin = thin_enough(found, x, drawn, pour)
    if VISCOSITY in c.index:
        mask[c.index[VISCOSITY]] = thin
        return Held(keys, must, mask)
    return Held((*keys, VISCOSITY), np.append(must, True), np.vstack((mask, thin)))


def thin_enough(found: Balance, x: Vec, drawn: Likely, pour: Pour) -> Mask:
    """Whether the melt of each likely ore is thin enough to pour, the model's error included."""
    at = found.compiled.index.get(VISCOSITY)
    allowed = 0.0 if at is None else float(drawn.allowed[at])
    return np.asarray(log_viscosities(found, x, drawn, pour) <= np.log10(pour.most) + allowed)


def log_viscosities(found: Balance, x: Vec, drawn: Likely, pour: Pour) -> Vec:
    """Viscosity of the melt of each likely ore, the model's error included [log10 Pa s]."""
    return np.asarray(pour.log_viscosity(slags(found, x, drawn.oxides), pour.temperature) + drawn.errors)


def slags(found: Balance, x: Vec, B: Mat) -> Mat:
    """Slag of each likely ore at the weights x [g] (samples x oxides) [mol]; the lead of a button and held soda out."""
    p = found.compiled.problem
    n = B + p.Y @ x
    if FEED in p.components:
        np.maximum(n, 0.0, out=n)
    return n


def _limits(found: Balance, judged: Held, pour: Pour | None) -> tuple[LimitChance, ...]:
    shares = judged.mask.mean(axis=1).tolist()
    rows = [
        LimitChance(key, _words(found, key, pour), "must" if must else "wish", share)
        for key, must, share in zip(judged.keys, judged.must.tolist(), shares, strict=True)
        if key != LITHARGE or share < 1.0
    ]
    return tuple(sorted(rows, key=lambda row: (row.kind, row.chance)))


def _words(found: Balance, key: str, pour: Pour | None) -> str:
    if key == VISCOSITY and pour is not None:
        return f"Viscosity at the pour at most {pour.most:g} Pa·s"
    return limit_words(found, key)


def _sentence(found: Balance, limits: tuple[LimitChance, ...], musts: float, weakest: str) -> str:
    text = f"Every must holds in {in_hundred(musts)} of 100 likely ores"
    row = next((row for row in limits if row.limit == weakest), None)
    if row is None:
        return text
    return f"{text}; the weakest is {in_sentence(row.words)}, {in_hundred(row.chance)} of 100"


def in_hundred(share: float) -> str:
    """A chance as so many of a hundred, never rounded up to all or down to none."""
    if share >= 1.0:
        return "100"
    if share > 0.99:
        return "more than 99"
    return "none" if share <= 0.0 else "fewer than 1" if share < 0.01 else f"{100.0 * share:.0f}"
