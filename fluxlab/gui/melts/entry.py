"""The entry form "What came out?": one field after the other, Enter goes on, Ctrl+Enter records."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import Any, cast, get_args

from PySide6.QtCore import QEvent, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.gui.melts.fields import SPECS, Part, goes_on, leads_on, read_share_of_button, value_in
from fluxlab.gui.melts.form_fields import FormNumber, FormText, MomentField, melt_number
from fluxlab.gui.melts.lines import said_against
from fluxlab.gui.melts.pasting import paste
from fluxlab.gui.melts.reveal import reveal
from fluxlab.gui.melts.seen import Seen
from fluxlab.gui.melts.steps import BACK, Steps, is_step
from fluxlab.gui.melts.weights import WeightsRead
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.facts import FactLine, IssueWords
from fluxlab.gui.tables.heading import Heading
from fluxlab.gui.tables.label import Label
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import show_exact, show_number
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.segments import Segments
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.melt import Assayer, Beforehand, Fineness, Melt
from fluxlab.learn.yields import FINENESS_ERROR, usual_skin

BY: tuple[tuple[Assayer, str], ...] = (("assayer", "Assayer"), ("x-ray gun", "X-ray gun"), ("own guess", "Own guess"))
TITLES: tuple[tuple[Part, str, str], ...] = (
    ("fire", "The fire", ""),
    ("roast", "The roast", ""),
    ("more", "Measured besides", "each tells later melts more"),
)
ERROR = "Its error, one standard deviation"
NOT_TAKEN = "Correct it, or press Escape in it for what stood there before; nothing is recorded until then."
EMPTY_HINT = "Enter goes on, Ctrl+Z takes back, Ctrl+Enter records. Leave empty what was not weighed or read."


class Entry(QWidget):
    """`recorded` carries the melt as typed, `left` that the form was given up, `typed` every change of it."""

    recorded = Signal(object)
    left = Signal()
    typed = Signal(object)
    ticket_wanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._melt: Melt | None = None
        self._tickets: list[tuple[int, str]] = []
        self.fields: dict[str, FormNumber] = {spec.name: melt_number(spec) for spec in SPECS}
        self.heading = Heading("What came out?")
        self.ticket = Button("", "quiet", after="chevron")
        self.ticket.clicked.connect(self._choose_ticket)
        self.held = Label("", 13, "ink2")
        self.regrade = Button("", "text")
        self.regrade.setToolTip("The ore type has another grade now than when the ticket was printed")
        self._today: Beforehand | None = None
        self.poured = MomentField()
        self.silver, self.gold = (FormNumber(read_share_of_button, "%", 1, 0.1, True) for _ in range(2))
        self.by = Segments("On whose word", BY)
        self.error = FormNumber(reader("share"), "%", 1, 0.1, True)
        self.error.setAccessibleName(ERROR)
        self.error.setToolTip("In per cent of the silver found. Empty: what is usual for whose word it is.")
        self.fields["button_step"].seldom = True
        for spec in SPECS:
            self.fields[spec.name].setToolTip(spec.tip)
        self.seen = Seen()
        self.notes = FormText()
        self.notes.setAccessibleName("Notes")
        self.issues = IssueWords()
        self.not_taken = Words("", 12, tone="no")
        self.not_taken.hide()
        self.record_button = Button("Record the melt", "solid")
        self.leave_button = Button("Leave it", "text")
        self.weights = WeightsRead(self._listen)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._lay_out()
        self._connect()

    # -- laying out -----------------------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        column = self._column
        column.addWidget(self.heading)
        column.addWidget(Words(EMPTY_HINT, 12, tone="ink2"))
        column.addSpacing(4)
        column.addWidget(FactLine("Ticket", self.ticket))
        column.addWidget(FactLine("Poured", self.poured))
        column.addWidget(FactLine("Silver in the charge", self.held))
        column.addWidget(self.regrade, 0, Qt.AlignmentFlag.AlignRight)
        column.addWidget(self._line("button"))
        column.addWidget(self._line("button_step"))
        column.addWidget(FactLine("Silver in the button", self.silver))
        column.addWidget(FactLine("Gold in the button", self.gold))
        column.addWidget(FactLine("On whose word", self.by))
        column.addWidget(FactLine(ERROR, self.error))
        for name in ("matte", "speiss", "slag"):
            column.addWidget(self._line(name))
        column.addSpacing(6)
        column.addWidget(self.issues)
        self.sections: dict[str, Section] = {}
        for part, title, note in TITLES:
            section = Section(title, note, fold=f"melts.{part}")
            for spec in SPECS:
                if spec.part == part:
                    section.body.addWidget(self._line(spec.name))
            self.sections[part] = section
        self.sections["weights"] = self.weights
        fire, roast, more = (self.sections[part] for part, _, _ in TITLES)
        for each in (fire, self.seen, roast, self.weights, more):
            column.addSpacing(14)
            column.addWidget(each)
        column.addSpacing(14)
        column.addWidget(Words("Notes", 13))
        column.addSpacing(4)
        column.addWidget(self.notes)
        column.addSpacing(8)
        column.addWidget(self.not_taken)
        row = QHBoxLayout()
        row.setSpacing(10)
        row.addWidget(self.record_button)
        row.addWidget(self.leave_button)
        row.addStretch(1)
        column.addLayout(row)
        column.addSpacing(14)
        column.addStretch(1)

    def _line(self, name: str) -> FactLine:
        words = next(spec.words for spec in SPECS if spec.name == name)
        return FactLine(words, self.fields[name])

    def _connect(self) -> None:
        for field in (*self.fields.values(), self.silver, self.gold, self.error):
            self._listen(field)
        leads_on(self.poured, self)
        self.poured.refusalChanged.connect(self._say_refused)
        leads_on(self.notes, self)
        self.poured.momentEdited.connect(self._typed)
        self.notes.editingFinished.connect(self._typed)
        self.by.chosen.connect(self._usual_error)
        self.by.chosen.connect(self._typed)
        self.seen.changed.connect(self._typed)
        self.record_button.clicked.connect(self.record)
        self.leave_button.clicked.connect(self.left)
        self.regrade.clicked.connect(self._take_grade)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(self.record)

    def _listen(self, field: FormNumber) -> None:
        field.valueEdited.connect(self._typed)
        field.refusalChanged.connect(self._say_refused)
        field.cellsPasted.connect(partial(self._paste, field))
        leads_on(field, self)

    # -- what is typed --------------------------------------------------------------------------------------------

    @property
    def open(self) -> bool:
        """Whether a melt is being entered."""
        return self._melt is not None

    @property
    def weighings(self) -> list[FormNumber]:
        """The fields of the weights as read, in the order of the ticket."""
        return self.weights.fields

    def begin(
        self,
        melt: Melt,
        title: str,
        tickets: Sequence[tuple[int, str]],
        button: str,
        today: Beforehand | None = None,
    ) -> None:
        """Enter this melt; `tickets` are numbers and words of those it may belong to.

        `today` is what its charge holds by the present grades of the ore, None where they are those of the ticket.
        """
        self._melt, self._today = None, today
        self._tickets = list(tickets)
        self.heading.set_title(title)
        self.record_button.set_words(button)
        self._show(melt)
        self._melt, self._steps = melt, Steps(melt)
        self._check()

    def end(self) -> None:
        """Nothing is being entered any more."""
        self._melt = None
        self._give_up()
        whisper(self, "")

    def _give_up(self) -> None:
        for field in self._in_order():
            field.give_up()

    def _show(self, melt: Melt) -> None:
        words = next((said for number, said in self._tickets if number == melt.ticket), melt.ticket_name)
        self.ticket.set_words(words)
        self.ticket.setEnabled(len(self._tickets) > 1 and not melt.replaces)
        self._give_up()
        self.weights.show_weighings(melt.weighed, melt.balance_step)
        self.by.set_current((melt.fineness or Fineness()).by)
        self._put(melt)
        self.seen.set_seen(melt.seen, melt.route, melt.feed)
        roasted = melt.feed == "calcine"
        self.sections["roast"].setVisible(roasted)
        self.sections["more"].set_folded(not any(value_in(melt, s) is not None for s in SPECS if s.part == "more"))
        self.sections["roast"].set_folded(not any(value_in(melt, s) is not None for s in SPECS if s.part == "roast"))
        self.sections["weights"].set_folded(all(weighing.read is None for weighing in melt.weighed))

    def _put(self, melt: Melt) -> list[QWidget]:
        """Put a melt into the fields; those that have changed by it, in the order of the form."""
        fine = melt.fineness or Fineness(by=self._by())
        wanted: dict[QWidget, float | None] = {self.fields[spec.name]: value_in(melt, spec) for spec in SPECS}
        wanted |= {self.silver: fine.silver, self.gold: fine.gold, self.error: fine.error}
        wanted |= {field: weighing.read for field, weighing in zip(self.weighings, melt.weighed, strict=True)}
        changed: list[QWidget] = []
        for field in self._in_order():
            if isinstance(field, MomentField):
                differs = field.value != melt.poured
                if differs:
                    field.set_value(melt.poured)
            elif differs := field.value != wanted[field]:
                field.set_value(wanted[field])
            changed += [field] if differs else []
        self.by.set_current(fine.by)
        changed += self.seen.tick(melt.seen)
        if self.notes.text().strip() != melt.notes:
            self.notes.setText(melt.notes)
            changed.append(self.notes)
        self._usual_error()
        self._show_balances(melt)
        self._show_held(melt.beforehand)
        return changed

    def _show_held(self, before: Beforehand) -> None:
        self.held.set_words(_held_words(before.silver))
        today = None if before == self._today else self._today
        self.regrade.setVisible(today is not None)
        if today is not None:
            self.regrade.set_words(f"Take today's grade: {_held_words(today.silver)}")

    def _take_grade(self) -> None:
        if self._melt is not None and self._today is not None:
            self._melt = replace(self._melt, beforehand=self._today)
            self._show_held(self._melt.beforehand)
            self._typed()

    def _show_balances(self, melt: Melt) -> None:
        """Let weights be shown and stepped as their balances show, and tell what counts where nothing is entered."""
        for spec in SPECS:
            if spec.balance:
                self.fields[spec.name].reads_to(melt.button_shows if spec.balance == "button" else melt.balance_step)
        self.fields["button_step"].setPlaceholderText(show_exact(melt.balance_step, 0))
        usual = "" if melt.button is None else show_number(usual_skin(melt.button), 3)
        self.fields["skin"].setPlaceholderText(usual)

    def value(self) -> Melt:
        """The melt as typed so far."""
        assert self._melt is not None
        figures: dict[str, Any] = {name: field.value for name, field in self.fields.items()}
        fluidity = figures["fluidity"]
        figures["fluidity"] = None if fluidity is None else int(fluidity)
        weighed = tuple(
            replace(weighing, read=field.value)
            for weighing, field in zip(self._melt.weighed, self.weighings, strict=True)
        )
        return replace(
            self._melt,
            poured=self.poured.value,
            weighed=weighed,
            seen=self.seen.seen,
            fineness=self._fineness(),
            notes=self.notes.text().strip(),
            **figures,
        )

    def _fineness(self) -> Fineness | None:
        if self.silver.value is None and self.gold.value is None:
            return None
        return Fineness(self.silver.value, self.gold.value, self._by(), self.error.value)

    def _by(self) -> Assayer:
        by = next((value for value, button in self.by.buttons.items() if button.isChecked()), "own guess")
        return cast(Assayer, by)

    def _usual_error(self) -> None:
        """Show what is reckoned with where no error is given."""
        self.error.setPlaceholderText(show_exact(FINENESS_ERROR[self._by()], 1))

    def _typed(self) -> None:
        if self._melt is not None:
            melt = self.value()
            self._steps.take(melt)
            self._check()
            self._show_balances(melt)
            self.typed.emit(melt)

    def _paste(self, first: FormNumber, cells: list[str]) -> None:
        """Put cells into this field and those that Enter would lead to, as one step."""
        order = [field for field in self._in_order() if isinstance(field, FormNumber)]
        after = [field for field in order[order.index(first) + 1 :] if field.isVisible() and not field.seldom]
        refused = paste(cells, [first, *after])
        whisper(first, refused)
        if not refused:
            self._typed()

    @property
    def begun(self) -> bool:
        """Whether anything has been entered since the form was opened."""
        return self._melt is not None and self._steps.any

    def event(self, event: QEvent) -> bool:
        """While a melt is entered, a step back is one of the form and not of the recipe."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and is_step(event):
            event.setAccepted(self.open)
            return self.open
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take a step of the form back, or again; Enter goes on."""
        if not is_step(event) or not self.open:
            if not goes_on(event, self):
                super().keyPressEvent(event)
            return
        melt = self._steps.back() if event.keyCombination() in BACK else self._steps.forward()
        if melt is not None:
            self._go_to(melt)

    def _go_to(self, melt: Melt) -> None:
        self._melt = None
        changed = self._put(melt)
        self._melt = melt
        self._check()
        self.typed.emit(melt)
        if changed:
            reveal(changed[0])

    def _check(self) -> None:
        self.issues.show_issues(said_against(self.value(), datetime.now()))

    def _in_order(self) -> Iterator[FormNumber | MomentField]:
        """Every field that can refuse, as they stand on the form."""
        of = {part: [self.fields[spec.name] for spec in SPECS if spec.part == part] for part in get_args(Part)}
        button, its_step, *rest = of["out"]
        yield self.poured
        yield from (button, its_step, self.silver, self.gold, self.error, *rest)
        yield from (*of["fire"], *of["roast"], *self.weighings, *of["more"])

    def commit_pending(self) -> bool:
        """Take what an open field holds; False if any field holds what was refused."""
        took = [field.commit() for field in self._in_order()]
        return all(took)

    def settled(self) -> bool:
        """Whether all that is typed was taken; the first field that refuses gets the focus and says why."""
        if self.commit_pending():
            return True
        first = next(field for field in self._in_order() if field.refused)
        reveal(first)
        first.commit()
        return False

    def record(self) -> None:
        """Record the melt with what is still being typed; where a field refuses nothing is recorded."""
        if self._melt is not None and self.settled():
            self.recorded.emit(self.value())

    def _say_refused(self) -> None:
        names = [field.accessibleName() for field in self._in_order() if field.refused]
        self.not_taken.set_words(f"Not taken: {', '.join(names)}. {NOT_TAKEN}" if names else "")
        self.not_taken.setVisible(bool(names))

    def _choose_ticket(self) -> None:
        if not self.settled():
            return
        menu = Menu(self)
        for number, words in self._tickets:
            menu.entry(words, lambda number=number: self.ticket_wanted.emit(number))  # type: ignore[misc]
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.ticket.mapToGlobal(QPoint(0, self.ticket.height())))


def _held_words(grams: float | None) -> str:
    return "not known" if grams is None else f"{show_number(grams, 2)} g by the assay"
