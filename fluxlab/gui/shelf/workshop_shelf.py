"""The card of the workshop: place, fire, people, habits and the pot in use, stated by the operator."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import Explanation
from fluxlab.gui.reading import reader
from fluxlab.gui.shelf.workshop_card import WorkshopCard
from fluxlab.gui.shelf.workshop_words import FIRE, HABITS, NOT_STATED, PEOPLE, POT, Statement
from fluxlab.gui.tables.facts import FactLine
from fluxlab.gui.tables.page import GAP
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.decision import Choice
from fluxlab.gui.widgets.fields import Field, NumberField
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.section import Section

SIDE_BY_SIDE = 700
"""Width from which two sections stand side by side [px of the grid]."""
NUMBERS = {
    "air_ratio": ("Burner's air, of what the gas needs", "", 2, 0.05, 10.0),
    "mould_opened_after": ("Mould opened after the pour", "min", 0, 1.0, 6000.0),
    "pot_wall_left": ("Pot wall left, of new", "%", 0, 5.0, 100.0),
}
CARD = Explanation(
    "Workshop card",
    "What you state here is asked by the rules on place, gear and habits. What is not stated is never taken as safe: "
    "the ticket then says what is still to be stated. Something dangerous, or gear that is not stated, stops the "
    "ticket until it is changed, or, where the rule allows it, until you confirm for that one ticket that the control "
    "is in place.",
    "",
    "each rule names its own source on the ticket's page and in the report",
)


class _Pair(QWidget):
    """Two sections side by side where their words have room, else one under the other."""

    def __init__(self, left: QWidget, right: QWidget) -> None:
        super().__init__()
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(GAP)
        for section in (left, right):
            self._row.addWidget(section, 1, Qt.AlignmentFlag.AlignTop)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand side by side or not."""
        way = QBoxLayout.Direction
        beside = self.width() >= theme.scaled(SIDE_BY_SIDE)
        self._row.setDirection(way.LeftToRight if beside else way.TopToBottom)
        super().resizeEvent(event)


class WorkshopShelf(QObject):
    """Keeps the statements and what the rules make of them together."""

    def __init__(self, bench: Bench, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.choices: dict[str, Choice] = {}
        self.numbers: dict[str, NumberField] = {}
        self.disposal = Field()
        self.disposal.setAccessibleName("Where slag, dust and old pots go")
        self.disposal.setPlaceholderText(NOT_STATED)
        self.disposal.editingFinished.connect(self._take_disposal)
        keep_width(self.disposal, 300)
        self.card = WorkshopCard()
        self.tools: tuple[QWidget, ...] = ()
        self._statements = {s.field: s for s in (*FIRE, *PEOPLE, *HABITS, *POT)}
        self.table = self._sheet()

    def _sheet(self) -> Scroller:
        sheet = Scroller("Workshop card", 120)
        fire, people = Section("Place and fire"), Section("People and gear")
        habits, pot = Section("Habits"), Section("The pot in use")
        for section, statements, numbers in (
            (fire, FIRE, ("air_ratio",)),
            (people, PEOPLE, ()),
            (habits, HABITS, ("mould_opened_after",)),
            (pot, POT, ("pot_wall_left",)),
        ):
            section.explanation = CARD  # type: ignore[attr-defined]
            self._fill(section, statements, numbers)
        for left, right in ((fire, people), (habits, pot)):
            sheet.body.addWidget(_Pair(left, right))
            sheet.body.addSpacing(10)
        waste = Section("Waste")
        waste.body.addWidget(FactLine("Slag, dust and old pots go", self.disposal))
        sheet.body.addWidget(waste)
        sheet.body.addStretch(1)
        return sheet

    def _fill(self, section: Section, statements: Sequence[Statement], numbers: Sequence[str]) -> None:
        for statement in statements:
            choice = Choice(statement.words, partial(self._fill_menu, statement))
            self.choices[statement.field] = choice
            section.body.addWidget(FactLine(statement.words, choice))
        for key in numbers:
            words, unit, places, step, most = NUMBERS[key]
            quantity = {"min": "time", "%": "share"}.get(unit, "number")
            field = NumberField(reader(quantity, 0.0, most), unit, places, step, may_be_empty=True)  # type: ignore[arg-type]
            field.setAccessibleName(words)
            field.setPlaceholderText(NOT_STATED)
            keep_width(field, 108)
            field.valueEdited.connect(partial(self._state, key))
            self.numbers[key] = field
            section.body.addWidget(FactLine(words, field))

    def _fill_menu(self, statement: Statement, menu: Menu) -> None:
        now = statement.said(getattr(self._bench.work.shelf.workshop, statement.field))
        menu.choices([words for _, words in statement.answers], now, partial(self.choose, statement.field))

    def choose(self, field: str, words: str) -> None:
        """State one thing in the words of its menu."""
        self._state(field, self._statements[field].answer(words))

    def _state(self, field: str, value: Any) -> None:
        card = self._bench.work.shelf.workshop
        self._bench.do(edits.set_workshop, replace(card, **{field: value}))

    def _take_disposal(self) -> None:
        if self.disposal.isModified():
            self.disposal.setModified(False)
            self._state("disposal", self.disposal.text().strip())

    def note(self) -> str:
        """How much is still to be stated."""
        card = self._bench.work.shelf.workshop
        open_ = [s for s in self._statements.values() if s.said(getattr(card, s.field)) == NOT_STATED]
        missing = len(open_) + (not card.disposal.strip())
        return f"{missing} not stated" if missing else "all stated"

    def refresh(self) -> None:
        """Show the card of the bench."""
        card = self._bench.work.shelf.workshop
        for key, choice in self.choices.items():
            choice.set_words(self._statements[key].said(getattr(card, key)))
        for key, field in self.numbers.items():
            field.set_value(getattr(card, key))
        if not (self.disposal.hasFocus() and self.disposal.isModified()):
            self.disposal.setText(card.disposal)
            self.disposal.setModified(False)
        self.card.show_cautions(self._bench.report.cautions)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for field in self.numbers.values():
            field.commit()
        self._take_disposal()
