"""The part of the map where the recipe at each point holds every must for most of the likely ores."""

from itertools import pairwise

import numpy as np

from fluxlab.blend.chance import held_windows
from fluxlab.blend.pins import Pins
from fluxlab.blend.types import MUST, Mask
from fluxlab.design.chance import pour_of_recipe, thin_enough
from fluxlab.design.likely import Pour, likely
from fluxlab.design.map_axes import MapProblem, X, Y
from fluxlab.design.map_report import NOWHERE, Line, closed
from fluxlab.design.map_types import Outline
from fluxlab.design.melt_law import VISCOSITY
from fluxlab.design.recipe import Work
from fluxlab.ore.samples import CHECK

SAFE = 0.9
_COLUMNS, _PROBES, _HALVINGS, _SAMPLES = 16, 9, 4, 200


def safe_outline(work: Work, m: MapProblem, whole: Outline, share: float = SAFE, pour: Pour | None = None) -> Outline:
    """Where the recipe at each point holds every must in at least that share [0..1] of the likely ores.

    `whole` is the outline of where the musts can hold at all. The recipes are those that a drag finds; each end is
    found by halving, and named by the must that fails most often there.
    """
    if len(whole.xs) < 2:
        return NOWHERE
    safety = _Safety(work, m, share, pour or pour_of_recipe(m.found))
    first, last = whole.xs[0], whole.xs[-1]
    spans: dict[float, tuple[float, float] | None] = {}
    for x in np.linspace(first, last, _COLUMNS).tolist():
        spans[x] = safety.span(x, *_ends(whole, x))
    _sharpen(safety, whole, spans)
    held = [(x, span) for x, span in sorted(spans.items()) if span is not None]
    if len(held) < 2:
        return NOWHERE
    low: Line = [(x, span[0], safety.named(x, span[0], -1.0)) for x, span in held]
    high: Line = [(x, span[1], safety.named(x, span[1], 1.0)) for x, span in held]
    middle = [0.5 * (low[i][1] + high[i][1]) for i in (0, -1)]
    left, right = safety.beside(held[0][0], middle[0], first), safety.beside(held[-1][0], middle[1], last)
    return closed(m, low, high, left, right)


def _ends(o: Outline, x: float) -> tuple[float, float]:
    return float(np.interp(x, o.xs, o.low)), float(np.interp(x, o.xs, o.high))


def _sharpen(safety: "_Safety", whole: Outline, spans: dict[float, tuple[float, float] | None]) -> None:
    """More columns where safe ones begin and end."""
    xs = sorted(spans)
    for a, b in pairwise(xs):
        if (spans[a] is None) == (spans[b] is None):
            continue
        inner, outer = (a, b) if spans[a] is not None else (b, a)
        for _ in range(_HALVINGS):
            middle = 0.5 * (inner + outer)
            spans[middle] = safety.span(middle, *_ends(whole, middle))
            inner, outer = (middle, outer) if spans[middle] is not None else (inner, middle)


class _Safety:
    """Chances of the recipes of a map."""

    def __init__(self, work: Work, m: MapProblem, share: float, pour: Pour | None) -> None:
        drawn = likely(work, m.found, CHECK, pour, count=_SAMPLES)
        self.m, self.drawn, self.pour = m, drawn, pour
        self.c, self.share, self.pins = m.compiled, share, Pins(m.compiled, (X, Y))
        self.B = drawn.oxides
        axes = np.zeros((self.c.count - len(drawn.shift), _SAMPLES))
        self.shift = np.vstack((drawn.shift, axes))
        self.allowed = np.append(drawn.allowed, np.zeros(len(axes)))
        self.musts = np.flatnonzero(self.c.priority <= MUST)

    def held(self, x: float, y: float) -> Mask | None:
        """Which must holds in which ore at a point (musts x samples)."""
        recipe = self.pins.recipe((x, y))
        if recipe is None:
            return None
        held = held_windows(self.c, recipe, self.B, self.shift, self.allowed)[self.musts]
        if self.pour is None or float(held.all(axis=0).mean()) < self.share:
            return held
        return np.vstack((held, thin_enough(self.m.found, recipe, self.drawn, self.pour)))

    def safe(self, x: float, y: float) -> bool:
        held = self.held(x, y)
        return held is not None and float(held.all(axis=0).mean()) >= self.share

    def span(self, x: float, low: float, high: float) -> tuple[float, float] | None:
        """The longest run of safe points along a column, its ends halved to between probes."""
        ys = np.linspace(low, high, _PROBES).tolist()
        run: list[int] = []
        best: list[int] = []
        for i, y in enumerate(ys):
            run = [*run, i] if self.safe(x, y) else []
            best = run if len(run) > len(best) else best
        if not best:
            return None
        bottom = ys[best[0]] if best[0] == 0 else self._edge(x, ys[best[0]], ys[best[0] - 1])
        top = ys[best[-1]] if best[-1] == _PROBES - 1 else self._edge(x, ys[best[-1]], ys[best[-1] + 1])
        return bottom, top

    def _edge(self, x: float, inside: float, outside: float) -> float:
        for _ in range(_HALVINGS):
            middle = 0.5 * (inside + outside)
            if self.safe(x, middle):
                inside = middle
            else:
                outside = middle
        return inside

    def named(self, x: float, y: float, way: float) -> str:
        """The must that fails most often at an end; a hair beyond it where none fails there."""
        return self._weakest(x, y) or self._weakest(x, y + way * 1e-3 * max(abs(y), 1e-3))

    def beside(self, x: float, y: float, end: float) -> str:
        """The must that ends the safe part sideways; empty where the whole outline ends there too."""
        return "" if x == end else self._weakest(x, y)

    def _weakest(self, x: float, y: float) -> str:
        held = self.held(x, y)
        if held is None:
            return ""
        each = held.mean(axis=1)
        keys = [*(self.c.problem.windows[k].key for k in self.musts.tolist()), VISCOSITY]
        return keys[int(np.argmin(each))] if each.min() < 1.0 else ""
