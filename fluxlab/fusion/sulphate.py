"""How much of the sulphur that burns is held as sulphate, and how much leaves as dioxide.

Sulphur has two ways out of a sulphide that litharge or nitre burns. As dioxide it bubbles off at once, the more readily
the less heat that takes; as sulphate it stays with an alkali, the more so the less of the alkali an acid has claimed:

    sulphate / dioxide = k exp((h - h0) / 2 R T) · free alkali / acid

h [kJ per mol S] is the heat that litharge takes up to burn the sulphide (`burning`), free alkali is what is left beside
the sulphate. k is the one constant, the same for every mineral; see resources/fusion/litharge.toml. So sulphur goes to
dioxide where there is no alkali, and no more of it goes to sulphate than there is sulphur or alkali. Arsenic is held as
arsenate in the same way. All sulphides of a charge draw on the same alkali.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import exp
from types import MappingProxyType
from typing import Any, Self

from fluxlab import resources
from fluxlab.fusion.burning import burning
from fluxlab.fusion.melt import Melt
from fluxlab.materials.formulas import formula

GAS_CONSTANT = 8.314462618e-3
"""Molar gas constant [kJ/(mol K)], exact by the SI of 2019."""
_ROUNDS = 80
_CLOSE = 1e-14
# a melt without any acid is the limit of one with a trace of it
_TRACE = 1e-9
_DUST = 1e-15


@dataclass(frozen=True, slots=True)
class SulphateConstants:
    """The constants of the rule above: `constant` and `heat_share` [-], heats [kJ per mol S], `temperature` [degC].

    A heat outside `least_heat` to `most_heat`, where nothing was measured, counts as the nearer end.
    `base_per_arsenic` [mol/mol] is the alkali of arsenate, `miss` [g/g] the usual miss of the lead thrown down.
    """

    constant: float
    heat_share: float
    reference_heat: float
    least_heat: float
    most_heat: float
    temperature: float
    base_per_arsenic: float
    miss: float

    @classmethod
    def of(cls, row: Mapping[str, Any]) -> Self:
        """The constants of a table of the sulphate rule."""
        return cls(**{key: value for key, value in row.items() if not key.endswith("_source")})


@dataclass(frozen=True, slots=True)
class Sulphate:
    """Where the burnt sulphur goes: `shares` [mol/mol] held of each mineral, `alkali` [mol] that it takes up.

    `by_alkali` and `by_acid` [mol/mol] say by how much the alkali taken up grows with a mole more of either.
    """

    shares: Mapping[str, float]
    alkali: float
    by_alkali: float
    by_acid: float


@cache
def sulphate_constants() -> SulphateConstants:
    """The constants as shipped; any of them may be replaced."""
    return SulphateConstants.of(sulphate_data())


def sulphate_data() -> dict[str, Any]:
    """The table of the sulphate rule, each figure with its source."""
    row: dict[str, Any] = resources.toml("fusion/litharge.toml")["sulphate"]
    return row


def preference(mineral: str, constants: SulphateConstants | None = None) -> float:
    """How much sooner the sulphur of a mineral is held than let go, where free alkali and acid are equal [-]."""
    c = constants or sulphate_constants()
    heat = burning(mineral).heat
    away = 0.0 if heat is None else min(max(heat, c.least_heat), c.most_heat) - c.reference_heat
    return c.constant * exp(c.heat_share * away / (GAS_CONSTANT * (c.temperature + 273.15)))


def hold(claim: float, preference: float, melt: Melt) -> tuple[float, float]:
    """Share of a claim [mol] on the alkali of a melt that is met [0..1], and how much more alkali [mol/mol] is taken
    with a mole more of it."""
    if not (claim > 0.0 and melt.alkali > 0.0):
        return 0.0, 0.0
    acid = max(melt.acid, _TRACE * melt.alkali, _DUST)
    free, slope, _ = _free_alkali([(claim, preference)], melt.alkali, acid)
    return min(_share(preference, free, acid), melt.alkali / claim), 1.0 - 1.0 / slope


def sulphate(burnt: Mapping[str, float], melt: Melt, constants: SulphateConstants | None = None) -> Sulphate:
    """Share of the sulphur of each mineral, by formula [g burnt], that is held as sulphate [mol/mol]."""
    c = constants or sulphate_constants()
    claims: list[tuple[str, float, float]] = []
    for mineral, grams in burnt.items():
        each = burning(mineral)
        alkali = (each.sulphur + c.base_per_arsenic * each.arsenic) * grams / formula(mineral).mass
        if alkali > 0.0:
            claims.append((mineral, alkali, preference(mineral, c)))
    acid = max(melt.acid, _TRACE * melt.alkali, _DUST)
    free, slope, acid_slope = _free_alkali([(a, k) for _, a, k in claims], melt.alkali, acid)
    shares = {mineral: _share(k, free, acid) for mineral, _, k in claims}
    taken = min(sum(shares[mineral] * alkali for mineral, alkali, _ in claims), melt.alkali)
    return Sulphate(MappingProxyType(shares), taken, 1.0 - 1.0 / slope, -acid_slope / slope)


def _share(k: float, free: float, acid: float) -> float:
    return k * free / (acid + k * free)


def _free_alkali(claims: list[tuple[float, float]], alkali: float, acid: float) -> tuple[float, float, float]:
    """Alkali left beside the sulphate [mol], and the slopes by alkali and acid of the sum that it solves.

    free + sum of share(free) · claim = alkali rises and bends down, so that Newton's steps from nought stay below the
    answer and run into it.
    """
    free = 0.0
    slope = 1.0
    for _ in range(_ROUNDS):
        total = free + sum(claim * _share(k, free, acid) for claim, k in claims)
        slope = 1.0 + sum(claim * k * acid / (acid + k * free) ** 2 for claim, k in claims)
        step = (alkali - total) / slope
        free += step
        if abs(step) <= _CLOSE * alkali:
            break
    acid_slope = sum(claim * k * free / (acid + k * free) ** 2 for claim, k in claims)
    return min(max(free, 0.0), alkali), slope, acid_slope
