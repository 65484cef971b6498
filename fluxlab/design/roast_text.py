"""The lot and the roast as rows of the plain-text report: a label and its words."""

from collections.abc import Iterator

from fluxlab.design.ore_own import own_rows
from fluxlab.design.report_types import Amount, LotReport, MetalReport, RoastReport

_NAMES = {"perfect": "Perfect roast", "planned": "Roast as planned", "weighed": "Roast as weighed"}
_WORTH_TELLING = 0.01
"""Part of the raw material between the reckoned roast and the weights that is worth a word; judgement."""


def amount_words(amount: Amount, decimals: int) -> str:
    """A figure with its range where it has one: "4.3 (1.2 to 6.0)"."""
    if amount.low is None or amount.high is None or amount.low == amount.high:
        return _plain(amount.value, decimals)
    return f"{_plain(amount.value, decimals)} ({_plain(amount.low, decimals)} to {_plain(amount.high, decimals)})"


def _plain(value: float, decimals: int) -> str:
    """A figure without the sign of a nothing that is only rounding."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def grade_places(grade: float) -> int:
    """Decimals that a grade is written with, three digits that count or more."""
    return 1 if grade >= 10.0 else 2 if grade >= 1.0 else 3


def roast_rows(roast: RoastReport) -> Iterator[tuple[str, str]]:
    """Masses, gases, what is left, how the weight is explained, programme and warnings of a roast."""
    gases = ", ".join(f"{gas} {grams:.1f} g ({litres:.1f} L)" for gas, grams, litres in roast.gases)
    # Weights that say nothing, or nothing possible, leave the plan to reckon with.
    kind = "planned" if roast.kind == "weighed" and not roast.weight_explained else roast.kind
    yield _NAMES[kind], f"{roast.raw_mass:.1f} g raw gives {roast.calcine_mass:.1f} g"
    label = "  change of mass" if roast.weighed_change_percent is None else "  change by the plan"
    yield label, f"{amount_words(roast.mass_change_percent, 1)} %"
    if roast.weighed_change_percent is not None:
        yield "  change as weighed", _as_weighed(roast)
    yield "  gas", gases or "none"
    if not roast.perfect:
        forms = (
            f"{amount_words(roast.sulphide_sulphur_percent, 2)} as sulphide,"
            f" {amount_words(roast.sulphate_sulphur_percent, 2)} as sulphate"
        )
        yield "  sulphur left", f"{amount_words(roast.sulphur_percent, 2)} % of the calcine: {forms}"
        yield "  arsenic left", f"{amount_words(roast.arsenic_percent, 2)} % of the calcine"
    yield "  silver lost", f"{amount_words(roast.silver_loss_percent, 1)} % of it, not taken off below"
    yield "  air for an open tray", f"{amount_words(roast.air_litres, 0)} L"
    for step in roast.programme:
        span = f"{step.low:.0f} °C" if step.low == step.high else f"{step.low:.0f} to {step.high:.0f} °C"
        yield f"  {step.title.lower()}", f"{span}, {step.minutes:.0f} min. {step.action} ({step.source})"
    for warning in roast.warnings:
        yield "  ! mind", f"{warning.sentence} {warning.remedy}".strip()
    yield from own_rows(roast.figures)
    yield "  ranges rest on", "; ".join(roast.sources)


def weight_doubt(roast: RoastReport | None) -> str:
    """How the dry weight changed, where no roast of the ore can change it so; else empty."""
    if roast is None or roast.weighed_change_percent is None or roast.weight_explained:
        return ""
    change = roast.weighed_change_percent
    return f"it {'grew' if change > 0.0 else 'shrank'} by {abs(change):.1f} %"


def _as_weighed(roast: RoastReport) -> str:
    """The weighed change, which roasts explain it, and what of it dust or other shares must account for."""
    change = f"{_plain(roast.weighed_change_percent or 0.0, 1)} %"
    if not roast.weight_explained:
        return f"{change}: no roast of this ore explains it, the plan is reckoned with"
    off = roast.raw_mass + roast.oxygen_needed - sum(grams for _, grams, _ in roast.gases) - roast.calcine_mass
    rest = "lost as dust or by other shares" if off > 0.0 else "more than reckoned, by other shares"
    told = f"; {abs(off):.1f} g {rest} of the minerals" if abs(off) >= _WORTH_TELLING * roast.raw_mass else ""
    return f"{change}, explained by: {'; '.join(roast.explained_by)}{told}"


def lot_rows(lot: LotReport) -> Iterator[tuple[str, str]]:
    """Masses and ratios of a lot, and each metal on its way."""
    masses = (("lot", lot.lot_mass), ("concentrate", lot.concentrate_mass), ("calcine", lot.calcine_mass))
    yield (
        "Lot",
        ", ".join(f"{name} {mass:.1f} g" if mass is not None else f"{name} not known" for name, mass in masses),
    )
    ratios = [
        f"{ratio:.2f} to 1 {how}"
        for ratio, how in ((lot.ratio, "by weight"), (lot.ratio_by_grades, "by grades"))
        if ratio is not None
    ]
    if ratios:
        yield "  concentration", ", ".join(ratios)
    for metal in lot.metals:
        yield f"  {metal.metal}", _metal(metal)
    yield from own_rows(lot.figures)
    if lot.sources:
        yield "  ranges rest on", "; ".join(lot.sources)


def _metal(m: MetalReport) -> str:
    grades = ", ".join(
        f"{name} {grade:.4g}"
        for name, grade in (("lot", m.head), ("concentrate", m.concentrate), ("tailing", m.tail))
        if grade is not None
    )
    words = [f"{grades} {m.unit}"]
    if m.calcine is not None:
        words.append(f"calcine {amount_words(m.calcine, grade_places(m.calcine.value))} {m.unit}")
    if m.enrichment is not None:
        words.append(f"concentrate {amount_words(m.enrichment, 1)} times as rich as the lot")
    for what, share in (("on the table", m.recovery_percent), ("to the calcine", m.overall_percent)):
        if share is not None:
            words.append(f"recovery {what} {amount_words(share, 1)} %")
    if m.sampling_percent is not None:
        words.append(f"sampling of the lot ± {amount_words(m.sampling_percent, 1)} %, one standard deviation")
    if m.in_calcine is not None:
        words.append(f"{amount_words(m.in_calcine, 3)} g in the calcine")
    return "; ".join(words)
