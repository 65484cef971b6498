"""The section "In the pot": oxygen, button, where the silver ends, matte, foam, hold and heat."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QWidget

from fluxlab.design.button_words import figure_words
from fluxlab.design.gas_text import given_off
from fluxlab.gui.bridge import Bench
from fluxlab.gui.widgets.fields import decimal_mark, show_number
from fluxlab.gui.widgets.rail import RailSpec, nice_top
from fluxlab.gui.widgets.rail_lines import RailLine, RailLines
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

if TYPE_CHECKING:
    from fluxlab.design.plain_types import Amount
    from fluxlab.design.pot_types import PotReport

SEEN = 0.05
"""A place with less of the silver than this is not shown [%]."""
TRACE = 0.005
"""A layer lighter than this is not shown [g]."""


def lines_of(pot: "PotReport") -> tuple[RailLine, ...]:
    """The amounts of the pot, each against its limit where it has one."""
    return (*_oxygen(pot), *_metal(pot), *_layers(pot), *_time(pot))


def _likely(amount: "Amount") -> tuple[float, float] | None:
    return None if amount.low is None or amount.high is None else (amount.low, amount.high)


def _range(amount: "Amount", places: int | None) -> str:
    likely = _likely(amount)
    return "" if likely is None else f"likely {_shown(likely[0], places)} – {_shown(likely[1], places)}"


def _shown(value: float, places: int | None) -> str:
    """A figure with so many places; a mass with as many as it is worth."""
    return figure_words(value, decimal_mark()) if places is None else show_number(value, places)


def _line(
    words: str,
    amount: "Amount",
    unit: str,
    places: int | None = None,
    band: tuple[float | None, float | None] = (None, None),
) -> RailLine:
    top = nice_top(max(amount.value, amount.high or 0.0, *(end or 0.0 for end in band)))
    rail = RailSpec(0.0, top, amount.value, _likely(amount), *band, "wish", "wish")
    return RailLine(words, _range(amount, places), rail, _shown(amount.value, places), unit)


def _oxygen(pot: "PotReport") -> list[RailLine]:
    redox = pot.redox
    if redox.budget is None:
        return []
    band = redox.budget_low, redox.budget_high
    rail = RailSpec(0.0, nice_top(max(redox.budget, 1.2 * band[1])), redox.budget, None, *band, "wish", "wish")
    return [RailLine("Reducers to demand", redox.asked, rail, show_number(redox.budget, 2), "times")]


def _metal(pot: "PotReport") -> list[RailLine]:
    lines = [_line("Button", pot.button.mass, "g")] if pot.button.mass.value > 0.0 else []
    for name, share in (
        ("Silver in the button", pot.button.silver_recovery_percent),
        ("Gold in the button", pot.button.gold_recovery_percent),
    ):
        if share is not None:
            rail = RailSpec(0.0, 100.0, share.value, _likely(share))
            lines.append(RailLine(name, _range(share, 0), rail, show_number(share.value, 0), "%"))
    for row in pot.silver[1:]:
        if row.percent >= SEEN:
            rail = RailSpec(0.0, 100.0, row.percent, None, quiet=True)
            lines.append(RailLine(f"Silver: {row.place}", row.words, rail, show_number(row.percent, 1), "%"))
    return lines


def _layers(pot: "PotReport") -> list[RailLine]:
    sulphur = pot.sulphur
    layers = (("Matte", sulphur.matte), ("Speiss", sulphur.speiss), ("Sulphide in the slag", sulphur.dissolved))
    return [_line(name, mass, "g") for name, mass in layers if (mass.high or mass.value) > TRACE]


def _time(pot: "PotReport") -> list[RailLine]:
    lines = []
    if pot.gas.foam is not None and pot.gas.free is not None:
        foam, free = pot.gas.foam, max(pot.gas.free, 0.0)
        rail = RailSpec(0.0, nice_top(max(foam, 1.2 * free)), foam, None, None, free)
        note = f"{show_number(free, 0)} mm free"
        lines.append(RailLine("Foam on the melt", note, rail, show_number(foam, 0), "mm"))
    if pot.drops is not None:
        wanted, planned = pot.drops.advised, pot.drops.planned
        rail = RailSpec(0.0, nice_top(1.5 * max(wanted, planned)), planned, None, wanted, None, "wish", "wish")
        note = f"at least {show_number(wanted, 0)} for the drops"
        lines.append(RailLine("Hold", note, rail, show_number(planned, 0), "min"))
    if pot.heat is not None:
        lines.append(_line("Time to the pour", pot.heat.minutes, "min", 0))
        if pot.heat.propane is not None:
            lines.append(_line("Propane", pot.heat.propane, "g", 0))
    return lines


def said_of(pot: "PotReport") -> str:
    """The sentences under the amounts."""
    cupel = pot.cupel.sentence if pot.cupel is not None else ""
    heat = pot.heat.sentence if pot.heat is not None else ""
    told = given_off(pot.gas)
    gas = f"Gas, cold: {told}." if told else ""
    said = (pot.redox.sentence, pot.sulphur.sentence, pot.button.sentence, gas, heat, cupel, pot.retreat)
    lines = [words for words in said if words]
    for issue in pot.issues:
        at = next((k for k, words in enumerate(lines) if issue.sentence in words), None)
        if at is None:
            lines.append(f"{issue.sentence} {issue.remedy}".strip())
        elif issue.remedy and issue.remedy not in lines[at]:
            lines[at] = f"{lines[at]} {issue.remedy}"
    return "\n".join(dict.fromkeys(lines))


class InThePot(Section):
    """What the pot makes of the charge, from the report."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("In the pot", parent=parent, fold="pot")
        self._bench = bench
        self.lines, self.words = RailLines("In the pot"), PotWords("", 12, tone="ink2")
        self.body.setSpacing(6)
        self.body.addWidget(self.lines)
        self.body.addWidget(self.words)
        self._shown: PotReport | None = None

    def refresh(self) -> None:
        """Show the bench as it is now."""
        pot = self._bench.report.pot
        if pot == self._shown:
            return
        self._shown = pot
        self.set_note("" if pot is None else pot.state)
        self.lines.show_lines(() if pot is None else lines_of(pot))
        self.words.set_words("Nothing is in the pot yet." if pot is None else said_of(pot))


class PotWords(Words):
    """The sentences of the pot."""

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "verdict:metal"
