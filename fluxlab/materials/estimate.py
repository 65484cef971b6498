"""A figure that nobody measured, with the range in which it likely lies."""

from dataclasses import dataclass

NINE_IN_TEN = 1.645
"""Standard deviations to either side of a range that holds nine cases in ten, by the normal law."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A likely value with its low and high (9 in 10); `source` says what it rests on."""

    value: float
    low: float
    high: float
    source: str = ""

    def times(self, by: float) -> "Estimate":
        """The same estimate in another unit."""
        low, high = sorted((self.low * by, self.high * by))
        return Estimate(self.value * by, low, high, self.source)
