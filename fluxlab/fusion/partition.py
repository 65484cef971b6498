"""Silver shared between metal, matte, speiss and slag, by the full balance.

In each phase the mass fraction of silver is a constant times that in the metal. A matte that takes up silver grows by
it, and the metal that gives it up shrinks, so the shares follow from

    sum of M K c / (1 - K c) + slag k c + o c / (1 - c) = A

for c, the mass fraction of silver in the metal: M is a phase without silver, o the other metals, A all silver. Where no
other metal is there the silver that the phases can hold is held first and the rest is metal.
"""

from collections.abc import Sequence
from dataclasses import dataclass

_STEPS = 100
_DUST = 1e-13


@dataclass(frozen=True, slots=True)
class Phase:
    """A phase beside the metal: its mass without silver [g], silver in it over silver in the metal [-].

    `grows` says whether the silver adds to its mass; it does not count in a slag.
    """

    mass: float
    ratio: float
    grows: bool = True


@dataclass(frozen=True, slots=True)
class Shared:
    """Silver in the metal and in each phase [g], and its mass fraction in the metal [g/g]."""

    metal: float
    phases: tuple[float, ...]
    fraction: float


def share_silver(silver: float, other: float, phases: Sequence[Phase]) -> Shared:
    """Silver in metal and phases [g]: all silver of the pot [g], other metal of the button [g], the other phases."""
    if silver <= 0.0:
        return Shared(0.0, tuple(0.0 for _ in phases), 0.0)
    other = other if other > _DUST * silver else 0.0
    c = _fraction(silver, other, [p for p in phases if p.mass > 0.0])
    held = tuple(_in_phase(p, c)[0] for p in phases)
    scale = silver / max(sum(held), silver)
    left = silver - sum(held) * scale
    if left <= _DUST * silver:
        return Shared(0.0, tuple(each * silver / sum(held) for each in held), 0.0)
    return Shared(left, tuple(each * scale for each in held), left / (left + other))


def shared_by_mass(amount: float, metal: float, matte: float, ratio: float) -> float:
    """What a matte [g] takes of a metal that is rare in both [g]: gold, by its ratio matte to metal [-]."""
    if amount <= 0.0 or matte <= 0.0:
        return 0.0
    return amount * ratio * matte / (metal + ratio * matte) if metal > 0.0 else amount


def _fraction(silver: float, other: float, phases: Sequence[Phase]) -> float:
    """The mass fraction c [g/g] at which metal and phases together hold the silver [g]: Newton's steps in a bracket."""
    low, high = 0.0, min([1.0, *(1.0 / p.ratio for p in phases if p.grows and p.ratio > 1.0)])
    c = min(silver / (silver + other + sum(p.ratio * p.mass for p in phases)), 0.999 * high)
    most = high * (1.0 - 1e-15)
    for _ in range(_STEPS):
        held, slope = -silver, 0.0
        for phase in phases:
            grams, each = _in_phase(phase, c)
            held, slope = held + grams, slope + each
        if other > 0.0:
            held, slope = held + other * c / (1.0 - c), slope + other / (1.0 - c) ** 2
        low, high = (low, c) if held > 0.0 else (c, high)
        step = held / slope if slope > 0.0 else 0.0
        if abs(step) <= 1e-15:
            break
        c = min(c - step if low < c - step < high else (low + high) / 2.0, most)
    return c


def _in_phase(phase: Phase, c: float) -> tuple[float, float]:
    """Silver in a phase [g] at a mass fraction c in the metal, and how it grows with c [g]."""
    at = phase.ratio * c
    if phase.mass <= 0.0:
        return 0.0, 0.0
    if not phase.grows:
        return phase.mass * at, phase.mass * phase.ratio
    left = 1.0 - at
    return phase.mass * at / left, phase.mass * phase.ratio / (left * left)
