"""Fit the two constants of the litharge model to Beringer's 26 fusions and print what the fit is worth.

Run by hand from the top of the checkout: python -m tests.benchmarks.fit_litharge_fusions. The figure that counts comes
first: each mineral predicted by what was fitted to, and worked out from, the other four.

Fitted, two: the sulphate constant and the rise of the nitre's efficiency. Worked out from which minerals were measured:
the least and the largest heat, beyond which the rule is not tried; they are worked out anew without the mineral left
out. Chosen by us, after these same fusions were known: the heat share, 0.5; what other shares give is printed. By the
same author and of the same fusions: the nitre's least power, 3.2 (p. 98); it is not independent of them. Of the five
heats those of chalcopyrite and stibnite rest on heats of formation from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from fluxlab.fusion.burning import burning
from fluxlab.fusion.nitre import NitreConstants, nitre_constants
from fluxlab.fusion.sulphate import SulphateConstants, sulphate_constants
from tests.published.beringer_fusions import FUSIONS, MINERALS, Fusion, fuse
from tests.published.litharge_rules import CONVENTIONS, authors_misses, stoichiometry_misses

Misses = NDArray[np.float64]
HEAT_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
_ROUNDED = 5.0


@dataclass(frozen=True, slots=True)
class Rule:
    """What the fit takes as given: the heat share [-] and the ends of heat [kJ per mol S]."""

    heat_share: float
    least_heat: float
    most_heat: float


def rule_of(minerals: Sequence[str] = MINERALS, heat_share: float | None = None) -> Rule:
    """The rule when only these minerals were measured: their heats, rounded outward to 5 kJ [kJ per mol S]."""
    heats = [heat for heat in (burning(mineral).heat for mineral in minerals) if heat is not None]
    share = sulphate_constants().heat_share if heat_share is None else heat_share
    return Rule(share, _ROUNDED * floor(min(heats) / _ROUNDED), _ROUNDED * ceil(max(heats) / _ROUNDED))


def sets(constants: Sequence[float], rule: Rule) -> tuple[SulphateConstants, NitreConstants]:
    """The shipped constants under a rule with the two fitted ones replaced: logarithm of the first, the second."""
    return (
        replace(
            sulphate_constants(),
            constant=float(np.exp(constants[0])),
            heat_share=rule.heat_share,
            least_heat=rule.least_heat,
            most_heat=rule.most_heat,
        ),
        replace(nitre_constants(), rise=float(constants[1])),
    )


def misses(constants: Sequence[float], fusions: Sequence[Fusion], rule: Rule) -> Misses:
    """Predicted less weighed lead of each fusion [g]."""
    first, second = sets(constants, rule)
    return np.array([fuse(each, first, second).lead - each.lead for each in fusions])


def fitted(fusions: Sequence[Fusion], rule: Rule) -> list[float]:
    """The two constants that miss these fusions by least squares."""
    return [float(x) for x in least_squares(misses, [0.8, 0.24], args=(fusions, rule)).x]


def of_mineral(mineral: str) -> list[Fusion]:
    """The fusions of a mineral."""
    return [f for f in FUSIONS if f.mineral == mineral]


@cache
def left_out(heat_share: float | None = None, ends_of_all: bool = False) -> dict[str, Misses]:
    """Misses of each mineral by the constants and the ends of heat of the other four [g].

    `ends_of_all` keeps the ends of all five: then the heat of the mineral left out is not wholly left out.
    """
    found = {}
    for mineral in MINERALS:
        others = [m for m in MINERALS if m != mineral]
        rule = rule_of(MINERALS if ends_of_all else others, heat_share)
        found[mineral] = misses(fitted([f for f in FUSIONS if f.mineral != mineral], rule), of_mineral(mineral), rule)
    return found


def joined(by_mineral: dict[str, Misses]) -> Misses:
    """All misses in the order of the fusions [g]."""
    return np.concatenate([by_mineral[m] for m in MINERALS])


def rms(of: Misses) -> float:
    """Root mean square [same unit]."""
    return float(np.sqrt(np.mean(of**2)))


def worst(of: Misses) -> float:
    """Largest miss either way [same unit]."""
    return float(np.abs(of).max())


def left_out_share(by_mineral: dict[str, Misses]) -> float:
    """Root mean square of the misses over the lead that the sulphide throws down [g/g]."""
    return rms(joined(by_mineral) / np.array([fuse(f).thrown_down for f in FUSIONS]))


def figures() -> list[str]:
    """The figures in words, the one that counts first."""
    clean, ends_kept, rule = left_out(), left_out(ends_of_all=True), rule_of()
    best = fitted(FUSIONS, rule)
    inside, author = misses(best, FUSIONS, rule), authors_misses(FUSIONS)
    return [
        f"left out, mineral by mineral: {_told(clean)}",
        f"  over the lead thrown down: {left_out_share(clean):.3f}",
        f"author's rule, a power to each mineral from them: rms {rms(author):.2f} g, worst {worst(author):.1f} g",
        *(line for mineral in MINERALS for line in _of(mineral, clean[mineral])),
        f"left out, but with the ends of heat of all five kept: {_told(ends_kept)}",
        f"  over the lead thrown down: {left_out_share(ends_kept):.3f}",
        f"fitted, all 26: rms {rms(inside):.2f} g, worst {worst(inside):.1f} g",
        f"  2 fitted: sulphate constant {np.exp(best[0]):.3f}, rise of the nitre's efficiency {best[1]:.3f}",
        f"  by the same author: least power of nitre {nitre_constants().least_power} (p. 98)",
        f"  worked out from the minerals measured: heats {rule.least_heat:.0f} to {rule.most_heat:.0f} kJ per mol S",
        f"  chosen by us, knowing these fusions: heat share {rule.heat_share}; others would give",
        *(f"    {s:.2f}: left out {_told(left_out(s))}; fitted rms {_fit(s):.2f} g" for s in HEAT_SHARES),
        *(_stoichiometry(convention) for convention in CONVENTIONS),
    ]


def _told(by_mineral: dict[str, Misses]) -> str:
    return f"rms {rms(joined(by_mineral)):.2f} g, worst {worst(joined(by_mineral)):.1f} g"


def _of(mineral: str, model: Misses) -> list[str]:
    author = authors_misses(of_mineral(mineral))
    return [
        f"  {mineral:7s}{name} rms {rms(of):.1f}: " + " ".join(f"{each:+.1f}" for each in of)
        for name, of in (("model left out", model), ("author's rule ", author))
    ]


def _fit(share: float) -> float:
    rule = rule_of(heat_share=share)
    return rms(misses(fitted(FUSIONS, rule), FUSIONS, rule))


def _stoichiometry(convention: str) -> str:
    of = stoichiometry_misses(FUSIONS, convention)
    return f"stoichiometry, {convention}, nitre 4.0: rms {rms(of):.1f} g, worst {worst(of):.1f} g"


if __name__ == "__main__":
    print("\n".join(figures()))
