"""One click that makes a recipe found elsewhere (safer, or dragged on the map) the recipe on the bench."""

from collections.abc import Sequence

import numpy as np

from fluxlab.design.balance import Balance, balance
from fluxlab.design.edits.flux import stay_close
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Mend

Weights = tuple[tuple[str, float], ...]


def table_weights(found: Balance, x: Sequence[float]) -> Weights:
    """The rows of the flux table with their weights [g] from the components x of the solver's problem."""
    return tuple((line.flux, float(g)) for line, g in zip(found.fluxes.lines, x, strict=False))


def settle(work: Work, weights: Weights, words: str) -> Mend:
    """The edit after which the bench shows these weights [g].

    Rows stay free and keep close to the weights where the targets let them; where a target would pull them away again
    the free rows are fixed instead.
    """
    _, kept = stay_close(work, weights)
    found = balance(kept)
    shown = dict(table_weights(found, found.x.tolist()))
    off = max((abs(shown.get(flux, 0.0) - g) for flux, g in weights), default=0.0)
    if off <= 0.5 * work.shelf.balance_step:
        return Mend(words, "stay_close", (weights,))
    moves = {line.flux for line in work.recipe.lines if line.grams is None}
    free = tuple((flux, float(np.round(g, 6))) for flux, g in weights if flux in moves)
    return Mend(words, "paste_weights", (free,))
