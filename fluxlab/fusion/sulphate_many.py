"""Sulphur held by alkali, and what nitre gives, in many charges at once: the rules of `sulphate` and `nitre`."""

import numpy as np

from fluxlab.fusion.currency import theoretical_power
from fluxlab.fusion.nitre import NitreConstants, nitre_constants
from fluxlab.materials.oxides import Vec

_ROUNDS = 40
_CLOSE = 1e-12
_TRACE, _DUST = 1e-9, 1e-15


def held_shares(claims: Vec, preferences: Vec, alkali: Vec, acid: Vec) -> Vec:
    """Share of the sulphur of each mineral that is held (charges x minerals) [mol/mol].

    `alkali` and `acid` (charges) [mol] are those of the melts.

    `claims` (charges x minerals) [mol] is the alkali that the sulphur of each mineral could take, `preferences`
    (minerals) [-] are those of `preference`. Newton's steps from nought stay below the answer and run into it.
    """
    sour = np.maximum(np.maximum(acid, _TRACE * alkali), _DUST)[:, None]
    free = np.zeros(len(alkali))
    for _ in range(_ROUNDS):
        wet = sour + preferences * free[:, None]
        total = free + (claims * preferences * free[:, None] / wet).sum(axis=1)
        slope = 1.0 + (claims * preferences * sour / wet**2).sum(axis=1)
        step = (alkali - total) / slope
        free += step
        if np.all(np.abs(step) <= _CLOSE * np.maximum(alkali, _DUST)):
            break
    free = np.clip(free, 0.0, alkali)[:, None]
    return np.asarray(preferences * free / (sour + preferences * free))


def nitre_shares(alkali: Vec, acid: Vec, constants: NitreConstants | None = None) -> Vec:
    """Share of the oxygen of nitrates that the charge gets (charges) [-], as `nitre_efficiency` tells of one."""
    c = constants or nitre_constants()
    both = alkali + acid
    alkalinity = alkali / np.where(both > 0.0, both, 1.0)
    return np.asarray(np.minimum(c.least_power / theoretical_power("KNO3", 2.5) + c.rise * alkalinity, 1.0))
