"""What applies to the ticket, with a tick for each block that the operator may lift."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.report_types import Answer, Caution
from fluxlab.design.ticket import Ticket, TicketCaution
from fluxlab.gui.weigh.tick import Tick
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.words import Words

_MARKS: dict[str, Answer] = {"block": "no", "warn": "close", "caution": "close"}
_TONES = {"block": "no", "warn": "close", "caution": "ink"}


class CautionList(QWidget):
    """The cautions, the gravest first. `confirmed` tells the rule whose tick was set or taken back."""

    confirmed = Signal(str, bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ticks: dict[str, Tick] = {}
        self._shown: tuple[tuple[TicketCaution, str], ...] = ()
        self._body = QVBoxLayout(self)
        self._body.setContentsMargins(0, 6, 0, 0)
        self._body.setSpacing(10)

    def show_ticket(self, ticket: Ticket, reasons: tuple[Caution, ...]) -> None:
        """Show the cautions of a ticket; `reasons` lend the figures behind them."""
        because = {caution.rule: caution.because for caution in reasons}
        shown = tuple((caution, because.get(caution.rule, "")) for caution in ticket.cautions)
        if [(_without_state(c), b) for c, b in shown] == [(_without_state(c), b) for c, b in self._shown]:
            self._shown = shown
            for caution, _ in shown:
                if caution.rule in self.ticks:
                    self.ticks[caution.rule].setChecked(caution.confirmed)
            return
        self._shown = shown
        self._clear()
        for caution, reason in shown:
            self._body.addWidget(self._entry(caution, reason))
        if not shown:
            self._body.addWidget(Words("Nothing speaks against weighing this out.", 13, tone="ink2"))

    def _clear(self) -> None:
        self.ticks = {}
        while (item := self._body.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _entry(self, caution: TicketCaution, reason: str) -> QWidget:
        entry = QWidget()
        row = QHBoxLayout(entry)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(9)
        row.addWidget(Mark(_MARKS[caution.level]), 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(1)
        words.addWidget(Words(caution.title, 14, bold=True, tone=_TONES[caution.level]))
        words.addWidget(Words(caution.sentence, 13))
        if reason:
            words.addWidget(Words(f"Here: {reason}.", 12, tone="ink2"))
        if caution.level == "block" and caution.lift == "operator":
            tick = Tick("Confirmed for this ticket", f"{caution.title}: confirmed for this ticket")
            tick.setChecked(caution.confirmed)
            tick.clicked.connect(lambda on, rule=caution.rule: self.confirmed.emit(rule, on))
            self.ticks[caution.rule] = tick
            words.addWidget(tick, 0, Qt.AlignmentFlag.AlignLeft)
        elif caution.level == "block":
            words.addWidget(Words("Nobody may lift this: remove the cause first.", 13, bold=True, tone="no"))
        row.addLayout(words, 1)
        return entry


def _without_state(caution: TicketCaution) -> tuple[str, str, str, str, str]:
    return caution.rule, caution.level, caution.title, caution.sentence, caution.lift
