"""Yield and recovery of an ore type: two different things, with what makes each uncertain."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from fluxlab.gui.melts import words
from fluxlab.gui.melts.explanations import MEANS
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.tables.facts import Figures
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.measured import Measured
from fluxlab.learn.melt import Melt
from fluxlab.learn.yields import METALS, Row, row_of
from fluxlab.materials.estimate import NINE_IN_TEN

NAMES = {"silver": "Silver back", "gold": "Gold back"}
DIFFERENCE = (
    "Yield is button over ore charged: it counts all that is metal, lead and copper too. What part of the silver "
    "came back, got over held, only the button's fineness and the ore's assay tell."
)


class Summary(Section):
    """The means over the melts on record."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Yield and recovery", "mean of the melts", (), parent)
        self.explanation = MEANS
        self.figures = Figures("Means")
        self.said = Words(DIFFERENCE, 12, tone="ink2")
        self.errors = Words("", 12, tone="ink2")
        self.apart = Words("", 12, tone="no")
        self.by_ore = Words("", 12)
        scroller = Scroller("Yield and recovery", 60)
        for part in (self.figures, self.errors, self.apart, self.by_ore, self.said):
            scroller.body.addWidget(part)
            scroller.body.addSpacing(4)
        scroller.body.addStretch(1)
        self.body.addWidget(scroller, 1)

    def show_ores(self, lines: Sequence[MeltLine], ore_name: Callable[[str], str]) -> None:
        """Name the means of every ore type, where there is more than one among these melts."""
        ores = list(dict.fromkeys(line.melt.ore for line in lines))
        told = [ore_words(ore_name(ore), [line.melt for line in lines if line.melt.ore == ore]) for ore in ores]
        self.by_ore.set_words("\n".join(told) if len(told) > 1 else "")
        self.by_ore.setVisible(bool(self.by_ore.words))

    def show_lines(self, lines: Sequence[MeltLine]) -> None:
        """Show the means of the melts of one ore type."""
        melts = [line.melt for line in lines]
        rows = {metal: row_of(melts, metal) for metal in METALS}
        silver = rows["silver"]
        figures = [("Yield", *_figure(silver.yields))]
        figures += [(NAMES["silver"], *_figure(silver.recovery))]
        figures += [(NAMES["gold"], *_figure(rows["gold"].recovery))] if rows["gold"].recovery is not None else []
        self.figures.set_lines(figures)
        self.set_note(_count(len(melts), silver))
        waiting = [str(line.kept.number) for line in lines if line.melt.uid in silver.without]
        self.errors.set_words(" ".join(part for part in (error_words(silver), without_words(waiting)) if part))
        self.errors.setVisible(bool(self.errors.words))
        odd = [f"melt {line.kept.number} ({line.left_out})" for line in lines if line.left_out]
        of_gold = [line for line in lines if line.melt.uid in rows["gold"].apart and not line.left_out]
        odd += [f"melt {line.kept.number} (of gold: stands apart)" for line in of_gold]
        self.apart.set_words(f"Left out of the mean: {'; '.join(odd)}." if odd else "")
        self.apart.setVisible(bool(odd))


def ore_words(name: str, melts: Sequence[Melt]) -> str:
    """The means of one ore type on a line: of how many melts, yield and silver back, each with its likely range."""
    row = row_of(melts)
    part = f"{row.weighed or 'none'} of " if row.weighed < len(melts) else ""
    count = f"{part}{len(melts)} melt{'' if len(melts) == 1 else 's'}"
    yields = "yield not known"
    if row.yields is not None:
        yields = f"yield {words.percent(row.yields.value)} %, {words.likely(row.yields)}"
    if row.recovery is None:
        return f"{name}: {count}, {yields}, silver back not known"
    back = f"silver back {words.percent(row.recovery.value)} %, {words.likely_back(row.recovery)}"
    return f"{name}: {count}, {yields}, {back}"


def error_words(row: Row) -> str:
    """The likely ranges of both means, and how much of the silver's more melts would not lessen."""
    if row.yields is None:
        return ""
    melts = f"for {f'the mean of {row.weighed} melts' if row.weighed > 1 else 'one melt'}."
    yields = f"Yield {words.likely(row.yields)} %"
    if row.recovery is None:
        return f"{yields} {melts}"
    if row.recovery.value > words.ALL_HELD:
        return f"{yields} {melts} Silver back: on the mean {words.OVER}."
    shared = show_number(100.0 * NINE_IN_TEN * row.recovery.shared, 1)
    return (
        f"{yields}, silver back {words.likely_back(row.recovery)} % {melts} Of silver back, the ore's assay alone is "
        f"good to ± {shared} % of the figure: more melts do not lessen that, another assay does."
    )


def without_words(numbers: Sequence[str]) -> str:
    """Which melts are in neither mean because their silver back is not known."""
    if not numbers:
        return ""
    melts = f"melt {numbers[0]}" if len(numbers) == 1 else f"melts {', '.join(numbers[:-1])} and {numbers[-1]}"
    return f"In neither mean, for want of silver back: {melts}."


def _figure(mean: Measured | None) -> tuple[str, str]:
    return ("not known", "") if mean is None else (words.percent(mean.value), "%")


def _count(melts: int, row: Row) -> str:
    if melts == 0:
        return "no melts"
    if row.counted or row.impossible:
        return f"{row.counted or 'none'} of {melts} melts"
    return f"{melts} without a fineness"
