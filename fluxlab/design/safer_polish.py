"""The last gains of a recipe whose chance cannot reach what is wanted: small moves of one flux or of several."""

from collections.abc import Iterator

import numpy as np

from fluxlab.blend.problem import Compiled
from fluxlab.blend.types import MUST, Mask, Vec
from fluxlab.design.balance import Balance
from fluxlab.design.chance import held
from fluxlab.design.likely import Likely, Pour

# Moves in units of the scale of each component, first and last, and trials in all.
_FIRST, _LAST, _TRIALS = 0.25, 0.004, 400
_SEED, _DRAWN = 5, 12


def polished(found: Balance, x: Vec, drawn: Likely, pour: Pour | None) -> Vec:
    """Weights [g] near x that hold every must in more of the likely ores, the wishes that hold at x kept.

    A search by the same moves each time, which shrink, so that the same recipe comes out of the same ores.
    """
    c = found.compiled
    kept = _wishes(c, x)
    # Each viscosity of a thousand ores takes ten times what the other targets do.
    trials = _TRIALS if pour is None else _TRIALS // 3
    best, step = held(found, x, drawn, pour).together, _FIRST
    while step >= _LAST and trials > 0:
        gained = False
        for move in _moves(c):
            tried = np.clip(x + step * move, c.low, c.high)
            if (tried == x).all() or not _wishes(c, tried)[kept].all():
                continue
            trials -= 1
            chance = held(found, tried, drawn, pour).together
            if chance > best:
                best, x, gained = chance, tried, True
        step = step if gained else 0.5 * step
    return x


def _moves(c: Compiled) -> Iterator[Vec]:
    """One component more or less, then many of them at once, which way being drawn, the same each time [g]."""
    for j in c.free_list:
        for way in (1.0, -1.0):
            yield way * c.scale[j] * (np.arange(len(c.scale)) == j)
    draws = np.random.default_rng(_SEED).standard_normal((_DRAWN, len(c.scale)))
    for move in draws * c.scale * c.is_free / np.sqrt(max(len(c.free_list), 1)):
        yield move
        yield -move


def _wishes(c: Compiled, x: Vec) -> Mask:
    """Which windows hold for the likely ore; those that must hold count as held, the samples judge them."""
    both = c.G @ x + c.U @ c.b + c.C
    den = both[c.count :]
    value = both[: c.count] / np.where(den > 0.0, den, np.nan)
    room = 1e-3 * c.tol
    inside = (value >= c.window_lo - room) & (value <= c.window_hi + room)
    return np.asarray(inside | (c.priority <= MUST))
