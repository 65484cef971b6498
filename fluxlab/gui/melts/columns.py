"""The columns of the melt record."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from fluxlab.gui.melts import words
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.tables.model import Column
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.glyph import WORDS
from fluxlab.gui.widgets.rail import RailSpec, nice_top

if TYPE_CHECKING:
    from collections.abc import Sequence

GOT, RECOVERY = "Got, g", "Silver back"


def scale_of(lines: "Sequence[MeltLine]") -> float:
    """The end of the rails that holds every button, got or expected [g]."""
    figures = [0.0]
    for line in lines:
        said = line.melt.beforehand.button
        limit = line.melt.beforehand.limit
        figures += [line.melt.button or 0.0, said.high if said is not None else limit or 0.0]
    return nice_top(max(figures))


def button_rail(line: MeltLine, top: float) -> RailSpec:
    """The button: expected as blade and bar, got as ring; where nothing was predicted, the assay's limit as a block.

    A ring outside the likely range is carmine.
    """
    said = line.melt.beforehand.button
    return RailSpec(
        lo=0.0,
        hi=top,
        value=None if said is None else said.value,
        likely=None if said is None else (said.low, said.high),
        stop=line.melt.beforehand.limit if said is None else None,
        seen=line.melt.button,
        seen_outside=line.outside,
    )


def columns(
    top: float, looks: Mapping[str, str], groups: Mapping[str, str], ore_name: Callable[[str], str]
) -> tuple[Column[MeltLine], ...]:
    """The columns; `top` ends the rails [g], `ore_name` names other ore types, "" for the one on the bench."""

    def slag(line: MeltLine) -> str:
        return words.slag_look(line.melt, looks, groups)

    return (
        Column("", lambda line: WORDS[line.answer], "rail", 24, help="Whether it came out as expected."),
        Column(
            "Melt",
            lambda line: str(line.kept.number),
            "name",
            61,
            note=lambda line: words.day(line.melt.poured),
            help="Melts are counted for each ore type in the order recorded. A correction keeps the number.",
        ),
        Column("Recipe", lambda line: recipe_words(line, ore_name), "words", 88, 3, 3),
        Column(
            "Button, g",
            lambda line: "",
            "rail",
            70,
            2,
            note=rail_words,
            rail=lambda line: button_rail(line, top),
            help="Blade and bar: what was expected, with its likely range (9 in 10). Ring: what was got, "
            "in red outside that range. Grey block, "
            "where nothing was predicted: all silver and gold of the charge by its assay.",
        ),
        Column(
            GOT,
            _button,
            "figure",
            78,
            note=yield_words,
            exact=lambda line: _plain(line.melt.button),
            tone=lambda line: "no" if line.outside else _tone(line),
            help="The button, and below it the yield: button over ore charged.",
        ),
        Column("Slag", slag, "words", 106, 3, 1, note=slag),
        Column("Min", lambda line: _whole(line.melt.in_fire), "quiet", 34, 0, 2, help="From fire to pour."),
        Column(
            RECOVERY,
            _recovery,
            "figure",
            88,
            note=lambda line: line.recovery.why or range_words(line),
            exact=lambda line: "" if line.recovery.value is None else _plain(line.recovery.value.value),
            tone=lambda line: "quiet" if line.recovery.value is None else _tone(line),
            help="Silver got over the silver that the charge held by its assay. It needs the button's fineness; the "
            "button's weight alone does not tell it. Below it its likely range (9 in 10).",
            formula="button × fineness / (ore charged × grade)",
            source="definition",
        ),
    )


def recipe_words(line: MeltLine, ore_name: Callable[[str], str]) -> str:
    """Which recipe it was, and of which ore where that is another one."""
    melt = line.melt
    name = ", ".join(part for part in (ore_name(melt.ore), melt.recipe_name or "Recipe without a name") if part)
    return f"{name}, rev {melt.revision}" if melt.revision is not None else name


def rail_words(line: MeltLine) -> str:
    """What the rail of the button shows, for those who do not see it."""
    return words.said(line.melt.beforehand.button) + (", the button is outside that" if line.outside else "")


def _button(line: MeltLine) -> str:
    return "" if line.melt.button is None else words.reading(line.melt.button, line.melt.button_shows)


def yield_words(line: MeltLine) -> str:
    """The yield in a cell."""
    if line.yields is None:
        return ""
    return f"yield {show_number(line.yields.value, 1 if line.yields.value < 10.0 else 0)} %"


def range_words(line: MeltLine) -> str:
    """The likely range of the silver back in a cell."""
    if line.recovery.value is None:
        return ""
    return "over all held" if line.over else words.between(*words.back_ends(line.recovery.value), 0)


def _recovery(line: MeltLine) -> str:
    return "–" if line.recovery.value is None else f"{words.percent(line.recovery.value.value)} %"


def _tone(line: MeltLine) -> str:
    return line.answer if line.answer in ("no", "close") else ""


def _whole(value: float | None) -> str:
    return "" if value is None else show_number(value, 0)


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:.6g}"
