"""How far a sample may be from its lot, by Gy's estimate."""

from math import isfinite, sqrt

from fluxlab.issue import Issue, error, warning
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.minerals import minerals
from fluxlab.ore.grade import fraction
from fluxlab.ore.lot_types import LotFigures, Sampling
from fluxlab.ore.ore_types import Grade, Lot

SOURCE = "Gy's estimate, its form from memory; its factors memory and judgement or your own"
_UNKNOWN = Estimate(0.0, 0.0, 0.0, "unknown")


def sampling_error(s: Sampling, factor: float, much: float) -> tuple[Estimate, tuple[Issue, ...]]:
    """Relative standard deviation of a sample's grade from its sampling alone [%], and what is odd about it.

    Variance = f g c l d^3 (1/sample - 1/lot) with the size in cm and the masses in g. The mineralogical factor c is
    (1 - a)/a ((1 - a) density + a gangue density), the liberation factor the square root of free size over top size.
    It is good to a `factor` [-]; above `much` [%] a larger sample is asked for. Numbers that make no sense give an
    estimate of nothing and say so.
    """
    if not _sound(s):
        sentence = "The sampling error cannot be reckoned: a mass, a size, a density or the content is not possible."
        return _UNKNOWN, (error("ore.lot", sentence, "Give positive numbers."),)
    if s.sample > s.lot:
        sentence = f"A sample of {s.sample:g} g cannot come from a lot of {s.lot:g} g."
        return _UNKNOWN, (error("ore.lot", sentence, "Give both in grams."),)
    off = _off(s)
    issues: tuple[Issue, ...] = ()
    if off > much:
        enough = sample_for(s, much)
        sentence = (
            f"A sample of {s.sample:g} g of {s.top_size:g} mm grain may be off by {off:.0f} % by chance alone"
            " (Gy's estimate, memory and judgement)."
        )
        remedy = f"Crush finer before splitting, or take about {_rounded(enough):g} g."
        issues = (warning("ore.lot", sentence, remedy),)
    return Estimate(off, off / factor, off * factor, SOURCE), issues


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
    numbers = (s.sample, s.lot, s.top_size, s.content, s.density, s.gangue_density, s.liberation, s.shape, s.grading)
    return all(isfinite(v) and v > 0.0 for v in numbers) and s.content < 1.0


def _off(s: Sampling) -> float:
    """Relative standard deviation [%]."""
    a = s.content
    mineral = (1.0 - a) / a * ((1.0 - a) * s.density + a * s.gangue_density)
    size = (s.top_size / 10.0) ** 3
    variance = s.shape * s.grading * mineral * sqrt(min(s.liberation / s.top_size, 1.0)) * size
    return 100.0 * sqrt(variance * (1.0 / s.sample - 1.0 / s.lot))


def _rounded(grams: float) -> float:
    """Two digits that count."""
    return float(f"{grams:.2g}")


def sampling_of(
    lot: Lot, head: Grade | None, carrier: str, metal: str, figures: LotFigures
) -> tuple[Estimate | None, tuple[Issue, ...]]:
    """How far the head grade may be off by the chance of the lot's own sample alone [%], one standard deviation.

    The metal (a symbol) sits in the carrier (a mineral's name); None where sample, grain or grade are not told.
    """
    mineral = minerals().get(carrier)
    held = 0.0 if mineral is None else mineral.read.mass_fractions.get(metal, 0.0)
    if head is None or lot.sample is None or lot.top_size is None or lot.mass is None or not held:
        return None, ()
    taken = Sampling(
        sample=lot.sample,
        lot=lot.mass,
        top_size=lot.top_size,
        content=fraction(head) / held,
        density=figures.gold_density if metal == "Au" else figures.silver_density,
        gangue_density=figures.gangue_density,
        liberation=lot.top_size * figures.liberation / 100.0,
        shape=figures.shape,
        grading=figures.grading,
    )
    found, issues = sampling_error(taken, figures.factor, figures.much)
    return (None if found is _UNKNOWN else found), issues
