"""The axes of the slag map and the solver's problem with both of them in it."""

from dataclasses import dataclass, replace

import numpy as np

from fluxlab.blend.problem import Compiled, compile
from fluxlab.blend.types import PHYSICAL, Functional, Vec, Window
from fluxlab.design.balance import Balance
from fluxlab.design.limit_words import in_sentence
from fluxlab.design.map_types import Axis, AxisPair
from fluxlab.design.melt_law import VISCOSITY
from fluxlab.design.recipe import Target
from fluxlab.design.windows import shape, words

X, Y = "@x", "@y"
FLUX = "flux:"
_ROOM = 0.3
"""Share of a target's band that an axis shows beyond its ends."""
_LEAST_ROOM = {"degree": 0.25, "borate": 0.25, "flux_to_ore": 0.5}
"""Least that it shows beyond them, as a share of the upper end."""
_HARD_ENDS = {"borate": 1.0}
_STEPS = {"degree": 0.05, "borate": 0.01, "flux_to_ore": 0.02}


@dataclass(frozen=True, slots=True, eq=False)
class MapProblem:
    """The problem of a solved recipe with two windows more, the axes, which hold nothing until they are pinned."""

    found: Balance
    pair: AxisPair
    compiled: Compiled

    def at(self, x: Vec) -> tuple[float, float]:
        """Where a recipe [g of each component] lies on the axes; NaN where it has no such quantity."""
        c = self.compiled
        both = c.G @ x + c.U @ c.b + c.C
        out = [float(both[k] / both[c.count + k]) if both[c.count + k] > 0.0 else float("nan") for k in self.windows]
        return out[0], out[1]

    @property
    def windows(self) -> tuple[int, int]:
        """Rows of the two axes among the windows."""
        return self.compiled.index[X], self.compiled.index[Y]


def axis_pairs(found: Balance) -> tuple[AxisPair, ...]:
    """The maps that can be drawn: degree by borate share, and flux to ore by the weight of each row that can move."""
    pairs = []
    if shape(found.setting, Target("degree")) and shape(found.setting, Target("borate")):
        pairs.append(AxisPair(_ratio(found, "degree"), _ratio(found, "borate"), "degree and borate share"))
    if shape(found.setting, Target("flux_to_ore")):
        ratio = _ratio(found, "flux_to_ore")
        for j, line in enumerate(found.fluxes.lines):
            if found.fluxes.hi[j] > found.fluxes.lo[j]:
                grams = _grams(found, j)
                pairs.append(AxisPair(ratio, grams, f"flux to ore and {in_sentence(grams.label)}"))
                assert grams.key == FLUX + line.flux
    return tuple(pairs)


def map_problem(found: Balance, pair: AxisPair) -> MapProblem:
    """The problem of a solved recipe with the axes of a map in it."""
    c = found.compiled
    limits = zip(c.problem.windows, c.window_lo.tolist(), c.window_hi.tolist(), strict=True)
    # The viscosity is drawn by the field: its tangent at one recipe is no limit of the whole map.
    kept = tuple(replace(w, lo=lo, hi=np.inf if w.key == VISCOSITY else hi) for w, lo, hi in limits)
    axes = (_axis_window(found, X, pair.x), _axis_window(found, Y, pair.y))
    made, _ = compile(replace(c.problem, b=c.b, ref=c.ref, windows=(*kept, *axes)))
    return MapProblem(found, pair, made)


def _axis_window(found: Balance, key: str, axis: Axis) -> Window:
    lines, n = len(found.fluxes.lines), len(found.compiled.problem.components)
    num, den = _quantity(found, axis.key)

    def longer(f: Functional) -> Functional:
        return Functional(f.u, np.append(f.v, np.zeros(n - lines)), f.c)

    lower, upper = -np.inf, np.inf
    tol = _tolerance(axis.key)
    return Window(
        key, axis.label, axis.unit, lower, upper, longer(num), None if den is None else longer(den), tol, PHYSICAL
    )


def _quantity(found: Balance, key: str) -> tuple[Functional, Functional | None]:
    if key.startswith(FLUX):
        at = [line.flux for line in found.fluxes.lines].index(key.removeprefix(FLUX))
        one = np.zeros(len(found.fluxes.lines))
        one[at] = 1.0
        return Functional(np.zeros(len(found.compiled.b)), one), None
    made = shape(found.setting, _target(found, key))
    assert made is not None
    return made


def _target(found: Balance, key: str) -> Target:
    """The recipe's own target, whose convention is the one meant; a plain one where it has none."""
    return next((t for t in found.targets if t.key == key), Target(key))


def _tolerance(key: str) -> float:
    return 0.5 if key.startswith(FLUX) else float(words(key)["tolerance"])


def _ratio(found: Balance, key: str) -> Axis:
    target, text = _target(found, key), words(key)
    num, den = _quantity(found, key)
    bottom = 1.0 if den is None else float(den.u @ found.n + den.v @ found.x) + den.c
    here = (float(num.u @ found.n + num.v @ found.x) + num.c) / bottom if bottom > 0.0 else 1.0
    ends = [end for end in (target.lo, target.hi, here) if end is not None and np.isfinite(end)]
    low, high = min(ends), max(ends)
    step = _STEPS[key]
    room = max(_ROOM * (high - low), _LEAST_ROOM[key] * high, step)
    bottom_end = step * np.floor(max(low - room, 0.0) / step + 1e-9)
    top = min(step * np.ceil((high + room) / step - 1e-9), _HARD_ENDS.get(key, np.inf))
    label = text["label"] if key != "degree" else f"{text['label']} ({target.convention or 'SB'})"
    return Axis(
        key, label, text["unit"], round(float(bottom_end), 9), round(float(top), 9), step, int(text["decimals"])
    )


def _grams(found: Balance, j: int) -> Axis:
    line, component = found.fluxes.lines[j], found.fluxes.components[j]
    high = np.ceil(max(2.0 * float(found.x[j]), 0.3 * found.setting.charge, 10.0 * found.compiled.problem.step[j]))
    return Axis(FLUX + line.flux, component.name, "g", 0.0, float(high), float(found.compiled.problem.step[j]), 1)
