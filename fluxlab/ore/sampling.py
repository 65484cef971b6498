"""How far a sample may be from its lot, by Gy's estimate."""

from dataclasses import replace
from math import isfinite, sqrt

from fluxlab.issue import Issue, error, warning
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.minerals import Mineral
from fluxlab.ore.grade import fraction
from fluxlab.ore.lot_types import GradeErrors, Sampling
from fluxlab.ore.ore_types import Grade, Lot
from fluxlab.ore.pot import UNKNOWN_DENSITY

_SOURCE = "Gy's estimate: its form and factors from memory, good to a factor of two (judgement)"
_MUCH = 20.0


def sampling_error(s: Sampling) -> tuple[Estimate, tuple[Issue, ...]]:
    """Relative standard deviation of a sample's grade from its sampling alone [%], and what is odd about it.

    Variance = f g c l d^3 (1/sample - 1/lot) with the size in cm and the masses in g. The mineralogical factor c is
    (1 - a)/a ((1 - a) density + a gangue density), the liberation factor the square root of free size over top size.
    Numbers that make no sense give an estimate of nothing and say so.
    """
    if not _sound(s):
        sentence = "The sampling error cannot be reckoned: a mass, a size, a density or the content is not possible."
        return Estimate(0.0, 0.0, 0.0, "unknown"), (error("ore.lot", sentence, "Give positive numbers."),)
    if s.sample > s.lot:
        sentence = f"A sample of {s.sample:g} g cannot come from a lot of {s.lot:g} g."
        return Estimate(0.0, 0.0, 0.0, "unknown"), (error("ore.lot", sentence, "Give both in grams."),)
    off = _off(s)
    issues: tuple[Issue, ...] = ()
    if off > _MUCH:
        enough = sample_for(s, _MUCH)
        sentence = f"A sample of {s.sample:g} g of {s.top_size:g} mm grain may be off by {off:.0f} % by chance alone."
        remedy = f"Crush finer before splitting, or take about {_rounded(enough):g} g."
        issues = (warning("ore.lot", sentence, remedy),)
    return Estimate(off, off / 2.0, off * 2.0, _SOURCE), issues


def sample_for(s: Sampling, wanted: float) -> float:
    """Sample that keeps the relative standard deviation at the wanted one [%] [g]; never more than the lot.

    Raises nothing; where the sampling makes no sense the whole lot is wanted.
    """
    if not _sound(s) or not wanted > 0.0:
        return s.lot
    # The variance goes as 1/sample - 1/lot.
    each = (_off(s) / 100.0) ** 2 / (1.0 / s.sample - 1.0 / s.lot) if s.sample < s.lot else 0.0
    return 1.0 / ((wanted / 100.0) ** 2 / each + 1.0 / s.lot) if each > 0.0 else s.lot


def _sound(s: Sampling) -> bool:
    numbers = (s.sample, s.lot, s.top_size, s.content, s.density, s.gangue_density, s.shape, s.grading)
    free = s.top_size if s.liberation is None else s.liberation
    return all(isfinite(v) and v > 0.0 for v in (*numbers, free)) and s.content < 1.0


def _off(s: Sampling) -> float:
    """Relative standard deviation [%]."""
    a = s.content
    mineral = (1.0 - a) / a * ((1.0 - a) * s.density + a * s.gangue_density)
    free = s.top_size if s.liberation is None else s.liberation
    size = (s.top_size / 10.0) ** 3
    variance = s.shape * s.grading * mineral * sqrt(min(free / s.top_size, 1.0)) * size
    return 100.0 * sqrt(variance * (1.0 / s.sample - 1.0 / s.lot))


def _rounded(grams: float) -> float:
    """Two digits that count."""
    return float(f"{grams:.2g}")


def with_sampling(
    lot: Lot, head: Grade | None, carrier: Mineral | None, metal: str, errors: GradeErrors
) -> tuple[GradeErrors, tuple[Issue, ...]]:
    """The errors of the grades [%] with the chance of the lot's own sample added to that of its head grade.

    The metal (a symbol) sits in the carrier, free at the top size; where sample, grain or grade are not told nothing
    is added.
    """
    held = 0.0 if carrier is None else carrier.read.mass_fractions.get(metal, 0.0)
    if carrier is None or head is None or lot.sample is None or lot.top_size is None or lot.mass is None or not held:
        return errors, ()
    density = carrier.density or UNKNOWN_DENSITY
    found, issues = sampling_error(Sampling(lot.sample, lot.mass, lot.top_size, fraction(head) / held, density))
    return replace(errors, head=sqrt(errors.head**2 + found.value**2)), issues
