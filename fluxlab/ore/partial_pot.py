"""What a partly roasted material brings into the pot: unburnt minerals raw, the rest as the roast left it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fluxlab.materials import oxides
from fluxlab.materials.minerals import Mineral
from fluxlab.ore import pot
from fluxlab.ore.partial_roast import PartialRoast
from fluxlab.ore.roast_stages import PLAIN_SULPHIDES

_HALF = 0.5
"""Moles of As2O3 or Sb2O3 for one of arsenic or antimony."""


@dataclass(frozen=True, slots=True, eq=False)
class Brought:
    """What the calcine of one gram of mix brings into the pot [g/g], as in `pot.InPot`.

    `slag` [mol/g of each mineral] has a line per mineral; `fuel` by formula is unburnt matter, sulphides and carbon
    alike, of which `sulphide` counts the sulphides and arsenides.
    """

    slag: oxides.Vec
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    gases: Mapping[str, float]
    elements: Mapping[str, float]
    reducible: Mapping[str, float]
    fuel: Mapping[str, float]
    sulphide: float
    carbonate: float


def partly_roasted(minerals: Sequence[Mineral], left: PartialRoast) -> Brought:
    """What a partial roast of these minerals brings into the pot, for as much as was roasted."""
    unburnt = [(left.unburnt.get(m.name, 0.0), m) for m in minerals]
    raw = [(g, pot.raw(m)) for g, m in unburnt if g > 0.0]
    parts = [*((g, pot.solid(name)) for name, g in left.burnt.solids.items()), *raw]
    fuel = {m.formula: g for g, m in unburnt if g > 0.0 and "O" not in m.read.atoms}
    cores = {name: g for name, g in left.burnt.solids.items() if name in PLAIN_SULPHIDES}
    return Brought(
        slag=_slag(minerals, left),
        apart=_sum((w, p.apart) for w, p in parts),
        metal=_sum((w, p.metal) for w, p in parts),
        gases=_sum((w, {s: g for s, g in p.gases.items() if s != "O2"}) for w, p in parts),
        elements=_sum((w, p.elements) for w, p in parts),
        reducible=_sum((w, p.reducible) for w, p in parts),
        fuel=_sum([(1.0, fuel), (1.0, cores)]),
        sulphide=sum(g for g, m in unburnt if pot.is_sulphide(m)) + sum(cores.values()),
        carbonate=sum(g for g, m in unburnt if pot.is_carbonate(m)),
    )


def _slag(minerals: Sequence[Mineral], left: PartialRoast) -> oxides.Vec:
    """Slag oxides of a gram of each mineral [mol/g]: those of the perfect roast, arsenate added, fume taken off."""
    slag = np.array([pot.calcined(m).slag for m in minerals]).reshape(-1, oxides.SIZE)
    slag[:, oxides.INDEX["As2O3"]] += _HALF * left.arsenic_kept
    slag[:, oxides.INDEX["Sb2O3"]] -= _HALF * left.antimony_fumed
    return slag


def _sum(parts: Iterable[tuple[float, Mapping[str, float]]]) -> Mapping[str, float]:
    total: dict[str, float] = {}
    for weight, amounts in parts:
        for name, amount in amounts.items():
            total[name] = total.get(name, 0.0) + weight * amount
    return total
