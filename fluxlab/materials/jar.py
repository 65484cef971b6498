"""What a gram of a mixed flux delivers, from what its parts deliver."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from fluxlab.issue import Issue
from fluxlab.materials.flux_types import Part
from fluxlab.materials.oxides import Vec
from fluxlab.materials.yield_types import Gas, Yield


def mixed(uid: str, parts: Sequence[Part], of: Sequence[tuple[Yield, float]], issues: tuple[Issue, ...]) -> Yield:
    """What one gram of the jar delivers [mol/g, g/g]; `of` holds each part's yield and loose density [g/cm3].

    A jar is as pure as its parts. Its range: one part after the other is moved to its low and its high with the sum
    kept, and these moves and the parts' own ranges are added as a root of squares.
    """
    yields = [y for y, _ in of]
    likely = np.array([part.likely for part in parts])
    share = likely / likely.sum()
    amounts = np.array([np.append(y.oxides, y.lead_power) for y in yields])
    centre = share @ amounts
    below, above = _spread(parts, likely, amounts, centre)
    own_below = amounts - np.array([np.append(y.low, y.lead_power_range[0]) for y in yields])
    own_above = np.array([np.append(y.high, y.lead_power_range[1]) for y in yields]) - amounts
    low = centre - np.sqrt(below + share**2 @ own_below**2)
    high = centre + np.sqrt(above + share**2 @ own_above**2)
    volumes = share / np.array([density for _, density in of])

    def total(pick: Callable[[Yield], float]) -> float:
        return float(sum(s * pick(y) for s, y in zip(share, yields, strict=True)))

    return Yield(
        flux=uid,
        oxides=centre[:-1],
        low=np.maximum(low[:-1], 0.0),
        high=high[:-1],
        loss=total(lambda y: y.loss),
        oxygen=total(lambda y: y.oxygen),
        gases=_gases(share, yields),
        apart=_sum(share, [y.apart for y in yields]),
        metal=_sum(share, [y.metal for y in yields]),
        unaccounted=total(lambda y: y.unaccounted),
        borax_soda=total(lambda y: y.borax_soda),
        lead_power=float(centre[-1]),
        lead_power_range=(float(low[-1]), float(high[-1])),
        swell=float(volumes @ np.array([y.swell for y in yields]) / volumes.sum()),
        amounts=_sum(share, [y.amounts for y in yields]),
        tags=frozenset().union(*(y.tags for y in yields)),
        issues=issues,
    )


def _spread(parts: Sequence[Part], likely: Vec, amounts: Vec, centre: Vec) -> tuple[Vec, Vec]:
    """Sums of squared moves below and above the likely value, from the ranges of the shares."""
    below, above = np.zeros_like(centre), np.zeros_like(centre)
    for i, part in enumerate(parts):
        for end in (part.low, part.high):
            if end is None or end == part.likely:
                continue
            moved = likely.copy()
            moved[i] = end
            if moved.sum() <= 0.0:
                continue
            move = moved / moved.sum() @ amounts - centre
            below += np.minimum(move, 0.0) ** 2
            above += np.maximum(move, 0.0) ** 2
    return below, above


def _sum(share: Vec, each: Iterable[Mapping[str, float]]) -> Mapping[str, float]:
    total: dict[str, float] = {}
    for s, amounts in zip(share, each, strict=True):
        for name, amount in amounts.items():
            total[name] = total.get(name, 0.0) + float(s) * amount
    return MappingProxyType(total)


def _gases(share: Vec, yields: Sequence[Yield]) -> tuple[Gas, ...]:
    total: dict[tuple[str, str, float | None, float | None, str], tuple[float, float]] = {}
    for s, y in zip(share, yields, strict=True):
        for gas in y.gases:
            key = (gas.species, gas.window, gas.low, gas.high, gas.of)
            grams, moles = total.get(key, (0.0, 0.0))
            total[key] = (grams + float(s) * gas.grams, moles + float(s) * gas.moles)
    return tuple(Gas(k[0], grams, moles, *k[1:]) for k, (grams, moles) in total.items())
