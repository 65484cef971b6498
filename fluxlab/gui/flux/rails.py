"""The rails of the Flux place: the scale of each, from the limits and the value that stand on it."""

from collections.abc import Sequence

from fluxlab.design.report_types import LineReport, TargetReport
from fluxlab.gui.flux.columns import is_nothing
from fluxlab.gui.widgets.rail import RailSpec, nice_top


def shared_top(lines: Sequence[LineReport]) -> float:
    """The end of the scale for rows that have no limit of their own, so that they compare [g]."""
    return nice_top(1.1 * max((line.grams for line in lines), default=1.0))


def line_rail(line: LineReport, top: float, places: int = 1) -> RailSpec:
    """The rail of a flux row: limits as the band, the stock as a hard stop where it is near."""
    reach = max(line.grams, line.most or 0.0, line.least or 0.0)
    near = line.stock is not None and line.stock <= 2.0 * max(reach, 1e-9)
    if near and line.stock is not None:
        reach = max(reach, line.stock)
    limited = line.most is not None or line.least is not None or near
    return RailSpec(
        lo=0.0,
        hi=nice_top(1.15 * reach) if limited else top,
        value=line.grams,
        band_lo=line.least if line.most is None or line.least is not None else None,
        band_hi=line.most,
        stop=line.stock if near else None,
        quiet=is_nothing(line, places),
    )


def target_rail(target: TargetReport) -> RailSpec:
    """The rail of a target: its band with room on both sides, and the value."""
    marks = [mark for mark in (target.lo, target.hi, target.value) if mark is not None]
    high = max(marks, default=1.0)
    low = min(marks, default=0.0)
    if target.lo is not None and target.hi is not None:
        room = max(0.6 * (target.hi - target.lo), 1e-9)
        lo, hi = min(target.lo - room, low), max(target.hi + room, high)
        if low >= 0.0:
            lo = max(0.0, lo)
    elif target.hi is not None:
        lo, hi = min(0.0, low), max(1.4 * target.hi, high, 1e-9)
    else:
        lo, hi = min(0.0, low), max(1.6 * high, 1e-9)
    return RailSpec(
        lo=lo,
        hi=hi,
        value=target.value,
        band_lo=target.lo,
        band_hi=target.hi,
        lo_kind=target.lo_kind,
        hi_kind=target.hi_kind,
        quiet=not target.on,
    )
