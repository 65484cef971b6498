"""The figures of a roast that rest on memory and judgement, beside those that the operator set in their place."""

from dataclasses import dataclass

import numpy as np

from fluxlab.design.recipe import Work
from fluxlab.ore.roast_arrays import METALS, arrays
from fluxlab.ore.unit_feed import unit_feed

NAMES = {
    "Fe": "Iron", "Cu": "Copper", "Zn": "Zinc", "Mg": "Magnesia", "Ag": "Silver", "Pb": "Lead", "Mn": "Manganese",
    "Ca": "Lime",
}  # fmt: skip
_TRACE = 1e-6
"""Less of a metal than this is not worth a field [mol/g]."""


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """One figure [%]: `reckoned` is what counts now, `own` what the operator set, None = the program's own.

    `kind` is the name of the plan's field, `name` the mineral or the metal's symbol where it has several.
    """

    kind: str
    name: str
    words: str
    reckoned: float
    own: float | None


def own_figures(work: Work) -> tuple[OwnFigure, ...]:
    """The figures of the roast that matter to this ore [%]; none where nothing is roasted or the roast is perfect."""
    recipe = work.recipe
    unit = unit_feed(recipe.ore, recipe.pot_feed, recipe.roast)
    if unit.roast_of is None or not unit.roast_of.figures.state.conversion:
        return ()
    a = arrays(tuple(e.mineral for e in unit.mix.entries))
    shares = np.array([e.likely for e in unit.mix.entries])
    figures, plan = unit.roast_of.figures, recipe.roast
    through, own = dict(figures.state.conversion), dict(plan.conversion)
    found = [
        OwnFigure("conversion", m.name, f"{m.name} burnt or split", 100.0 * through[m.name], _percent(own.get(m.name)))
        for m, inert in zip(a.minerals, a.inert.tolist(), strict=True)
        if not inert
    ]
    left, own = dict(figures.state.sulphate), dict(plan.sulphate)
    found += [
        OwnFigure("sulphate", s, f"{NAMES[s]} left as sulphate", 100.0 * left[s], _percent(own.get(s)))
        for s, held in zip(METALS, (shares @ a.metals).tolist(), strict=True)
        if held > _TRACE
    ]
    state = figures.state
    for kind, words, value, held in (
        ("arsenate", "Arsenic kept as arsenate", state.arsenate, float(shares @ a.arsenic_freed)),
        ("antimony_fumed", "Antimony that fumes", state.antimony_fumed, float(shares @ a.antimony)),
        ("magnetite", "Iron left magnetic", state.magnetite, float(shares @ a.iron)),
        ("silver_loss", "Silver lost", figures.silver_loss.value / 100.0, 1.0),
    ):
        if held > _TRACE:
            found.append(OwnFigure(kind, "", words, 100.0 * value, _percent(getattr(plan, kind))))
    return tuple(found)


def _percent(share: float | None) -> float | None:
    return None if share is None else 100.0 * share
