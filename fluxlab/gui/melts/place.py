"""The Melts place: what came out, melt by melt, and what to change next time."""

from dataclasses import replace
from typing import TYPE_CHECKING, Protocol, cast

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.save_button import SaveButton
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.detail import Detail
from fluxlab.gui.melts.entry import Entry
from fluxlab.gui.melts.lines import MeltLine, lines_of
from fluxlab.gui.melts.none import NoMelt
from fluxlab.gui.melts.reveal import reveal
from fluxlab.gui.melts.summary import Summary
from fluxlab.gui.melts.table import MeltTable
from fluxlab.gui.melts.trend import NAMES, Quantity, Trend, points_of
from fluxlab.gui.tables.explaining import explain_here
from fluxlab.gui.tables.page import GAP, Page, PageColumn, Room
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.segments import Segments
from fluxlab.learn.yields import row_of

if TYPE_CHECKING:
    from fluxlab.design.ticket import Ticket
    from fluxlab.learn.melt import Melt
    from fluxlab.store.rows import PrintedTicket

DROPPED, TAKE_UP = "What was typed of the melt was dropped.", "Take it up again"


class _Frame(Protocol):
    def go(self, name: str) -> None:
        """Open a place."""


class MeltsPlace(QWidget):
    """Table and charts at the left; at the right the chosen melt, or the one being entered."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench, self.desk = bench, MeltDesk(bench)
        self.lines: tuple[MeltLine, ...] = ()
        self._everything = False
        self._for = ""
        self.table = MeltTable(self.desk)
        self.trend, self.summary = Trend(), Summary()
        self.quantity = Segments("What the chart shows", [(key, words) for key, words in NAMES.items()])
        self.quantity.set_current("recovery")
        self.detail, self.entry, self.none = Detail(self.desk), Entry(), NoMelt()
        self.page = Page("Melts", self)
        self.page.add(self._left(), Room(460, 798, 1))
        self.page.add(self._right(), Room(330, 370))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.page)
        self._connect()
        self.refresh()

    def _left(self) -> PageColumn:
        column = PageColumn()
        charts = QHBoxLayout()
        charts.setSpacing(GAP)
        self.chart_part = Section("By melt", "", (self.quantity, SaveButton(self.trend)))
        self.chart_part.body.addWidget(self.trend, 1)
        charts.addWidget(self.chart_part, 5)
        charts.addWidget(self.summary, 4)
        column.body.addWidget(self.table, 3)
        column.body.addSpacing(16)
        column.body.addLayout(charts, 2)
        column.body.addSpacing(10)
        return column

    def _right(self) -> PageColumn:
        column = PageColumn()
        for part in (self.none, self.detail, self.entry):
            column.body.addWidget(part)
        column.body.addStretch(1)
        return column

    def _connect(self) -> None:
        self.table.chosen.connect(self._chosen)
        self.table.wanted.connect(self.begin)
        self.table.scope.connect(self._scope)
        self.trend.picked.connect(self.table.choose)
        self.quantity.chosen.connect(lambda _: self._show_chart())
        self.detail.correct.connect(self.correct)
        self.detail.strike.connect(self._strike)
        self.entry.recorded.connect(self._record)
        self.entry.left.connect(self._leave)
        self.entry.typed.connect(self.desk.keep_half_typed)
        self.entry.ticket_wanted.connect(self._change_ticket)
        self.none.record.clicked.connect(self.begin)
        self.none.show_ticket.clicked.connect(lambda: cast(_Frame, self.window()).go("Weigh-out"))
        self.bench.changed.connect(self._changed)
        self.bench.kept.connect(self._kept)

    # -- showing --------------------------------------------------------------------------------------------------

    def _changed(self) -> None:
        """The recipe changed: causes are ranked anew, the record is the same unless it is another ore's."""
        if self.isVisible():
            if self._for == self.desk.ore:
                self._show_right()
            else:
                self.refresh()

    def _kept(self) -> None:
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the record of the ore type on the bench."""
        other = self._for != self.desk.ore
        if other:
            self.commit_pending()
            self.entry.end()
        self._for = self.desk.ore
        self.lines = lines_of(self.desk.melts(self._everything))
        self.table.show_lines(self.lines)
        if self.table.line is None and self.lines:
            self.table.choose(self.lines[-1].melt.uid)
        self._show_chart()
        self._show_right()
        if other:
            self._take_up()

    def _own(self) -> tuple[MeltLine, ...]:
        """The melts of the ore type that chart and means speak of: that of the chosen melt."""
        line = self.table.line
        ore = self.desk.ore if line is None else line.melt.ore
        return tuple(each for each in self.lines if each.melt.ore == ore)

    def _show_chart(self) -> None:
        own, line = self._own(), self.table.line
        quantity: Quantity = "yield" if self.quantity.buttons["yield"].isChecked() else "recovery"
        row = row_of([each.melt for each in own])
        mean = row.yields if quantity == "yield" else row.recovery
        self.trend.show_points(points_of(own, quantity), mean, quantity, "" if line is None else line.melt.uid)
        self.summary.show_lines(own)
        self.summary.show_ores(self.lines, self.desk.ore_name)

    def _show_right(self) -> None:
        line = self.table.line
        entering = self.entry.open
        self.entry.setVisible(entering)
        self.detail.setVisible(not entering and line is not None)
        self.none.setVisible(not entering and line is None)
        self.table.record.setVisible(not entering and self.desk.has_ticket())
        if not entering and line is not None:
            self.detail.show_line(line)
        elif not entering:
            self.none.show_tickets(bool(self.desk.tickets()))

    def _chosen(self, _line: MeltLine) -> None:
        self._show_chart()
        self._show_right()

    def _scope(self, which: str) -> None:
        self._everything = which == "all"
        self.refresh()

    # -- entering -------------------------------------------------------------------------------------------------

    def begin(self) -> None:
        """Enter a melt for the latest ticket of this ore type; without a ticket, go where one is printed.

        An entry that is still open is gone on with.
        """
        if self.entry.open:
            return
        tickets = self.desk.tickets()
        if not tickets:
            cast(_Frame, self.window()).go("Weigh-out")
            return
        self._enter(self.desk.blank(*tickets[0]), f"What came out of melt {self._next()}?", tickets)

    def correct(self, melt: "Melt") -> None:
        """Enter what takes the place of a melt on record."""
        line = self.table.line
        number = "" if line is None else f" {line.kept.number}"
        self._enter(self.desk.correction_of(melt), f"Correct melt{number}", self.desk.tickets())

    def _next(self) -> int:
        own = [line.kept.number for line in self.lines if line.melt.ore == self.desk.ore]
        return max(own, default=0) + 1

    def _enter(self, melt: "Melt", title: str, tickets: "list[tuple[PrintedTicket, Ticket]]") -> None:
        named = [(printed.number, ticket_words(printed, ticket)) for printed, ticket in tickets]
        button = "Record the correction" if melt.replaces else f"Record melt {self._next()}"
        self.entry.begin(melt, title, named, button, self.desk.held_today(melt))
        self._show_right()
        reveal(self.entry.fields["button"], self.entry.heading)

    def _change_ticket(self, number: int) -> None:
        """What was typed goes with the entry to another ticket; its weights are that ticket's."""
        typed = self.entry.value()
        for printed, paper in self.desk.tickets():
            if printed.number == number:
                fresh = self.desk.blank(printed, paper)
                kept = {
                    name: getattr(typed, name) for name in (*self.entry.fields, "fineness", "seen", "notes", "poured")
                }
                self._enter(
                    replace(fresh, uid=typed.uid, **kept), self.entry.heading.accessibleName(), self.desk.tickets()
                )

    def _take_up(self) -> None:
        """Go on with an entry that was being typed when the program last ended."""
        melt = self.desk.half_typed()
        if melt is not None:
            title = "Correct a melt" if melt.replaces else f"What came out of melt {self._next()}?"
            self._enter(melt, title, self.desk.tickets())

    def _record(self, melt: "Melt") -> None:
        if not self.desk.record(melt):
            return
        self.entry.end()
        self.refresh()
        self.table.choose(melt.uid)
        self.table.view.setFocus()

    def _strike(self, melt: "Melt") -> None:
        if self.desk.strike(melt):
            self.refresh()

    def _leave(self) -> None:
        """Drop what was typed; it can be taken up again as long as the sentence that says so stands there."""
        melt, begun = self.entry.value(), self.entry.begun
        title = self.entry.heading.accessibleName()
        self.desk.forget_half_typed(melt.ore)
        self.entry.end()
        self._show_right()
        notice = getattr(self.window(), "notice", None)
        if begun and notice is not None:
            notice.say(DROPPED, TAKE_UP, lambda: self._take_back(melt, title))

    def _take_back(self, melt: "Melt", title: str) -> None:
        if melt.ore == self.desk.ore and not self.entry.open:
            self.desk.keep_half_typed(melt)
            self._enter(melt, title, self.desk.tickets())

    def explain_here(self) -> bool:
        """Explain what the operator points at."""
        return explain_here(self)

    def commit_pending(self) -> None:
        """Take what an open field of the form holds."""
        if self.entry.open:
            self.entry.commit_pending()


def ticket_words(printed: "PrintedTicket", ticket: "Ticket") -> str:
    """A ticket in a list: its number and when it was printed."""
    from fluxlab.gui.melts.words import day

    return f"{ticket.number}, {day(printed.printed.astimezone())}"
