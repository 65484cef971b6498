"""Fit the two constants of the litharge model to Beringer's 26 fusions and print what the fit is worth.

Run by hand from the top of the checkout: python -m tests.benchmarks.fit_litharge_fusions. The figure that counts comes
first: each mineral predicted by constants that were fitted to the other four.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from fluxlab.fusion.nitre import NitreConstants, nitre_constants
from fluxlab.fusion.sulphate import SulphateConstants, sulphate_constants
from tests.published.beringer_fusions import FUSIONS, MINERALS, Fusion, fuse

Misses = NDArray[np.float64]


def sets(constants: Sequence[float]) -> tuple[SulphateConstants, NitreConstants]:
    """The shipped constants with the two fitted ones replaced: logarithm of the first, the second as it is."""
    return (
        replace(sulphate_constants(), constant=float(np.exp(constants[0]))),
        replace(nitre_constants(), rise=float(constants[1])),
    )


def misses(constants: Sequence[float], fusions: Sequence[Fusion]) -> Misses:
    """Predicted less weighed lead of each fusion [g]."""
    first, second = sets(constants)
    return np.array([fuse(each, first, second).lead - each.lead for each in fusions])


def fitted(fusions: Sequence[Fusion]) -> list[float]:
    """The two constants that miss these fusions by least squares."""
    return [float(x) for x in least_squares(misses, [0.8, 0.24], args=(fusions,)).x]


def left_out() -> dict[str, Misses]:
    """Misses of each mineral by the constants of the others [g]."""
    return {
        mineral: misses(
            fitted([f for f in FUSIONS if f.mineral != mineral]), [f for f in FUSIONS if f.mineral == mineral]
        )
        for mineral in MINERALS
    }


def rms(of: Misses) -> float:
    """Root mean square [same unit]."""
    return float(np.sqrt(np.mean(of**2)))


def left_out_share(by_mineral: dict[str, Misses]) -> float:
    """Root mean square of the misses over the lead that the sulphide throws down [g/g]."""
    thrown = [fuse(f).thrown_down for m in MINERALS for f in FUSIONS if f.mineral == m]
    return rms(np.concatenate([by_mineral[m] for m in MINERALS]) / np.array(thrown))


def main() -> None:
    """Print the figures."""
    by_mineral = left_out()
    every = np.concatenate(list(by_mineral.values()))
    print(f"left out, mineral by mineral: rms {rms(every):.2f} g, worst {np.abs(every).max():.1f} g")
    print("  " + ", ".join(f"{m} {rms(of):.1f}" for m, of in by_mineral.items()))
    print(f"  over the lead thrown down: {left_out_share(by_mineral):.3f}")
    best = fitted(FUSIONS)
    inside = misses(best, FUSIONS)
    print(f"fitted, all 26: rms {rms(inside):.2f} g, worst {np.abs(inside).max():.1f} g; 2 constants")
    print(f"  sulphate constant {np.exp(best[0]):.3f}, rise of the nitre's efficiency {best[1]:.3f}")
    for share in (0.0, 0.4, 0.5, 0.6, 0.8, 1.0):
        print(f"  heat share {share:.1f}: {_with_share(share)}")


def _with_share(share: float) -> str:
    def of(constants: Sequence[float], fusions: Sequence[Fusion]) -> Misses:
        first, second = sets(constants)
        first = replace(first, heat_share=share)
        return np.array([fuse(each, first, second).lead - each.lead for each in fusions])

    def fit(fusions: Sequence[Fusion]) -> list[float]:
        return [float(x) for x in least_squares(of, [0.8, 0.24], args=(fusions,)).x]

    out = np.concatenate(
        [of(fit([f for f in FUSIONS if f.mineral != m]), [f for f in FUSIONS if f.mineral == m]) for m in MINERALS]
    )
    return f"rms left out {rms(out):.2f}, fitted {rms(of(fit(FUSIONS), FUSIONS)):.2f} g"


if __name__ == "__main__":
    main()
