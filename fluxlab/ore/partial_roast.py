"""The partial roast: what a given state leaves of a mix of minerals, and what goes up the flue.

The perfect roast is its limit: everything converted, no sulphate, arsenate, fume or magnetite of its own.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from fluxlab.materials.minerals import Mineral
from fluxlab.ore import roast_stages as stage
from fluxlab.ore.roast import Roasted
from fluxlab.ore.roast_arrays import METALS, Arr, States, arrays, detail, outcome
from fluxlab.ore.roast_types import RoastState

_TRACE = 1e-15
"""Masses below this share of the mix are the rounding of a sum [g/g]."""


@dataclass(frozen=True, slots=True, eq=False)
class PartialRoast:
    """What a state leaves of a mix of `mass` [g].

    `unburnt` [g] are minerals as they were, by name; `roasted` all solids (the unburnt among them) and gases and the
    oxygen taken up [g], so that mass + oxygen = solids + gases. `ratio` [g/g] is what a gram of each mineral leaves,
    `arsenic_kept` and `antimony_fumed` [mol] what it does besides per gram. Sulphur and arsenic of the calcine [g].
    """

    mass: float
    unburnt: Mapping[str, float]
    burnt: Roasted
    roasted: Roasted
    ratio: Arr
    arsenic_kept: Arr
    antimony_fumed: Arr
    sulphide_sulphur: float
    sulphate_sulphur: float
    arsenic: float

    @property
    def change(self) -> float:
        """Change of the mass [g/g raw]."""
        return self.roasted.mass / self.mass - 1.0 if self.mass > 0.0 else 0.0


def states_of(minerals: Sequence[Mineral], shares: Arr, state: RoastState) -> States:
    """One state as arrays of one line."""
    through = dict(state.conversion)
    psi = dict(state.sulphate)
    return States(
        shares=np.asarray(shares, dtype=float).reshape(1, -1),
        conversion=np.array([[through.get(m.name, 1.0) for m in minerals]]),
        sulphate=np.array([[psi.get(metal, 0.0) for metal in METALS]]),
        arsenate=np.array([state.arsenate]),
        antimony_fumed=np.array([state.antimony_fumed]),
        magnetite=np.array([state.magnetite]),
    )


def partial_roast(minerals: Sequence[Mineral], grams: Sequence[float] | Arr, state: RoastState) -> PartialRoast:
    """What the state leaves of these masses of minerals [g]; element and mass balance close to rounding.

    The shares of the state must lie between 0 and 1.
    """
    a, x = arrays(tuple(minerals)), np.asarray(grams, dtype=float)
    one = states_of(minerals, x, state)
    o = outcome(a, one)
    d = detail(a, one, o)
    found = [stage.stages(m) for m in minerals]
    unburnt = {m.name: g for m, g in zip(minerals, (x * o.raw[0]).tolist(), strict=True) if g > _TRACE}
    sides: list[tuple[float, Roasted]] = [
        (float(n), stage.sulphated(metal)) for metal, n in zip(METALS, x @ d.sulphated, strict=True)
    ]
    sides.append((float(x @ d.arsenic_kept), stage.arsenate_kept()))
    sides.append((float(x @ d.antimony_fumed), stage.antimony_fumed()))
    sides.append((float(x @ d.magnetic), stage.left_magnetic()))
    cores = [(float(w), s.labile_gone or s.raw) for w, s in zip(x * o.labile_gone[0], found, strict=True)]
    ends = [(float(w), s.burnt) for w, s in zip(x * o.burnt[0], found, strict=True)]
    trace = _TRACE * max(1.0, float(x.sum()))
    burnt = _joined((*cores, *ends, *sides), trace)
    kept = ((float(w), s.raw) for w, s in zip(x * o.raw[0], found, strict=True))
    return PartialRoast(
        mass=float(x.sum()),
        unburnt=MappingProxyType(unburnt),
        burnt=burnt,
        roasted=_joined(((1.0, burnt), *kept), trace),
        ratio=d.ratio,
        arsenic_kept=d.arsenic_kept,
        antimony_fumed=d.antimony_fumed,
        sulphide_sulphur=float(o.sulphide_sulphur[0]),
        sulphate_sulphur=float(o.sulphate_sulphur[0]),
        arsenic=float(o.arsenic[0]),
    )


def _joined(parts: Iterable[tuple[float, Roasted]], trace: float) -> Roasted:
    """Grams or moles of each part, summed [g]; what is only rounding is left out."""
    solids: dict[str, float] = {}
    gases: dict[str, float] = {}
    oxygen = 0.0
    for amount, part in parts:
        if amount == 0.0:
            continue
        oxygen += amount * part.oxygen
        for whole, piece in ((solids, part.solids), (gases, part.gases)):
            for species, share in piece.items():
                whole[species] = whole.get(species, 0.0) + amount * share
    return Roasted(
        MappingProxyType({species: g for species, g in solids.items() if abs(g) > trace}),
        MappingProxyType({species: g for species, g in gases.items() if abs(g) > trace}),
        oxygen,
    )
