"""One melt on its sheet: what was got beside what was expected."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import Answer
from fluxlab.gui import theme
from fluxlab.gui.melts import words
from fluxlab.gui.melts.explanations import SHEET
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.glyph import glyph_at
from fluxlab.materials.estimate import Estimate

LINE, GLYPH = 30, 13
WEIGHED_AS_ASKED = 0.5
"""A weight that differs by less than this of the balance's step is the one asked for."""


class SheetLine(NamedTuple):
    """A name, the figure with its unit, quiet words about what was expected, and how it compares."""

    name: str
    figure: str
    unit: str
    said: str = ""
    answer: Answer | None = None


class Sheet(QWidget):
    """Lines of figures that nobody can change here."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.explanation = SHEET
        self.lines: tuple[SheetLine, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def set_lines(self, lines: Sequence[SheetLine]) -> None:
        """Show these lines."""
        self.lines = tuple(lines)
        told = ("; ".join(f"{line.name} {line.figure} {line.unit}, {line.said}".rstrip(", ") for line in lines),)
        self.setAccessibleName(told[0])
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """A line each."""
        return QSize(260, len(self.lines) * theme.scaled(LINE))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the lines."""
        painter = QPainter(self)
        t = theme.tokens()
        high = theme.scaled(LINE)
        figures = self.width() * 0.52
        for i, line in enumerate(self.lines):
            box = QRectF(0, i * high, self.width(), high)
            type_.left(painter, 0, type_.middle(box, 13), line.name, 13, t.ink)
            size = 16 if line.unit else 13
            base = type_.middle(box, 16, True)
            type_.right(painter, figures, base, line.figure, size, t.ink if line.unit else t.ink2, bool(line.unit))
            type_.left(painter, figures + 4, base, line.unit, 12, t.ink2)
            end = box.right()
            if line.answer is not None:
                side = theme.scaled(GLYPH)
                glyph_at(painter, box.right() - side, box.center().y(), side, line.answer, t)
                end -= side + 8
            type_.right(painter, end, type_.middle(box, 12), line.said, 12, t.ink2)
            painter.fillRect(QRectF(0, box.bottom() - 1, box.width(), 1), t.rule)


def sheet_lines(line: MeltLine) -> Iterator[SheetLine]:
    """The lines of a melt: what it came to first, then what was weighed and read."""
    melt, before, step = line.melt, line.melt.beforehand, line.melt.balance_step
    yield _recovery(line, "Silver back", before.silver_recovery)
    if line.gold.value is not None:
        gold = line.gold.value
        over: Answer | None = "close" if gold.value > words.ALL_HELD else None
        yield SheetLine("Gold back", words.percent(gold.value), "%", words.likely_back(gold), over)
    if line.yields is not None:
        yield SheetLine("Yield", words.percent(line.yields.value), "%", words.likely(line.yields))
    for name, got, said in (
        ("Button", melt.button, before.button),
        ("Matte", melt.matte, before.matte),
        ("Speiss", melt.speiss, before.speiss),
        ("Slag", melt.slag, before.slag),
    ):
        if got is not None:
            yield _weight(name, got, said, step, before.limit if name == "Button" else None)
    yield from _plain(line)


def _weight(name: str, got: float, said: Estimate | None, step: float, limit: float | None) -> SheetLine:
    figure = words.grams(got, step)
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
    melt, before = line.melt, line.melt.beforehand
    hold = "" if before.hold is None else f"planned {show_number(before.hold, 0)}"
    pour = "" if before.pour_temperature is None else f"planned {show_number(before.pour_temperature, 0)}"
    charge_note = f"holds {line.recovery.held:.3g} g silver" if line.recovery.held is not None else ""
    fine = melt.fineness
    rows = (
        ("Charge", melt.charge or None, "g", charge_note, 1),
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
        ("Roast, before", melt.roast_before, "g", "", 1),
        ("Roast, after", melt.roast_after, "g", _change(melt.roast_before, melt.roast_after), 1),
        ("Roasted for", melt.roasted, "min", "", 0),
        ("Roast finished at", melt.roast_temperature, "°C", "", 0),
        ("Prills from the slag", melt.prills, "g", "", 2),
        ("Pot changed by", melt.pot_change, "g", "", 1),
        ("Mould before the pour", melt.mould_temperature, "°C", "", 0),
        ("Foam under the rim", melt.froth, "mm", "", 0),
        ("Density of the button", melt.button_density, "g/cm³", "", 2),
        ("Sulphur of the calcine", melt.calcine_sulphur, "%", "", 2),
        ("Fluidity, 1 to 5", None if melt.fluidity is None else float(melt.fluidity), "of 5", "", 0),
    )
    for weighing in melt.weighed[1:]:
        if weighing.read is not None and abs(weighing.read - weighing.asked) > WEIGHED_AS_ASKED * melt.balance_step:
            yield SheetLine(
                weighing.name, words.grams(weighing.read, melt.balance_step), "g",
                f"asked {words.grams(weighing.asked, melt.balance_step)}",
            )  # fmt: skip
    for name, value, unit, note, places in rows:
        if value is not None:
            yield SheetLine(name, show_number(float(value), places).replace("-", "−"), unit, note.replace(".", _mark()))


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
