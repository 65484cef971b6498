"""The three ways to say what a flux is made of: a formula, an analysis, parts of other components."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Literal

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.gui.reading import reader
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.numbers import exact, shown
from fluxlab.gui.tables.pick_list import Item, PickList
from fluxlab.gui.tables.readers import optional
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.issue import Issue
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part

ROW = 30
Loss = Literal["H2O", "CO2", ""]
LOSSES: dict[Loss, str] = {"": "counts as nothing", "H2O": "leaves as water", "CO2": "leaves as carbon dioxide"}
_PERCENT = reader("share")
_PARTS = reader("number")


class FormulaEditor(QWidget):
    """One field; a formula that cannot be read is refused and the old one stays."""

    edited = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = Field(self)
        self.field.setPlaceholderText("Na2B4O7·10H2O")
        self.field.setAccessibleName("Formula")
        self.field.editingFinished.connect(self.commit_pending)
        self._formula = ""
        row = QVBoxLayout(self)
        row.setContentsMargins(0, 6, 0, 6)
        row.addWidget(self.field)

    def show_made_of(self, made_of: ByFormula) -> None:
        """Show a formula; a text being typed is left alone."""
        self._formula = made_of.formula
        if not self.field.isModified():
            self.field.setText(made_of.formula)
            self.field.setModified(False)

    def commit_pending(self) -> None:
        """Take the formula typed."""
        if not self.field.isModified():
            return
        from fluxlab.materials.formulas import read

        text = self.field.text().strip()
        self.field.setModified(False)
        answer = read(text)
        if isinstance(answer, Issue):
            self.field.setText(self._formula)
            whisper(self.field, f"{answer.sentence} {answer.remedy}")
        elif text != self._formula:
            whisper(self.field, "")
            self.edited.emit(ByFormula(text))


class _TableEditor(QWidget):
    """A small table with a button that adds a row and a tool beside it."""

    edited = Signal(object)

    def __init__(self, name: str, add: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = GridView(name, ROW, self, whole=True)
        self.add_button = Button(add, "text", "plus", self)
        self.tools = QHBoxLayout()
        self.tools.setContentsMargins(0, 4, 0, 4)
        self.tools.addWidget(self.add_button)
        self.tools.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view)
        column.addLayout(self.tools)

    def commit_pending(self) -> None:
        """Take what an open cell holds."""
        self.view.commit_pending()


class AnalysisEditor(_TableEditor):
    """Oxides in mass per cent, and what becomes of the part that is missing from 100."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Analysis of the flux", "Oxide", parent)
        self._made_of = ByAnalysis(())
        self.model: GridModel[tuple[str, float]] = GridModel(
            [
                Column("Oxide", lambda r: typeset(r[0]), "name", 110, 1, exact=lambda r: r[0]),
                Column(
                    "Mass %",
                    lambda r: shown(r[1], 2),
                    "value",
                    90,
                    exact=lambda r: exact(r[1]),
                    take=self._take,
                    step=0.5,
                ),
            ],
            key=lambda r: r[0],
            parent=self,
        )
        self.view.show_model(self.model)
        self.view.removed.connect(self._remove)
        self.add_button.clicked.connect(self._pick)
        self.missing = Button("", "text", after="chevron", parent=self)
        self.missing.clicked.connect(self._next_loss)
        self.tools.addWidget(self.missing)

    def show_made_of(self, made_of: ByAnalysis) -> None:
        """Show an analysis."""
        self._made_of = made_of
        self.model.set_rows(made_of.oxides)
        self.missing.set_words(f"The rest {LOSSES[made_of.loss]}")

    def _change(self, made_of: ByAnalysis) -> None:
        self.edited.emit(made_of)

    def _take(self, at: int, row: tuple[str, float], text: str) -> str:
        value = _PERCENT(text)
        if isinstance(value, str):
            return value
        oxides = self._made_of.oxides
        self._change(replace(self._made_of, oxides=(*oxides[:at], (row[0], value), *oxides[at + 1 :])))
        return ""

    def _remove(self, rows: list[int]) -> None:
        kept = tuple(pair for i, pair in enumerate(self._made_of.oxides) if i not in rows)
        self._change(replace(self._made_of, oxides=kept))

    def _next_loss(self) -> None:
        from fluxlab.gui.widgets.menus import Menu

        menu = Menu(self)
        keys = {words: key for key, words in LOSSES.items()}
        menu.choices(
            list(keys), LOSSES[self._made_of.loss], lambda words: self._change(replace(self._made_of, loss=keys[words]))
        )
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.missing.mapToGlobal(self.missing.rect().bottomLeft()))

    def _pick(self) -> None:
        from fluxlab.materials.oxides import OXIDES

        present = {name for name, _ in self._made_of.oxides}
        items = [Item(name, typeset(name), also=name) for name in OXIDES if name not in present]
        picker = PickList("Add an oxide", items, self.window(), many=False)
        picker.picked.connect(self.add)
        picker.open_at(self.add_button)

    def add(self, oxide: str) -> None:
        """Add an oxide, to be given its share."""
        self._change(replace(self._made_of, oxides=(*self._made_of.oxides, (oxide, 0.0))))


class PartsEditor(_TableEditor):
    """Parts of other components in mass parts, each known or as a range."""

    batch_wanted = Signal()

    def __init__(self, lookup: Callable[[str], Component | None], parent: QWidget | None = None) -> None:
        super().__init__("Parts of the jar", "Part", parent)
        self._made_of = ByParts(())
        self._lookup = lookup
        self.offered: Callable[[], tuple[Component, ...]] = tuple
        self.model: GridModel[Part] = GridModel(
            [
                Column("Part of the jar", self._name, "name", 120, 1),
                self._number("Low", "low", "quiet"),
                self._number("Parts", "likely", "value"),
                self._number("High", "high", "quiet"),
            ],
            key=lambda r: r.flux,
            parent=self,
        )
        self.view.show_model(self.model)
        self.view.removed.connect(self._remove)
        self.add_button.clicked.connect(self._pick)
        self.batch = Button("Weigh out a batch", "text", parent=self)
        self.batch.clicked.connect(self.batch_wanted)
        self.tools.addWidget(self.batch, 0, Qt.AlignmentFlag.AlignRight)

    def _number(self, title: str, field: str, look: str) -> Column[Part]:
        read = _PARTS if field == "likely" else optional(_PARTS)

        def take(at: int, row: Part, text: str) -> str:
            value = read(text)
            if isinstance(value, str):
                return value
            changed: dict[str, Any] = {field: value}
            parts = self._made_of.parts
            self.edited.emit(ByParts((*parts[:at], replace(row, **changed), *parts[at + 1 :])))
            return ""

        return Column(
            title, lambda r: shown(getattr(r, field), 1), look, 58,  # type: ignore[arg-type]
            exact=lambda r: exact(getattr(r, field)), take=take, step=1,
            help="In mass parts; leave low and high empty when the mix is known.",
        )  # fmt: skip

    def _name(self, part: Part) -> str:
        found = self._lookup(part.flux)
        return found.name if found else f"{part.flux}, not on the shelf"

    def show_made_of(self, made_of: ByParts) -> None:
        """Show the parts."""
        self._made_of = made_of
        self.model.set_rows(made_of.parts)
        self.model.redraw()
        self.batch.setEnabled(any(part.likely > 0 for part in made_of.parts))

    def _remove(self, rows: list[int]) -> None:
        self.edited.emit(ByParts(tuple(part for i, part in enumerate(self._made_of.parts) if i not in rows)))

    def _pick(self) -> None:
        present = {part.flux for part in self._made_of.parts}
        items = [Item(c.uid, c.name, c.form) for c in self.offered() if c.uid not in present]
        picker = PickList("Add a part", items, self.window(), many=False)
        picker.picked.connect(self.add)
        picker.open_at(self.add_button)

    def add(self, flux: str) -> None:
        """Add a part, one mass part of it until its own is typed."""
        self.edited.emit(ByParts((*self._made_of.parts, Part(flux, 1.0))))
