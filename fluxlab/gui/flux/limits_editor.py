"""The small editor for what a flux row may weigh at least and at most."""

from PySide6.QtWidgets import QGridLayout, QWidget

from fluxlab.design.recipe import Line
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.columns import places_of
from fluxlab.gui.flux.target_editor import CROSSED
from fluxlab.gui.reading import read_mass
from fluxlab.gui.widgets.fields import NumberField, show_number
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Caption, Words


class LimitsEditor(Panel):
    """Changes apply as they are made; an emptied field takes the limit away."""

    def __init__(self, bench: Bench, flux: str, window: QWidget) -> None:
        super().__init__("Limits", window)
        self._bench, self.flux = bench, flux
        line = next(line for line in bench.report.lines if line.flux == flux)
        step = bench.work.shelf.balance_step
        self.setAccessibleName(f"Limits of {line.name}")
        self.body.addWidget(Words(line.name, 14, bold=True))
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(6)
        self._least = self._field("at least", line.name, step)
        self._most = self._field("at most", line.name, step)
        for row, (words, field) in enumerate((("at least", self._least), ("at most", self._most))):
            grid.addWidget(Caption(words, "ink"), row, 0)
            grid.addWidget(field, row, 1)
        self.body.addLayout(grid)
        stock = (
            "The shelf does not count this flux."
            if line.stock is None
            else f"{show_number(line.stock, places_of(step))} g on the shelf end it too."
        )
        self.body.addWidget(Words(stock, 12, tone="ink2", room=240))
        self._least.valueEdited.connect(self._take)
        self._most.valueEdited.connect(self._take)
        bench.changed.connect(self.refresh)
        self.refresh()

    def _field(self, words: str, name: str, step: float) -> NumberField:
        field = NumberField(read_mass, "g", places_of(step), step, may_be_empty=True)
        field.setAccessibleName(f"{name} {words}, grams")
        field.setPlaceholderText("open")
        return field

    def _line(self) -> Line | None:
        return next((line for line in self._bench.work.recipe.lines if line.flux == self.flux), None)

    def _take(self) -> None:
        least, most = self._least.value, self._most.value
        if least is not None and most is not None and least > most:
            self.refresh()
            whisper(self._most, CROSSED)
            return
        self._bench.do("set_limits", self.flux, least, most)

    def refresh(self) -> None:
        """Show the limits as they are now."""
        line = self._line()
        if line is None:
            self.shut()
            return
        self._least.set_value(line.least)
        self._most.set_value(line.most)

    def shut(self, give_back: bool = True) -> None:
        """Take what the fields hold, then close."""
        if not self.isHidden():
            self._least.commit()
            self._most.commit()
        super().shut(give_back)
