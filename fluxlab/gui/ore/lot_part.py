"""The lot that the concentrate was won from: weights, grades of lot and tailing, what the table got out."""

from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.grade_field import GradeField
from fluxlab.gui.ore.lot_words import grounds, metal_words, ratio_words, recovery_lines
from fluxlab.gui.ore.own_lot import OwnLotPart
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.facts import FactLine, IssueWords
from fluxlab.gui.tables.numbers import exact
from fluxlab.gui.tables.page import GAP
from fluxlab.gui.tables.readers import above_zero
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import NumberField
from fluxlab.gui.widgets.rail_lines import RailLines
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Caption, Words
from fluxlab.ore.ore_types import Grade, Lot, OreType

NOT_TOLD = "Not told. With weights and grades of the lot the recovery on the table can be reckoned."
MOST = 1e9
"""No lot weighs more than this [g]."""
MASSES = {
    "mass": ("Lot, dry", "g", "mass"),
    "concentrate": ("Concentrate, dry", "g", "mass"),
    "sample": ("Sample of the lot", "g", "mass"),
    "top_size": ("Its largest grain", "mm", "length"),
}
GRADES = {
    "silver": "Silver of the lot",
    "tail_silver": "Silver of the tailing",
    "gold": "Gold of the lot",
    "tail_gold": "Gold of the tailing",
}


class LotPart(Section):
    """Empty until the operator tells of a lot."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        self.tell = Button("Tell of a lot", "text")
        self.forget = Button("No lot", "text")
        super().__init__("The lot", "that the concentrate came from", (self.tell, self.forget), parent)
        self._bench = bench
        self.explanation = explanations.LOT
        self.tell.clicked.connect(lambda: bench.do(edits.set_lot, Lot()))
        self.forget.clicked.connect(lambda: bench.do(edits.set_lot, None))
        self.nothing = Words(NOT_TOLD, 13, tone="ink2")
        self.masses = {key: self._mass(key, *how) for key, how in MASSES.items()}
        self.grades = {key: self._grade(key, words) for key, words in GRADES.items()}
        self.card = QWidget(self)
        self.lines = RailLines("From the lot", self.card)
        self.told = Words("", 12, tone="ink2")
        self.issues = IssueWords()
        self.own = OwnLotPart(bench)
        inside = QVBoxLayout(self.card)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(0)
        inside.addLayout(self._weights())
        inside.addLayout(self._assays())
        for part in (self.issues, self.lines):
            inside.addWidget(part)
        inside.addSpacing(4)
        inside.addWidget(self.told)
        inside.addSpacing(8)
        inside.addWidget(self.own)
        self.body.addWidget(self.nothing)
        self.body.addWidget(self.card)

    def _mass(self, key: str, words: str, unit: str, quantity: str) -> NumberField:
        read = reader("mass", hi=MOST) if quantity == "mass" else reader("length")
        field = NumberField(above_zero(read, words), unit, 1, 1.0, may_be_empty=True)
        field.setAccessibleName(words)
        field.setPlaceholderText("not told")
        keep_width(field, 108)
        field.valueEdited.connect(partial(self._weighed, key))
        return field

    def _grade(self, key: str, words: str) -> GradeField:
        field = GradeField(words)
        field.edited.connect(partial(self._assayed, key))
        return field

    def _weights(self) -> QHBoxLayout:
        columns = QHBoxLayout()
        columns.setSpacing(GAP)
        for keys in (("mass", "sample"), ("concentrate", "top_size")):
            column = QVBoxLayout()
            column.setSpacing(0)
            for key in keys:
                column.addWidget(FactLine(MASSES[key][0], self.masses[key]))
            columns.addLayout(column, 1)
        return columns

    def _assays(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setContentsMargins(0, 4, 0, 4)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        for column, words in ((1, "in the lot"), (2, "in the tailing")):
            grid.addWidget(Caption(words), 0, column)
        for row, metal in ((1, "silver"), (2, "gold")):
            grid.addWidget(Caption(metal.capitalize(), "ink"), row, 0)
            grid.addWidget(self.grades[metal], row, 1)
            grid.addWidget(self.grades[f"tail_{metal}"], row, 2)
        grid.setColumnStretch(3, 1)
        return grid

    def show_ore(self, ore: OreType) -> None:
        """Show the lot of an ore, and what the report makes of it."""
        lot, report = ore.lot, self._bench.report
        self.tell.setVisible(lot is None)
        self.forget.setVisible(lot is not None)
        self.nothing.setVisible(lot is None)
        self.card.setVisible(lot is not None)
        if lot is None:
            return
        for key, field in self.masses.items():
            field.set_value(getattr(lot, key))
        for key, grade in self.grades.items():
            grade.show_grade(getattr(lot, key))
        self.issues.show_issues([i for i in report.issues if i.where.startswith("ore.lot")])
        found = report.ore.lot
        lines = () if found is None else recovery_lines(found)
        self.lines.setVisible(bool(lines))
        self.lines.show_lines(lines)
        words = () if found is None else (ratio_words(found), *metal_words(found), grounds(found))
        self.told.set_words("\n".join(line for line in words if line))
        self.told.setVisible(bool(self.told.words))
        self.own.refresh()

    def _weighed(self, key: str, value: float | None) -> None:
        words, unit, _ = MASSES[key]
        said = "not told" if value is None else f"{exact(value)} {unit}"
        self._set(f"{words} {said}", **{key: value})

    def _assayed(self, key: str, grade: Grade | None) -> None:
        said = "unknown" if grade is None else f"{exact(grade.value)} {grade.unit}"
        self._set(f"{GRADES[key]} {said}", **{key: grade})

    def _set(self, label: str, **changes: Any) -> None:
        lot = self._bench.work.recipe.ore.lot or Lot()
        self._bench.do(edits.set_lot, replace(lot, **changes), label)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for field in self.masses.values():
            field.commit()
        for grade in self.grades.values():
            grade.commit()
        self.own.commit_pending()
