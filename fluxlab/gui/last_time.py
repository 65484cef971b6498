"""What did we use last time? The last ticket printed for this ore type, and its weights for today's charge."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.words import Words

if TYPE_CHECKING:
    from fluxlab.design.ticket import Ticket
    from fluxlab.store.rows import PrintedTicket


def last_ticket(bench: Bench) -> "tuple[PrintedTicket, Ticket] | None":
    """The ticket last printed for the ore type on the bench, None where there is none that can be read."""
    from fluxlab.store.problem import StoreProblem
    from fluxlab.store.report_document import read_ticket

    try:
        printed = None if bench.library is None else bench.library.last_ticket(bench.work.recipe.ore.uid)
    except StoreProblem as problem:
        bench.refused.emit(problem.sentence)
        return None
    if printed is None:
        return None
    ticket = read_ticket(printed.document).value
    return None if ticket is None else (printed, ticket)


def weights_today(bench: Bench, ticket: "Ticket") -> tuple[tuple[str, float], ...]:
    """The flux weights of a ticket for today's charge [g]; the first weighing is the charge itself."""
    charge, *fluxes = ticket.rows
    scale = bench.work.recipe.charge / charge.grams if charge.grams > 0 else 1.0
    return tuple((row.what, round(row.grams * scale, 6)) for row in fluxes)


class LastTime(Panel):
    """The ticket in short, and what can be done with it."""

    def __init__(self, bench: Bench, window: QWidget) -> None:
        super().__init__("What did we use last time?", window)
        self._bench = bench
        self.body.addWidget(Words("What did we use last time?", 14, bold=True))
        found = last_ticket(bench)
        if found is None:
            self.body.addWidget(Words("No ticket was printed for this ore type yet.", 13, room=320))
            return
        self._printed, self._ticket = found
        when = self._printed.printed.astimezone().strftime("%d.%m.%Y")
        self.body.addWidget(Words(f"{self._ticket.recipe}, {self._ticket.issued}", 12, tone="ink2", room=340))
        self.setAccessibleDescription(f"Printed on {when}")
        grid = QGridLayout()
        grid.setHorizontalSpacing(24)
        grid.setVerticalSpacing(2)
        for row, weighing in enumerate(self._ticket.rows):
            grid.addWidget(Words(weighing.name, 13), row, 0)
            words = f"{show_number(weighing.grams, self._ticket.decimals)} g"
            grid.addWidget(Words(words, 13, bold=True).align_right(), row, 1)
        self.body.addLayout(grid)
        self.take = Button("Take these weights", "quiet")
        self.take.setToolTip("Fix the rows at these weights, for today's charge; one step of undo")
        self.take.clicked.connect(self._take)
        self.open = Button("Open that revision", "quiet")
        self.open.setVisible(self._printed.revision is not None)
        self.open.clicked.connect(self._open)
        foot = QHBoxLayout()
        foot.addWidget(self.take)
        foot.addWidget(self.open)
        foot.addStretch(1)
        self.body.addSpacing(4)
        self.body.addLayout(foot)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def _take(self) -> None:
        self.shut()
        self._bench.do("paste_weights", weights_today(self._bench, self._ticket))

    def _open(self) -> None:
        self.shut()
        self._bench.open_recipe(self._printed.recipe, self._printed.revision)
