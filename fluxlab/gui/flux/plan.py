"""The pour in figures of the operator's own: temperature, hold, mould, what was dried, what scrap is in."""

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.widgets.decision import Choice, Decision
from fluxlab.gui.widgets.fields import Reader
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.words import Caption

DRIED = ("confirmed dry", "not confirmed")
FEEDS = ("all at once", *(f"in {parts} parts" for parts in range(2, 11)))
SCRAP = ("none", "in the charge")


class Plan(QWidget):
    """Two columns of violet figures and choices."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        hot = reader("temperature", 400, 1600, "A pour temperature")
        warm = reader("temperature", 0, 900, "A mould temperature")
        self.pour = self._figure("Pour at", hot, "°C", 10, "set_pour_temperature")
        self.hold = self._figure("Hold", reader("time", 0, 600), "min", 1, "set_hold")
        self.preheat = self._figure("Mould at", warm, "°C", 10, "set_mould_preheat", "not confirmed")
        self.feeds = Choice("Feed", self._feeds_menu, self)
        self.dry = Choice("Charge, flux, pot and mould", self._dry_menu, self)
        self.scrap = Choice("Scrap or unknown pieces", self._scrap_menu, self)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(0)
        pairs = (
            ("Pour at", self.pour),
            ("Hold", self.hold),
            ("Mould at", self.preheat),
            ("Feed", self.feeds),
            ("All dried", self.dry),
            ("Scrap", self.scrap),
        )
        for k, (words, control) in enumerate(pairs):
            cell = QHBoxLayout()
            cell.setSpacing(6)
            cell.addWidget(Caption(words))
            cell.addWidget(control)
            cell.addStretch(1)
            grid.addLayout(cell, k // 2, k % 2)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)

    def _figure(self, name: str, read: Reader, unit: str, step: float, edit: str, empty: str = "") -> Decision:
        made = Decision(name, read, unit, 0, step, may_be_empty=bool(empty), empty=empty, parent=self)
        made.decided.connect(lambda value: self._bench.do(edit, value))
        return made

    def _feeds_menu(self, menu: Menu) -> None:
        menu.choices(list(FEEDS), FEEDS[min(self._bench.work.recipe.feeds, len(FEEDS)) - 1], self._set_feeds)

    def _set_feeds(self, word: str) -> None:
        self._bench.do("set_feeds", FEEDS.index(word) + 1)

    def _dry_menu(self, menu: Menu) -> None:
        menu.choices(list(DRIED), DRIED[not self._bench.work.recipe.dry], self._set_dry)

    def _set_dry(self, word: str) -> None:
        self._bench.do("set_dry", word == DRIED[0])

    def _scrap_menu(self, menu: Menu) -> None:
        menu.choices(list(SCRAP), SCRAP[self._bench.work.recipe.scrap], self._set_scrap)

    def _set_scrap(self, word: str) -> None:
        self._bench.do("set_scrap", word == SCRAP[1])

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "pour"

    def refresh(self) -> None:
        """Show the plan as it is now."""
        recipe = self._bench.work.recipe
        self.pour.set_value(recipe.pour_temperature)
        self.hold.set_value(recipe.hold)
        self.preheat.set_value(recipe.mould_preheat)
        self.feeds.set_words(FEEDS[min(recipe.feeds, len(FEEDS)) - 1])
        self.dry.set_words(DRIED[not recipe.dry])
        self.scrap.set_words(SCRAP[recipe.scrap])

    def commit_pending(self) -> None:
        """Take what an open field holds."""
        for figure in (self.pour, self.hold, self.preheat):
            figure.commit()
