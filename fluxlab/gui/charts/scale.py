"""Axes of a chart, and where a value stands in the field between them."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor, log10

from fluxlab.gui.widgets.fields import show_number


@dataclass(frozen=True, slots=True)
class Axis:
    """From `lo` to `hi`, with ticks as value and words; a `log` axis is even in the logarithm."""

    lo: float
    hi: float
    ticks: tuple[tuple[float, str], ...] = ()
    log: bool = False

    def even(self, value: float) -> float:
        """The value on a scale that is even along the axis."""
        return log10(max(value, 1e-12)) if self.log else value

    def share(self, value: float) -> float:
        """How far along the axis a value stands, 0 at `lo`, 1 at `hi`."""
        lo, hi = self.even(self.lo), self.even(self.hi)
        return (self.even(value) - lo) / ((hi - lo) or 1.0)

    def shares(self, values: Iterable[float]) -> list[float]:
        """The same for many values at once."""
        lo, hi = self.even(self.lo), self.even(self.hi)
        span = (hi - lo) or 1.0
        return [(self.even(value) - lo) / span for value in values]

    def value(self, share: float) -> float:
        """The value at a share of the way along the axis."""
        lo, hi = self.even(self.lo), self.even(self.hi)
        even = lo + share * (hi - lo)
        return 10.0**even if self.log else even


@dataclass(frozen=True, slots=True)
class Field:
    """The field between two axes, `width` by `height` px, its zero at the upper left corner."""

    x_axis: Axis
    y_axis: Axis
    width: float
    height: float

    def x(self, value: float) -> float:
        """Where a value of the lower axis stands [px]."""
        return self.x_axis.share(value) * self.width

    def y(self, value: float) -> float:
        """Where a value of the left axis stands [px]."""
        return (1.0 - self.y_axis.share(value)) * self.height

    def points(self, places: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
        """Where places, each a value of the lower and one of the left axis, stand [px]."""
        below, left = [*zip(*places, strict=True)] or [(), ()]
        xs, ys = self.x_axis.shares(below), self.y_axis.shares(left)
        return [(x * self.width, (1.0 - y) * self.height) for x, y in zip(xs, ys, strict=True)]

    def x_value(self, x: float) -> float:
        """The value of the lower axis at `x` px."""
        return self.x_axis.value(x / (self.width or 1.0))

    def y_value(self, y: float) -> float:
        """The value of the left axis at `y` px."""
        return self.y_axis.value(1.0 - y / (self.height or 1.0))


def plain(value: float) -> str:
    """A value of a log scale as a plain number: 0.1, 0.3, 1, 30."""
    places = max(0, -floor(log10(value) + 1e-9)) if value > 0.0 else 0
    return show_number(value, places)


def log_axis(lo: float, hi: float) -> Axis:
    """A log axis with ticks at 1 and 3 times the powers of ten; it ends a little beyond the outer ones."""
    steps = [step * 10.0**power for power in range(-4, 7) for step in (1.0, 3.0)]
    first = max((s for s in steps if s <= lo * 1.001), default=steps[0])
    last = min((s for s in steps if s >= hi * 0.999), default=steps[-1])
    ticks = tuple((s, plain(s)) for s in steps if first * 0.999 <= s <= last * 1.001)
    return Axis(first / 1.04, last * 1.5, ticks, log=True)


def even_axis(lo: float, hi: float, room: float = 7.0) -> Axis:
    """An axis from `lo` to `hi` with at most about `room` round ticks."""
    span = (hi - lo) or 1.0
    power = 10.0 ** floor(log10(span / room))
    step = next(k * power for k in (1.0, 2.0, 5.0, 10.0) if k * power * room >= span * 0.999)
    places = max(0, -floor(log10(step) + 1e-9))
    ticks = [k * step for k in range(ceil(lo / step - 1e-9), floor(hi / step + 1e-9) + 1)]
    return Axis(lo, hi, tuple((tick, show_number(tick, places)) for tick in ticks))
