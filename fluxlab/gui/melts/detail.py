"""The chosen melt: its figures, what was seen, what speaks against it, and how it is corrected."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.ticket import date_words
from fluxlab.gui.melts.change import Change
from fluxlab.gui.melts.corrections import corrections
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.lines import MeltLine, looks
from fluxlab.gui.melts.sheet import Sheet
from fluxlab.gui.melts.sheet_lines import sheet_lines
from fluxlab.gui.tables.facts import IssueWords
from fluxlab.gui.tables.heading import Heading
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.words import Words

SURE = "Strike it out for good? The entry stays in the library, but counts no more."


class Detail(QWidget):
    """`correct` and `strike` carry the melt."""

    correct = Signal(object)
    strike = Signal(object)

    def __init__(self, desk: MeltDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.line: MeltLine | None = None
        self._looks = looks()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.heading = Heading("Melt")
        self.why = Words("", 13, tone="no")
        self.sheet = Sheet()
        self.issues = IssueWords()
        self.seen = Words("", 13)
        self.notes = Words("", 13, tone="ink2")
        self.amount = Words("", 12, tone="ink2")
        self.correct_button = Button("Correct it", "quiet", "pencil")
        self.strike_button = Button("There was no such melt", "text")
        self.asked = Words(SURE, 12, tone="no")
        self.yes = Button("Strike it out", "quiet")
        self.yes.set_tone("no")
        self.no = Button("Leave it", "text")
        self.change = Change(desk)
        tools, sure = QHBoxLayout(), QHBoxLayout()
        for row, parts in ((tools, (self.correct_button, self.strike_button)), (sure, (self.yes, self.no))):
            row.setSpacing(10)
            for part in parts:
                row.addWidget(part, 0, Qt.AlignmentFlag.AlignVCenter)
            row.addStretch(1)
        column.addWidget(self.heading)
        for widget in (self.why, self.sheet, self.issues, self.seen, self.notes, self.amount):
            column.addWidget(widget)
            column.addSpacing(6)
        column.addLayout(tools)
        column.addWidget(self.asked)
        column.addLayout(sure)
        column.addSpacing(16)
        column.addWidget(self.change)
        column.addStretch(1)
        self.correct_button.clicked.connect(lambda: self.line and self.correct.emit(self.line.melt))
        self.strike_button.clicked.connect(lambda: self._ask(True))
        self.no.clicked.connect(lambda: self._ask(False))
        self.yes.clicked.connect(lambda: self.line and self.strike.emit(self.line.melt))
        self._ask(False)

    def _ask(self, on: bool) -> None:
        for widget in (self.asked, self.yes, self.no):
            widget.setVisible(on)
        self.strike_button.setVisible(not on)
        if on:
            self.yes.setFocus(Qt.FocusReason.TabFocusReason)

    def show_line(self, line: MeltLine) -> None:
        """Show a melt."""
        if self.line is None or self.line.melt.uid != line.melt.uid:
            self._ask(False)
        self.line = line
        melt = line.melt
        self.heading.set_title(f"Melt {line.kept.number}")
        self.heading.note.set_words(f"poured {date_words(melt.poured)}")
        _put(self.why, _why(line), "no" if line.apart else "close")
        self.sheet.set_lines(list(sheet_lines(line)))
        missing = line.recovery.why if line.recovery.value is None else ""
        self.issues.show_issues(line.issues)
        seen = [self._looks[key] for key in melt.seen if key in self._looks]
        _put(self.seen, f"Seen: {'; '.join([seen[0], *(s[0].lower() + s[1:] for s in seen[1:])])}." if seen else "")
        _put(self.notes, melt.notes)
        corrected = " ".join(corrections(self._desk.entries(melt))) if line.kept.corrected else ""
        ticket = f"Ticket {melt.ticket_name}, {melt.recipe_name}."
        _put(self.amount, " ".join(part for part in (missing, ticket, corrected) if part))
        self.change.show_line(line)


def _why(line: MeltLine) -> str:
    if line.apart:
        return f"Stands apart from the others: {line.why}."
    return f"{line.why[0].upper()}{line.why[1:]}." if line.over and line.answer == "close" else ""


def _put(place: Words, words: str, tone: str = "") -> None:
    place.set_words(words, tone or place.tone)
    place.setVisible(bool(words))
