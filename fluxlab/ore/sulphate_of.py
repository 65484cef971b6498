"""Sulphate that likely ores bring into the pot."""

from collections.abc import Mapping, Sequence

import numpy as np

from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.oxides import Vec
from fluxlab.ore import pot
from fluxlab.ore.partial_roast import states_of
from fluxlab.ore.roast_arrays import States, arrays, outcome
from fluxlab.ore.roast_types import RoastState
from fluxlab.ore.unit_feed import UnitFeed


def sulphate_of(unit: UnitFeed, weights: Vec) -> Vec:
    """Sulphur of sulphate in the pot (samples) [mol] of raw `weights` [g] of the entries of a mix (samples x entries).

    The roast is that of `unit`: how far it goes is the same for all, how much sulphate there can be is each one's own.
    """
    minerals = [e.mineral for e in unit.mix.entries]
    if unit.roast_of is not None and unit.roast_of.left is not None:
        return _after(minerals, weights * np.array(unit.counts), unit.roast_of.figures.state)
    pieces = [pot.raw(m) if unit.roast is None else pot.calcined(m) for m in minerals]
    return np.asarray(weights @ np.array([_sulphate(piece.reducible) for piece in pieces]))


def _after(minerals: Sequence[Mineral], weights: Vec, state: RoastState) -> Vec:
    """The same of what a partial roast leaves (samples) [mol]."""
    one, count = states_of(minerals, weights[0], state), len(weights)
    each = States(
        shares=weights,
        conversion=np.repeat(one.conversion, count, axis=0),
        sulphate=np.repeat(one.sulphate, count, axis=0),
        arsenate=np.repeat(one.arsenate, count),
        antimony_fumed=np.repeat(one.antimony_fumed, count),
        magnetite=np.repeat(one.magnetite, count),
    )
    return np.asarray(outcome(arrays(tuple(minerals)), each).sulphate_sulphur / atomic_mass("S"))


def _sulphate(reducible: Mapping[str, float]) -> float:
    """Sulphur of the sulphates among so much of each substance [mol], by formula [g]."""
    atoms = ((grams, formula(text)) for text, grams in reducible.items())
    return sum(grams / f.mass * f.atoms["S"] for grams, f in atoms if {"S", "O"} <= set(f.atoms))
