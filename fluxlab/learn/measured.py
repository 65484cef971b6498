"""A measured share with what makes it uncertain, and means of several."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, hypot, log, sqrt

from fluxlab.materials.estimate import NINE_IN_TEN


@dataclass(frozen=True, slots=True)
class Measured:
    """A figure above zero and its uncertainty, one standard deviation as a part of the value [-].

    `own` is that of this measurement alone; `shared` comes from what all measurements of a row have in common (the
    assay of the ore), so that no number of repetitions lessens it.
    """

    value: float
    own: float
    shared: float = 0.0

    @property
    def error(self) -> float:
        """Both together, as one standard deviation [part of the value]."""
        return hypot(self.own, self.shared)

    @property
    def low(self) -> float:
        """Lower end of the likely range (9 in 10)."""
        return self.value / self._reach()

    @property
    def high(self) -> float:
        """Upper end of the likely range (9 in 10)."""
        return self.value * self._reach()

    def _reach(self) -> float:
        # An error of many times the value knows nothing; the ends only have to stay numbers.
        return exp(min(NINE_IN_TEN * self.error, 100.0))


def quotient(value: float, own: Sequence[float], shared: Sequence[float] = ()) -> Measured:
    """A product or quotient with the relative errors of its factors [-], each free of the others.

    Relative errors of factors add as a root of squares: JCGM 100:2008 (the GUM), 5.1.6, from memory.
    """
    return Measured(value, sqrt(sum(e * e for e in own)), sqrt(sum(e * e for e in shared)))


def weighted_mean(values: Sequence[float], errors: Sequence[float]) -> tuple[float, float, float]:
    """Mean weighted by 1/error², its standard deviation, and the Birge ratio: scatter seen over scatter expected.

    A ratio above 1 says that the values scatter more than their errors explain; the deviation is not yet widened by it.
    """
    weights = [1.0 / (error * error) for error in errors]
    whole = sum(weights)
    mean = sum(w * v for w, v in zip(weights, values, strict=True)) / whole
    chi = sum(w * (v - mean) ** 2 for w, v in zip(weights, values, strict=True))
    ratio = sqrt(chi / (len(values) - 1)) if len(values) > 1 else 0.0
    return mean, 1.0 / sqrt(whole), ratio


def mean_of(row: Sequence[Measured]) -> Measured | None:
    """The mean of a row of figures, weighted by their own errors; None for an empty row.

    Figures that scatter more than their errors explain widen its error (R. T. Birge, 1932, from memory); what they
    share is added at the end, undiminished. Reckoned in logarithms, as the errors are parts of the value.
    """
    if not row:
        return None
    least = 1e-6
    mean, own, ratio = weighted_mean([log(each.value) for each in row], [max(each.own, least) for each in row])
    return Measured(exp(mean), own * max(1.0, ratio), max(each.shared for each in row))
