"""The Shelf place: fluxes, pots, moulds, the card of the workshop, and what the balance reads."""

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.shelf.flux_shelf import FluxShelf
from fluxlab.gui.shelf.vessel_shelf import VesselShelf, crucible_shelf, mould_shelf
from fluxlab.gui.shelf.workshop_shelf import WorkshopShelf
from fluxlab.gui.tables.explaining import explain_here
from fluxlab.gui.tables.heading import Heading
from fluxlab.gui.tables.label import Label
from fluxlab.gui.tables.page import Page, PageColumn, Room
from fluxlab.gui.tables.readers import above_zero
from fluxlab.gui.tables.switch import Switch
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.fields import Field, NumberField

WAYS = (("fluxes", "Fluxes"), ("crucibles", "Pots"), ("moulds", "Moulds"), ("workshop", "Workshop"))


class ShelfPlace(QWidget):
    """Tables at the left, the card of the chosen thing at the right."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.fluxes = FluxShelf(bench, self)
        self.crucibles = crucible_shelf(bench)
        self.moulds = mould_shelf(bench)
        self.shelves: dict[str, FluxShelf | VesselShelf] = {
            "fluxes": self.fluxes,
            "crucibles": self.crucibles,
            "moulds": self.moulds,
        }
        self.workshop = WorkshopShelf(bench, self)
        self.ways: dict[str, FluxShelf | VesselShelf | WorkshopShelf] = {**self.shelves, "workshop": self.workshop}
        self._build_balance()
        self.switch = Switch("Shelf", WAYS)
        self.switch.chosen.connect(self.show_way)
        self.note = Label("", 13, "ink2")
        self.page = Page("Shelf", self)
        left, right = PageColumn(), PageColumn()
        left.body.addWidget(Heading("Shelf", Label("Balance step"), self.step, Label("Currency"), self.currency))
        left.body.addLayout(self._switch_line())
        left.body.addSpacing(4)
        for shelf in self.ways.values():
            left.body.addWidget(shelf.table, 100)
            right.body.addWidget(shelf.card)
        left.body.addStretch(1)
        self.page.add(left, Room(470, 795, 1))
        self.page.add(right, Room(330, 378))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.page)
        self._show(self.switch.way)
        bench.changed.connect(self.refresh)

    def _build_balance(self) -> None:
        self.step = NumberField(above_zero(reader("mass", hi=100), "The balance step"), "g", 1, 0.1)
        self.step.setAccessibleName("Balance step, grams")
        self.step.setToolTip("The smallest step that the balance shows; weights are rounded to it.")
        keep_width(self.step, 84)
        self.step.valueEdited.connect(lambda value: self.bench.do(edits.set_balance_step, value))
        self.currency = Field()
        self.currency.setAccessibleName("Currency")
        self.currency.setToolTip("The sign that stands beside prices")
        self.currency.setMaxLength(6)
        keep_width(self.currency, 64)
        self.currency.editingFinished.connect(self._take_currency)

    def _switch_line(self) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setContentsMargins(0, 6, 0, 6)
        line.setSpacing(13)
        line.addWidget(self.switch)
        line.addWidget(self.note)
        line.addStretch(1)
        for shelf in self.shelves.values():
            for tool in shelf.tools:
                line.addWidget(tool)
        return line

    def _show(self, way: str) -> None:
        self.switch.set_way(way)
        for key, shelf in self.ways.items():
            for part in (shelf.table, shelf.card, *shelf.tools):
                part.setVisible(key == way)
        self.setFocusProxy(self.ways[way].table)

    def show_way(self, way: str) -> None:
        """Show fluxes, pots, moulds or the card of the workshop."""
        self.commit_pending()
        self._show(way)
        self.refresh()

    def refresh(self) -> None:
        """Show the shelf of the bench as it is now."""
        if not self.isVisible():
            return
        shelf = self.bench.work.shelf
        self.step.set_value(shelf.balance_step)
        if not (self.currency.hasFocus() and self.currency.isModified()):
            self.currency.setText(shelf.currency)
            self.currency.setModified(False)
        current = self.ways[self.switch.way]
        current.refresh()
        self.note.set_words(current.note())

    def _take_currency(self) -> None:
        if self.currency.isModified():
            self.currency.setModified(False)
            self.bench.do(edits.set_currency, self.currency.text().strip())

    def explain_here(self) -> bool:
        """Explain what the operator points at."""
        return explain_here(self)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        self.step.commit()
        self._take_currency()
        self.ways[self.switch.way].commit_pending()
