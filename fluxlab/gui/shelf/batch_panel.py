"""A jar scaled to a batch: so many grams, what to weigh for them, copied for a spreadsheet or printed as a ticket."""

from PySide6.QtCore import QRect
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QWidget

from fluxlab.design.batch import BatchRow, batch_rows
from fluxlab.design.recipe import Shelf
from fluxlab.gui import theme
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.facts import FactLine, Figures
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.numbers import decimals_for, shown
from fluxlab.gui.tables.readers import above_zero
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import NumberField
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.words import Words
from fluxlab.materials.flux_types import Component

FIRST = 1000.0
WIDE = 360


class BatchPanel(Panel):
    """The plate. It changes nothing on the shelf."""

    def __init__(self, jar: Component, shelf: Shelf, window: QWidget) -> None:
        super().__init__(f"Batch of {jar.name}", window)
        self._jar, self._shelf = jar, shelf
        self._beside: QWidget = window
        self.rows: tuple[BatchRow, ...] = ()
        self.grams = NumberField(
            above_zero(reader("stock"), "A batch"), "g", decimals_for([shelf.balance_step], 0), shelf.balance_step
        )
        keep_width(self.grams, 120)
        self.grams.set_value(FIRST)
        self.grams.valueEdited.connect(lambda _value: self._show())
        self.model: GridModel[BatchRow] = GridModel(
            [
                Column("Weigh, in this order", lambda r: r.name, "name", 190, 1, note=lambda r: r.form),
                Column("%", lambda r: shown(r.percent, 1), "quiet", 60),
                Column("Grams", self._weight, "figure", 100),
            ],
            key=lambda r: r.flux,
            parent=self,
        )
        self.view = GridView(f"Batch of {jar.name}", 40, self)
        self.view.show_model(self.model)
        self.view.setMinimumWidth(theme.scaled(WIDE))
        self.total = Figures("Total", double=True)
        self.copy = Button("Copy as a table", "quiet")
        self.copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.text()))
        buttons = QHBoxLayout()
        buttons.addWidget(self.copy)
        self.ticket = Button("Batch ticket", "quiet", "printer")
        self.ticket.setToolTip("As it will print, with the cautions of the mix")
        self.ticket.clicked.connect(self._open_ticket)
        buttons.addWidget(self.ticket)
        buttons.addStretch(1)
        self.body.addWidget(Words(f"Batch of {jar.name}", 14, bold=True))
        self.body.addWidget(FactLine("So much of it", self.grams))
        self.body.addWidget(self.view)
        self.body.addWidget(self.total)
        self.body.addWidget(
            Words(
                f"Rounded to the {shelf.balance_step:g} g balance so that the batch adds up.",
                12,
                tone="ink2",
                room=WIDE,
            )
        )
        self.body.addLayout(buttons)
        self._show()

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the plate, ready for another weight."""
        self._beside = beside
        super().open_at(beside, rect)
        self.grams.setFocus()
        self.grams.selectAll()

    def _open_ticket(self) -> None:
        from fluxlab.gui.weigh.batch_ticket import open_batch_ticket

        if self.grams.commit() and self.rows:
            self.shut()
            open_batch_ticket(self._shelf, self._window, self._beside, self._jar, self.rows)

    def _weight(self, row: BatchRow) -> str:
        return shown(row.grams, decimals_for([self._shelf.balance_step], 0))

    def _show(self) -> None:
        self.rows = batch_rows(self._jar, self.grams.value or 0.0, self._shelf.fluxes, self._shelf.balance_step)
        self.model.set_rows(self.rows)
        places = decimals_for([self._shelf.balance_step], 0)
        self.total.set_lines([("Batch", shown(sum(row.grams for row in self.rows), places), "g")])
        self.adjustSize()

    def text(self) -> str:
        """The list as tab-separated text."""
        self.view.clearSelection()
        self.view.setCurrentIndex(self.model.index(-1, -1))
        return self.view.copy_text()
