"""What predicts the melts of the slag map's field: the fluidity curve's own viscosity, and crystals at the pour."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from fluxlab.blend.types import Mat
from fluxlab.design.crystal_figures import triggers_with
from fluxlab.design.map_field import Melts
from fluxlab.design.recipe import Work
from fluxlab.materials.oxides import Vec
from fluxlab.slag.crystals import Trigger, default_triggers
from fluxlab.slag.liquidus import spinel_of
from fluxlab.slag.melts import Melts as Slags
from fluxlab.slag.melts import melts
from fluxlab.slag.shares import share_masses
from fluxlab.slag.smooth import ramp
from fluxlab.slag.viscosity import log_viscosity

HALF = 0.5
"""A trigger that is passed by so much [-] makes crystals expected, as half way between its two shares; judgement."""


def field_melts(work: Work) -> Melts:
    """Viscosity [log10 Pa s] and crystals of many slags at once, by the limits that the recipe has for crystals."""
    triggers = triggers_with(dict(work.recipe.crystal_figures))
    return Melts(log_viscosity, lambda n, temperature: crystals_expected(n, temperature, triggers))


def crystals_expected(n: Mat, temperature: float, triggers: Sequence[Trigger] | None = None) -> NDArray[np.bool_]:
    """Whether crystals are expected in slags (recipes x oxides) [mol] at a temperature [degC].

    They are where a trigger is passed by half and the temperature lies under the middle of its range.
    """
    slags = melts(n)
    expected = np.zeros(len(n), dtype=bool)
    for trigger in default_triggers() if triggers is None else triggers:
        expected |= (_passed(slags, trigger) >= HALF) & (temperature < _middle(slags, trigger))
    return np.asarray(expected & slags.told)


def _passed(slags: Slags, trigger: Trigger) -> Vec:
    """How far each slag passes a trigger [-]."""
    shares = slags.shares(share_masses([each.of for each in trigger.shares]))
    passed = [ramp(share, each.starts, each.full) for share, each in zip(shares, trigger.shares, strict=True)]
    return np.asarray(np.prod(passed, axis=0))


def _middle(slags: Slags, trigger: Trigger) -> Vec:
    """The middle of the range below which a trigger's crystals are likely [degC]."""
    if trigger.low is None or trigger.high is None:
        return np.asarray(spinel_of(slags))
    return np.full(len(slags.mass), 0.5 * (trigger.low + trigger.high))
