"""The weights as read: a field for each weighing of the ticket, empty where it was as asked for."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtWidgets import QVBoxLayout, QWidget

from fluxlab.gui.melts.form_fields import FormNumber
from fluxlab.gui.reading import read_mass
from fluxlab.gui.tables.facts import FactLine
from fluxlab.gui.widgets.fields import show_exact
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.melt import Weighing


class WeightsRead(Section):
    """The part of the form; `listen` is told of each field that is made."""

    def __init__(self, listen: Callable[[FormNumber], object], parent: QWidget | None = None) -> None:
        super().__init__("The weights as read", "", (), parent, fold="melts.weights")
        self._listen = listen
        self.fields: list[FormNumber] = []
        self.body.addWidget(Words("An empty field means: as the ticket asked for.", 12, tone="ink2"))
        self._lines = QVBoxLayout()
        self._lines.setSpacing(0)
        self.body.addLayout(self._lines)

    def show_weighings(self, weighed: Sequence[Weighing], step: float) -> None:
        """Make a field for each of these, shown and stepped as a balance of this step [g] does."""
        while (item := self._lines.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.fields = [self._field(weighing, step) for weighing in weighed]
        # made after the rest of the form, they would come last under the Tab key
        for before, field in pairwise((self._title, *self.fields)):
            QWidget.setTabOrder(before, field)

    def _field(self, weighing: Weighing, step: float) -> FormNumber:
        field = FormNumber(read_mass, "g", may_be_empty=True)
        field.reads_to(step)
        field.setPlaceholderText(show_exact(weighing.asked, field.decimals))
        field.set_value(weighing.read)
        self._listen(field)
        self._lines.addWidget(FactLine(weighing.name, field))
        return field
