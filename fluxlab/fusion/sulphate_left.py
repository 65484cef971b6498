"""Sulphates that no reducer brings back: what soda takes of them, what splits in the heat, what stays as it is.

A sulphate of a metal changes places with the soda, PbSO4 + Na2CO3 = PbO + Na2SO4 + CO2, as far as the acids leave the
alkali to it, by the rule of `sulphate` with a preference of its own (resources/fusion/sulphur.toml). What the soda does
not take splits to oxide, sulphur dioxide and oxygen: none of it at the temperature where its gas stands at a thousandth
of an atmosphere, all of it where that is a twentieth (resources/roast/sulphates.csv, by those two columns: judgement).
Of sodium, potassium, barium and strontium, which are not in that table, nothing splits.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from fluxlab.fusion.melt import Melt
from fluxlab.fusion.redox_order import sulphates, sulphur_in
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphate import Sulphate, hold
from fluxlab.fusion.tables import Table, shipped_table
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.ore.roast_tables import sulphates as splitting

ALKALI_SULPHATES = frozenset({"Na2SO4", "K2SO4"})
"""Sulphates that are what soda would make of them."""
_SULPHUR = atomic_mass("S")


@dataclass(frozen=True, slots=True)
class SulphateLeft:
    """What becomes of the sulphates that no reducer brings back [g S].

    `held` is taken by soda, which takes `alkali` [mol], by `by_alkali` [mol/mol] more with a mole more of it; `split`
    leaves as dioxide, `stays` stays what it was. `claim` [mol] is all that soda could take.
    """

    held: float
    split: float
    stays: float
    alkali: float
    by_alkali: float
    claim: float


NOTHING_LEFT = SulphateLeft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def sulphate_left(
    reducible: Mapping[str, float],
    redox: Redox,
    melt: Melt,
    burnt: Sulphate,
    at: float,
    data: Table | None = None,
) -> SulphateLeft:
    """What becomes of the sulphates of a charge [g S] by the temperature of the pour, `at` [degC].

    `reducible` [g] by formula; what `burnt` sulphide holds of the alkali of the `melt` goes first. `data` are the
    tables of sulphur, the operator's own figures in them.
    """
    left = _not_brought_back(reducible, redox)
    claim = sum(g for s, g in left.items() if s not in ALKALI_SULPHATES) / _SULPHUR
    if not left:
        return NOTHING_LEFT
    rest = Melt(max(melt.alkali - burnt.alkali, 0.0), melt.acid)
    share, by_alkali = hold(claim, readiness(data), rest)
    split = sum((1.0 - share) * g * split_share(s, at) for s, g in left.items() if s not in ALKALI_SULPHATES)
    held = share * claim * _SULPHUR
    return SulphateLeft(held, split, sum(left.values()) - held - split, share * claim, by_alkali, claim)


def readiness(data: Table | None = None) -> float:
    """Sulphate that soda takes over what it does not, where free alkali and acid are equal [-]."""
    row = (data or shipped_table("sulphur"))["sulphate_left"]
    return float(row["preference"])


def split_share(sulphate: str, at: float) -> float:
    """Share of a sulphate, by formula, that splits on the way to a temperature [degC] [0..1]."""
    ends = _splits().get(sulphate)
    return 0.0 if ends is None else min(max((at - ends[0]) / (ends[1] - ends[0]), 0.0), 1.0)


def _not_brought_back(reducible: Mapping[str, float], redox: Redox) -> dict[str, float]:
    """Sulphur of each sulphate that no reducer reaches [g S]."""
    back = {m.demand.substance: sulphur_in(m.oxygen) for m in redox.met}
    there = ((s, reducible.get(s, 0.0)) for s in sulphates())
    return {s: max(g * formula(s).mass_fractions["S"] - back.get(s, 0.0), 0.0) for s, g in there if g > 0.0}


@cache
def _splits() -> Mapping[str, tuple[float, float]]:
    return {row.sulphate: (row.t_mid, row.t_high) for row in splitting()}
