"""The report as plain text, for the command line: every figure with its unit."""

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from fluxlab.design.cautions.standing import standing
from fluxlab.design.chance_rows import chance_rows
from fluxlab.design.fluid_text import fluid_rows
from fluxlab.design.layers import layer_words, poured
from fluxlab.design.limit_figure import limit_figure
from fluxlab.design.pot_rows import pot_rows, pot_sources
from fluxlab.design.report_types import (
    Caution,
    FillReport,
    LineReport,
    MouldReport,
    OreReport,
    Report,
    ShareRow,
    SlagReport,
    TargetReport,
    Verdict,
)
from fluxlab.design.roast_text import amount_words, lot_rows, roast_rows
from fluxlab.design.ticket_rows import APART, turn
from fluxlab.issue import Issue, Severity

WIDTH = 76
_LABEL = 26
# Sources are tables of plain letters.
_UNITS = (("degC", "°C"), ("/cm3", "/cm³"), ("Pa s", "Pa·s"), ("[micrometre]", "[µm]"))
_SIGN = {"yes": "+", "close": "~", "no": "x", "unknown": "?"}
_AGENTS = 0.05
"""Reducer, iron and nitre below this [g] are not told beside the flux."""
_HUNG = 0.5
"""Volume in the slag beside its oxides [cm3] below which nothing is said of it."""
_GRAVITY = {"block": "!!", "warn": "! ", "caution": "- "}


def text_of(report: Report) -> str:
    """The whole report in lines of at most 76 characters."""
    return _joined(
        _head(report),
        _verdicts(report.verdicts),
        _solution(report),
        _targets(report.targets),
        _ore(report.ore),
        _slag(report.slag),
        _section("The melt as a liquid", () if report.fluid is None else fluid_rows(report.fluid)),
        _crucible(report.fill),
        _mould(report.mould, report.slag),
        _section("In the pot", () if report.pot is None else pot_rows(report.pot)),
        _section("How sure", () if report.chance is None else chance_rows(report.chance)),
        _cautions(report.cautions),
        _notes(_issues(report)),
        _section("What the figures of the pot rest on", () if report.pot is None else pot_sources(report.pot)),
        _standing(report),
    )


def solution_text(report: Report) -> str:
    """The recipe alone: what to add, why, and what gave way."""
    return _joined(_head(report), _solution(report), _missed(report.targets))


def findings_text(report: Report) -> str:
    """What stands against the recipe: targets that are missed, cautions and problems."""
    problems = [issue for issue in _issues(report) if issue.severity is not Severity.NOTE]
    found = _joined(_conflict(report), _missed(report.targets), _cautions(report.cautions), _notes(problems))
    return found if found.strip() else "Nothing stands against this recipe.\n"


def _joined(*sections: Iterator[str]) -> str:
    texts = ["\n".join(lines) for section in sections if (lines := list(section))]
    return "\n\n".join(texts) + "\n"


def _head(report: Report) -> Iterator[str]:
    recipe = report.work.recipe
    group = f", {recipe.ore.group}" if recipe.ore.group else ""
    yield from wrap(recipe.name, WIDTH)
    yield from wrap(f"{recipe.ore.name}{group}; {recipe.route}; {recipe.charge:.10g} g of {report.ore.feed}", WIDTH)


def _verdicts(verdicts: Sequence[Verdict]) -> Iterator[str]:
    for verdict in verdicts:
        figure = f" ({verdict.figure})" if verdict.figure else ""
        yield from _row(f"{_SIGN[verdict.answer]} {verdict.question}", f"{verdict.word}{figure}: {verdict.reason}")


def _solution(report: Report) -> Iterator[str]:
    yield _title("Flux")
    for line in report.lines:
        yield from _line(line, report.work.shelf.currency)
    ratio = "" if report.flux_to_ore is None else f", {report.flux_to_ore:.2f} parts to one of {report.ore.feed}"
    agents = sum(line.grams for line in report.lines) - report.flux_mass
    beside = f"; {agents:.1f} g of reducer, iron or nitre besides" if agents > _AGENTS else ""
    yield from _row("Flux in all", f"{report.flux_mass:.1f} g{ratio}{beside}")
    if report.flux_cost is not None:
        yield from _row("Cost", f"{report.flux_cost:.2f} {report.work.shelf.currency}".rstrip())
    yield from _row("Charge in all", f"{report.charge_total:.1f} g")
    if report.flux_mass_without_wish is not None:
        held = f", then held by: {report.without_wish}" if report.without_wish else ""
        yield from _row("Without the wished ratio", f"{report.flux_mass_without_wish:.1f} g{held}")
    yield from _conflict(report)


def _conflict(report: Report) -> Iterator[str]:
    for sentence in dict.fromkeys((*report.solve.gave_way, *report.solve.sentences)):
        yield from wrap(sentence, WIDTH, initial_indent="! ", subsequent_indent="  ")


def _line(line: LineReport, currency: str) -> Iterator[str]:
    name = line.name if line.form in ("", *line.name.split(", ")) else f"{line.name}, {line.form}"
    lock = " fixed" if line.fixed else ""
    short = f"; only {line.stock:.10g} g on hand" if line.stock is not None and line.stock < line.grams else ""
    cost = f"; {line.cost:.2f} {currency}".rstrip() if line.cost is not None else ""
    yield from _row(name, f"{line.grams:.1f} g{lock}, {line.share:.0f} %{cost}{short}. {line.why}")


def _targets(targets: Sequence[TargetReport]) -> Iterator[str]:
    asked = [target for target in targets if target.on]
    if asked:
        yield _title("Targets")
    for target in asked:
        yield from _row(_named(target), f"{_reached(target)}  {_band(target)}  {target.state}")


def _missed(targets: Sequence[TargetReport]) -> Iterator[str]:
    for target in targets:
        if target.on and target.state in ("below", "above", "undefined"):
            kind = target.lo_kind if target.state == "below" else target.hi_kind
            yield from wrap(f"{target.sentence} ({kind})", WIDTH, initial_indent="! ", subsequent_indent="  ")


def _named(target: TargetReport) -> str:
    return f"{target.label} ({target.convention})" if target.convention else target.label


def _reached(target: TargetReport) -> str:
    if target.value is None:
        return "not defined"
    if target.too_small:
        return f"under {target.floor:g} {target.unit}"
    return f"{target.value:.{target.decimals}f} {target.unit}".rstrip()


def _band(target: TargetReport) -> str:
    low = "" if target.lo is None else f"at least {limit_figure(target.lo, target.decimals)} ({target.lo_kind})"
    high = "" if target.hi is None else f"at most {limit_figure(target.hi, target.decimals)} ({target.hi_kind})"
    return ", ".join(part for part in (low, high) if part) or "no limit"


def _ore(ore: OreReport) -> Iterator[str]:
    if ore.minerals:
        yield _title("Ore, as described, and the mass of it behind this charge")
    for mineral in ore.minerals:
        yield from _row(
            mineral.name, f"{amount_words(mineral.percent, 1)} %, {mineral.grams:.1f} g  {mineral.flag}".rstrip()
        )
    yield _title(f"{ore.feed.capitalize()} in the pot")
    yield from _row("Oxides to the slag", _list(ore.oxides))
    if ore.apart:
        yield from _row("Not in the slag model", _list(ore.apart))
    held = (("silver", ore.silver), ("gold", ore.gold), ("lead", ore.lead), ("copper", ore.copper))
    bad = (("sulphur", ore.sulphur), ("arsenic", ore.arsenic), ("antimony", ore.antimony))
    for label, group in (("Metals", held), ("Sulphur and the like", bad)):
        words = ", ".join(f"{name} {grams:.3g} g" for name, grams in group if grams > 0.0)
        yield from _row(label, words or "none")
    if ore.residual_percent is not None:
        yield from _row("Left unexplained", f"{ore.residual_percent:.2f} % of the assay")
    for label, words in (*(lot_rows(ore.lot) if ore.lot else ()), *(roast_rows(ore.roast) if ore.roast else ())):
        yield from _row(label, words)


def _slag(slag: SlagReport) -> Iterator[str]:
    yield _title("Slag")
    yield from _row("Mass", f"{slag.mass:.1f} g oxides")
    yield from _row("Volume", f"{amount_words(slag.volume, 0)} cm³ at {amount_words(slag.density, 2)} g/cm³")
    yield from _row("Oxides", _list(slag.oxides))
    if slag.apart:
        yield from _row("In the charge, not in it", _list(slag.apart))
    indices = slag.indices
    degrees = ", ".join(f"{name} {_figure(value)}" for name, value in indices.degree.items())
    yield from _row("Silicate degree", degrees)
    yield from _row("Basicity", f"{_figure(indices.basicity_mass)} by mass, {_figure(indices.basicity_mole)} by moles")
    yield from _row("Optical basicity", _figure(indices.optical_basicity))
    yield from _row(
        "NBO/T", f"{_figure(indices.nbo_per_t)}; {_figure(indices.nbo_per_t_with_boron)} with boron as a former"
    )


def _crucible(fill: FillReport | None) -> Iterator[str]:
    if fill is None:
        return
    yield _title("Crucible")
    yield from _row("Brimful", f"{fill.brim:.0f} cm³")
    loose = f"{100 * fill.loose_fraction:.0f} % of the brim, {_below(fill.loose_from_rim)}"
    yield from _row("Loose charge", loose)
    swollen = f"{100 * fill.swollen_fraction:.0f} % of the brim, {_below(fill.swollen_from_rim)}"
    yield from _row("Swollen heap", f"{swollen}, before it melts")
    yield from _row("Quiet melt", f"{100 * fill.melt_fraction:.0f} % of the brim, {fill.melt_level:.0f} mm deep")
    yield from _row("Slag over the metal", f"{fill.cover:.0f} mm")
    if len(fill.stages) > 1:
        feeds = ", then ".join(f"{stage.mass:.1f} g" for stage in fill.stages)
        yield from _row("Feed in parts", feeds)
    if fill.melts_needed > 1:
        yield from _row("Melts needed", str(fill.melts_needed))


def _below(gap: float) -> str:
    return f"{abs(gap):.0f} mm {'below' if gap > -0.5 else 'over'} the rim"


def _mould(mould: MouldReport | None, slag: SlagReport) -> Iterator[str]:
    if mould is None:
        return
    yield _title("Mould")
    yield from _row(
        "Filled", f"{100 * mould.fraction:.0f} % of {mould.capacity:.0f} cm³, {mould.freeboard:.0f} mm free"
    )
    for each in poured(mould, slag.mass):
        name, mass, _ = layer_words(each.layer)
        weight = f"{mass}, " if mass else ""
        yield from _row(name.capitalize(), f"{weight}{each.layer.volume:.2f} cm³, to {each.top:.1f} mm from the tip")
    hung = mould.slag_volume - slag.volume.value
    if hung > _HUNG:
        yield from _row("Of the slag", f"{hung:.1f} cm³ are no oxides: drops and sulphide that hang in it")
    whole = mould.metal_volume + mould.speiss_volume + mould.matte_volume + mould.slag_volume
    if mould.aimed_volume is not None and abs(whole - mould.aimed_volume) > 0.05:
        told = f"{whole:.1f} cm³; the targets reckon with {mould.aimed_volume:.1f} cm³"
        yield from _row("In all", told)


def _cautions(cautions: Sequence[Caution]) -> Iterator[str]:
    if cautions:
        yield _title("Cautions")
    for caution in cautions:
        may = {"operator": "you may confirm it", "never": "nobody may lift it", "cause": "mend the cause"}[caution.lift]
        why = f" ({caution.because}; {may})" if caution.level == "block" else f" ({caution.because})"
        yield from _row(f"{_GRAVITY[caution.level]} {caution.rule} {caution.title}", caution.sentence + why)


def _notes(issues: Sequence[Issue]) -> Iterator[str]:
    if issues:
        yield _title("Notes")
    for issue in issues:
        yield from _row(issue.severity.value.capitalize(), f"{issue.sentence} {issue.remedy}".strip())


def _standing(report: Report) -> Iterator[str]:
    yield _title("Whatever the recipe")
    nitrate = any(turn(line.flux, report.work.shelf) == APART and line.grams > 0.0 for line in report.lines)
    for sentence in standing(nitrate=nitrate):
        yield from wrap(sentence, WIDTH)


def _section(title: str, rows: Iterable[tuple[str, str]]) -> Iterator[str]:
    for at, (label, words) in enumerate(rows):
        if at == 0:
            yield _title(title)
        yield from _row(label, words)


def _issues(report: Report) -> tuple[Issue, ...]:
    """All problems, those of melt and pot with them, each once."""
    parts = [part.issues for part in (report, report.fluid, report.pot) if part is not None]
    return tuple(dict.fromkeys(issue for issues in parts for issue in issues))


def _title(words: str) -> str:
    return f"{words} {'-' * (WIDTH - len(words) - 1)}"


def _row(label: str, words: str) -> Iterator[str]:
    indent = " " * _LABEL
    for plain, typeset in _UNITS:
        words = words.replace(plain, typeset)
    if len(label) >= _LABEL:
        yield from wrap(label, WIDTH)
        yield from wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent)
        return
    yield from wrap(words, WIDTH, initial_indent=label.ljust(_LABEL), subsequent_indent=indent) or [label]


def _list(rows: Sequence[ShareRow]) -> str:
    return ", ".join(f"{row.name} {row.percent.value:.1f} %" for row in rows) or "none"


def _figure(value: float | None) -> str:
    return "not defined" if value is None else f"{value:.2f}"
