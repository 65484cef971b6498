"""The way from the lot to the calcine in words and rails: ratios, recoveries, metal on its way."""

from fluxlab.design.report_types import Amount, LotReport, MetalReport
from fluxlab.design.roast_text import grade_places
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.widgets.rail import RailSpec, nice_top
from fluxlab.gui.widgets.rail_lines import RailLine

LONG = 110
"""Letters of a source that still stand on the card; the whole of it is in the report."""


def ratio_words(lot: LotReport) -> str:
    """Parts of lot to one of concentrate, by weight and by grades; "" where neither is known."""
    told = [
        f"{shown(ratio, 1)} : 1 by {how}"
        for ratio, how in ((lot.ratio, "weight"), (lot.ratio_by_grades, "the grades"))
        if ratio is not None
    ]
    return f"Lot to concentrate {', '.join(told)}." if told else ""


def recovery_lines(lot: LotReport) -> tuple[RailLine, ...]:
    """Recovery on the table and to the calcine, metal by metal, as far as it can be told."""
    return tuple(line for metal in lot.metals for line in _metal(metal))


def _metal(metal: MetalReport) -> tuple[RailLine, ...]:
    lines = []
    if metal.recovery_percent is not None:
        how = "by weight" if metal.recovery_percent == metal.by_weight_percent else "by the grades"
        lines.append(_line(f"{metal.metal.capitalize()} on the table", metal.recovery_percent, how))
    if metal.overall_percent is not None and metal.in_calcine is not None:
        lines.append(_line(f"{metal.metal.capitalize()} to the calcine", metal.overall_percent, ""))
    return tuple(lines)


def _line(words: str, share: Amount, how: str) -> RailLine:
    low, high = share.low, share.high
    likely = None if low is None or high is None else (low, high)
    note = "" if likely is None else f"{shown(likely[0], 0)} – {shown(likely[1], 0)}"
    note = ", ".join(part for part in (note, how) if part)
    top = max(100.0, nice_top(high or share.value))
    return RailLine(words, note, RailSpec(0.0, top, value=share.value, likely=likely), shown(share.value, 0), "%")


def grounds(lot: LotReport) -> str:
    """What the ranges rest on, long sources by their first words; "" where nothing is told."""
    short = (source if len(source) <= LONG else source.partition(":")[0] for source in lot.sources)
    return f"Ranges are nine in ten: {'; '.join(dict.fromkeys(short))}." if lot.sources else ""


def metal_words(lot: LotReport) -> tuple[str, ...]:
    """Grades and masses of each metal on its way."""
    return tuple(words for metal in lot.metals if (words := _on_its_way(metal)))


def _on_its_way(m: MetalReport) -> str:
    steps = [
        f"{shown(amount.value, 2 if amount.value >= 1.0 else 4)} g in the {where}"
        for amount, where in ((m.in_lot, "lot"), (m.in_concentrate, "concentrate"), (m.in_calcine, "calcine"))
        if amount is not None
    ]
    grade = "" if m.calcine is None else f"calcine {shown(m.calcine.value, grade_places(m.calcine.value))} {m.unit}"
    rich = "" if m.enrichment is None else f"concentrate {shown(m.enrichment.value, 1)} times as rich as the lot"
    off = m.sampling_percent
    chance = "" if off is None else f"its sample ± {_percents(off)} % by chance (one standard deviation)"
    parts = [part for part in (", ".join(steps), grade, rich, chance) if part]
    return f"{m.metal.capitalize()}: {'; '.join(parts)}." if parts else ""


def _percents(off: Amount) -> str:
    """A sampling error with its range, as many decimals as it needs."""
    places = 0 if off.value >= 10.0 else 1 if off.value >= 1.0 else 2
    span = "" if off.low is None or off.high is None else f" ({shown(off.low, places)} – {shown(off.high, places)})"
    return f"{shown(off.value, places)}{span}"
