"""The lines of a melt's sheet: what it came to first, then what was weighed and read, beside what was expected."""

from collections.abc import Iterator

from fluxlab.design.report_types import Answer
from fluxlab.gui.melts import words
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.melts.sheet import SheetLine
from fluxlab.gui.widgets.fields import show_exact, show_number
from fluxlab.learn.yields import too_much
from fluxlab.materials.estimate import Estimate

SAME = 1e-9
"""A weight that differs by less than this [g] was read as it was asked for: the noise of binary fractions."""


def sheet_lines(line: MeltLine) -> Iterator[SheetLine]:
    """The lines of a melt: what it came to first, then what was weighed and read."""
    melt, before, step = line.melt, line.melt.beforehand, line.melt.balance_step
    yield _recovery(line, "Silver back", before.silver_recovery)
    if line.gold.value is not None:
        gold = line.gold.value
        over: Answer | None = "no" if too_much(line.gold) else "close" if gold.value > words.ALL_HELD else None
        yield SheetLine("Gold back", words.percent(gold.value), "%", words.likely_back(gold), over)
    if line.yields is not None:
        yield SheetLine("Yield", words.percent(line.yields.value), "%", words.likely(line.yields))
    for name, got, said, shows in (
        ("Button", melt.button, before.button, melt.button_shows),
        ("Matte", melt.matte, before.matte, step),
        ("Speiss", melt.speiss, before.speiss, step),
        ("Slag", melt.slag, before.slag, step),
    ):
        if got is not None:
            yield _weight(name, got, said, shows, before.limit if name == "Button" else None)
    yield from _plain(line)


def _weight(name: str, got: float, said: Estimate | None, step: float, limit: float | None) -> SheetLine:
    figure = words.reading(got, step)
    if said is None:
        held = "" if limit is None else f"≤ {words.grams(limit, 0.01)} g by the assay"
        return SheetLine(name, figure, "g", held)
    answer: Answer = "yes" if said.low <= got <= said.high else "close"
    return SheetLine(name, figure, "g", words.said(said, 0 if said.high >= 100.0 else 1), answer)


def _recovery(line: MeltLine, name: str, said: Estimate | None) -> SheetLine:
    found = line.recovery.value
    if found is None:
        most = line.recovery.at_most
        pure = f"≤ {words.percent(most)} %, were it pure" if most is not None and most <= 100.0 else ""
        return SheetLine(name, "not known", "", pure, "unknown")
    answer: Answer = "no" if line.apart else line.answer
    return SheetLine(name, words.percent(found.value), "%", words.likely_back(found), answer)


def _plain(line: MeltLine) -> Iterator[SheetLine]:
    from fluxlab.design.ticket_rows import decimals_of

    melt, before, step = line.melt, line.melt.beforehand, decimals_of(line.melt.balance_step)
    hold = "" if before.hold is None else f"planned {show_number(before.hold, 0)}"
    pour = "" if before.pour_temperature is None else f"planned {show_number(before.pour_temperature, 0)}"
    charge_note = f"holds {line.recovery.held:.3g} g silver" if line.recovery.held is not None else ""
    fine = melt.fineness
    rows = (
        ("Balance of the button", melt.button_step, "g", "", 0),
        ("Slag and skin on the button", melt.skin, "g", "", 0),
        ("Ore charged", melt.charge or None, "g", charge_note, step),
        (
            "Silver in the button",
            None if fine is None else fine.silver,
            "%",
            "" if fine is None else f"by {_word(fine.by)}{_own_error(fine.error)}",
            1,
        ),
        ("Gold in the button", None if fine is None else fine.gold, "%", "", 2),
        ("In the fire", melt.in_fire, "min", "", 0),
        ("Held", melt.hold, "min", hold, 0),
        ("Poured at", melt.pour_temperature, "°C", pour, 0),
        ("Roast, before", melt.roast_before, "g", "", step),
        ("Roast, after", melt.roast_after, "g", _change(melt.roast_before, melt.roast_after), step),
        ("Roasted for", melt.roasted, "min", "", 0),
        ("Roast finished at", melt.roast_temperature, "°C", "", 0),
        ("Prills from the slag", melt.prills, "g", "", 0),
        ("Pot changed by", melt.pot_change, "g", "", step),
        ("Mould before the pour", melt.mould_temperature, "°C", "", 0),
        ("Foam under the rim", melt.froth, "mm", "", 0),
        ("Density of the button", melt.button_density, "g/cm³", "", 2),
        ("Sulphur of the calcine", melt.calcine_sulphur, "%", "", 2),
        ("Fluidity, 1 to 5", None if melt.fluidity is None else float(melt.fluidity), "of 5", "", 0),
    )
    for weighing in melt.weighed[1:]:
        if weighing.read is not None and abs(weighing.read - weighing.asked) > SAME:
            read, asked = (words.reading(grams, melt.balance_step) for grams in (weighing.read, weighing.asked))
            yield SheetLine(weighing.name, read, "g", f"asked {asked}")
    for name, value, unit, note, places in rows:
        if value is not None:
            yield SheetLine(name, show_exact(float(value), places).replace("-", "−"), unit, note.replace(".", _mark()))


def _mark() -> str:
    from fluxlab.gui.widgets.fields import decimal_mark

    return decimal_mark()


def _word(by: str) -> str:
    return {"assayer": "an assayer", "x-ray gun": "an x-ray gun", "own guess": "own guess"}[by]


def _own_error(error: float | None) -> str:
    return "" if error is None else f", error {error:g} %"


def _change(before: float | None, after: float | None) -> str:
    if not before or after is None:
        return ""
    change = 100.0 * (after - before) / before
    return f"{'lost' if change <= 0 else 'gained'} {show_number(abs(change), 1)} %"
