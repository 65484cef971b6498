"""The phases of a bed that can melt, and where their first liquid shows."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fluxlab.materials.minerals import Mineral
from fluxlab.ore.roast_arrays import Arr
from fluxlab.ore.roast_stages import plain_sulphides, stages
from fluxlab.ore.roast_tables import FirstLiquid, first_liquids, settings
from fluxlab.ore.roast_types import Pairs

PHASES = tuple(sorted({phase for liquid in first_liquids() for phase in liquid.phases}))
"""The phases of the first-liquid table, in the order of every array of them."""
_AS_THEY_ARE = frozenset({"AgCl", "SiO2"})


@dataclass(frozen=True, slots=True)
class Melting:
    """A first liquid of this bed, and the share of its scarcer phase [g/g raw]."""

    liquid: FirstLiquid
    share: float


def meltings(
    minerals: tuple[Mineral, ...], shares: Arr, silver_sulphate: float = 0.0, own: Pairs = ()
) -> tuple[Melting, ...]:
    """The first liquids of a mix [g/g], the lowest first, each with the share of its scarcer phase.

    `silver_sulphate` [g/g] is what the roast itself makes, `own` are the operator's figures.
    """
    amounts = dict(zip(PHASES, (shares @ _phases(minerals)).tolist(), strict=True)) if minerals else {}
    amounts["Ag2SO4"] = silver_sulphate
    found = [Melting(liquid, min(amounts.get(p, 0.0) for p in liquid.phases)) for liquid in first_liquids(own)]
    return tuple(m for m in found if m.share > 0.0)


def burning_share(found: tuple[Melting, ...], temperature: Arr, own: Pairs = ()) -> Arr:
    """Share of the bed that has not clotted [0..1] at these temperatures [degC]: smooth, all of it far below."""
    s, burning = settings(own)["clotting"], [m for m in found if m.liquid.burns_off]
    if not burning:
        return np.ones_like(temperature)
    at = np.array([m.liquid.low for m in burning])
    part = np.array([m.share / (m.share + s["half_share"]) for m in burning])
    melted = 1.0 / (1.0 + np.exp(np.clip((at - temperature[..., None]) / s["width"], -50.0, 50.0)))
    return np.asarray(1.0 - (part * melted).max(axis=-1))


@lru_cache(maxsize=128)
def _phases(minerals: tuple[Mineral, ...]) -> Arr:
    """Phases in a gram of each mineral (minerals x PHASES) [g/g]; lead oxide as the roast makes it."""
    return np.array([[_phase(m, phase) for phase in PHASES] for m in minerals])


def _phase(mineral: Mineral, phase: str) -> float:
    if phase in _AS_THEY_ARE:
        return float(mineral.formula == phase)
    if phase == "PbO":
        return stages(mineral).burnt.solids.get("PbO", 0.0)
    return plain_sulphides(mineral).get(phase, 0.0)
