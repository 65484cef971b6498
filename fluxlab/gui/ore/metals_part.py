"""Silver and gold: the grade with its unit, the same in grams per tonne, how much is in all, and what carries it."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Literal

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.design.report_types import ShareRow
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.grade_field import GradeField
from fluxlab.gui.ore.offers import silver_items
from fluxlab.gui.tables.facts import IssueWords
from fluxlab.gui.tables.label import Label
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.pick_list import PickList
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.buttons import Button
from fluxlab.issue import Issue, Severity
from fluxlab.ore.ore_types import Grade, OreType, Share

Metal = Literal["silver", "gold"]
WHERE = ("ore.silver", "ore.gold")


def put_in(found: Sequence[ShareRow], listed: Sequence[Share], carrier: str) -> float:
    """How much of a carrier the grade put into the mix beside what was listed [mass %]."""
    if any(share.what == carrier for share in listed):
        return 0.0
    return next((row.percent.value for row in found if row.name == carrier), 0.0)


def _is_told(issue: Issue) -> bool:
    """Whether an issue needs words: a plain note on the carrier is shown by the carrier's own line."""
    return issue.severity is not Severity.NOTE or bool(issue.remedy)


def grams_words(grams: float) -> str:
    """A mass of noble metal in three figures [g]."""
    if grams >= 100:
        return shown(grams, 0)
    if grams >= 10:
        return shown(grams, 1)
    return shown(grams, 2 if grams >= 1 or grams == 0 else 3 if grams >= 0.1 else 4)


def per_tonne(grade: Grade | None) -> str:
    """A grade in g/t, empty when it is unknown or given so."""
    if grade is None or grade.unit == "g/t":
        return ""
    from fluxlab.ore.grade import converted

    value = converted(grade, "g/t").value
    return f"{shown(value, 0 if value >= 100 else 1 if value >= 10 else 2)} g/t"


class _Figures(QWidget):
    """The mass in all over the grade in g/t, flush right."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._per_tonne, self._in_all = "", ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def show_words(self, per_tonne_words: str, in_all: str) -> None:
        """Show both."""
        self._per_tonne, self._in_all = per_tonne_words, in_all
        self.setAccessibleName(f"{in_all} g in all, {per_tonne_words}".rstrip(", "))
        self.update()

    def sizeHint(self) -> QSize:
        """Room for both."""
        return QSize(theme.scaled(110), theme.scaled(46))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write them."""
        painter = QPainter(self)
        t = theme.tokens()
        base = type_.middle(QRectF(0, 0, 1, theme.scaled(28)), 14, True)
        words = type_.right(painter, self.width(), base, "in all", 12, t.ink2)
        unit = type_.right(painter, words - 4, base, "g", 12, t.ink2)
        type_.right(painter, unit - 3, base, self._in_all, 14, t.ink, True)
        type_.right(painter, self.width(), base + theme.scaled(20), self._per_tonne, 12, t.ink2)


class _MetalLine(QWidget):
    """One metal: its grade, under it what carries the part that the minerals do not hold, a hairline below."""

    def __init__(self, metal: Metal, parent: QWidget) -> None:
        super().__init__(parent)
        self.metal = metal
        self.field = GradeField(f"{metal.capitalize()} grade", self)
        self.figures = _Figures(self)
        self.rest = Label("", 12, "ink2")
        self.carrier = Button("", "text", after="chevron", parent=self)
        carried = QHBoxLayout()
        carried.setSpacing(0)
        carried.addWidget(self.rest, 0, Qt.AlignmentFlag.AlignVCenter)
        carried.addWidget(self.carrier)
        carried.addStretch(1)
        left = QVBoxLayout()
        left.setSpacing(0)
        left.addWidget(self.field)
        left.addLayout(carried)
        self._row = QHBoxLayout(self)
        self._row.setSpacing(4)
        self._row.addLayout(left)
        self._row.addWidget(self.figures, 1)
        self._redress()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self._row.setContentsMargins(theme.scaled(46), 3, 0, 2)
        self.update()

    def show_carrier(self, name: str, percent: float) -> None:
        """Show what carries the rest, and how much of the ore that is [mass %]."""
        share = shown(percent, 2 if percent >= 0.1 else 4)
        self.rest.set_words(f"with {share} %" if percent > 0.0 else "the rest as")
        self.carrier.set_words(name)
        self.carrier.setAccessibleName(f"{self.metal.capitalize()} beyond the minerals is {name}")
        self.carrier.setToolTip(f"What the listed minerals do not hold of the {self.metal} is taken to be {name}.")

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the metal's name and draw the hairline."""
        painter = QPainter(self)
        t = theme.tokens()
        base = type_.middle(QRectF(0, 3, 1, self.field.height()), 13)
        type_.left(painter, 0, base, self.metal.capitalize(), 13, t.ink)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), t.rule)


class MetalsPart(QWidget):
    """Both metals and their carriers."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.explanation = explanations.METALS
        self.lines: dict[Metal, _MetalLine] = {"silver": _MetalLine("silver", self), "gold": _MetalLine("gold", self)}
        self.issues = IssueWords()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for metal, line in self.lines.items():
            column.addWidget(line)
            line.field.edited.connect(partial(bench.do, edits.set_grade, metal))
            line.carrier.clicked.connect(partial(self._carrier_clicked, metal))
        column.addWidget(self.issues)

    def show_ore(self, ore: OreType) -> None:
        """Show the grades of an ore and what is in the charge."""
        report = self._bench.report
        in_all = {"silver": report.ore.silver, "gold": report.ore.gold}
        grades: dict[Metal, Grade | None] = {"silver": ore.silver, "gold": ore.gold}
        carriers: dict[Metal, str] = {"silver": ore.silver_carrier, "gold": ore.gold_carrier}
        for metal, line in self.lines.items():
            line.field.show_grade(grades[metal])
            unknown = grades[metal] is None and in_all[metal] == 0.0
            line.figures.show_words(per_tonne(grades[metal]), "–" if unknown else grams_words(in_all[metal]))
            line.show_carrier(carriers[metal], put_in(report.ore.minerals, ore.minerals, carriers[metal]))
        self.issues.show_issues([i for i in report.issues if i.where.startswith(WHERE) and _is_told(i)])

    def _carrier_clicked(self, metal: Metal, _on: bool = False) -> None:
        self.pick_carrier(metal)

    def pick_carrier(self, metal: Metal) -> None:
        """Open the list of minerals that can carry a metal."""
        items = silver_items("Ag" if metal == "silver" else "Au")
        picker = PickList(f"What carries the {metal}", items, self.window(), many=False)
        picker.picked.connect(lambda name: self.set_carrier(metal, name))
        picker.open_at(self.lines[metal].carrier)

    def set_carrier(self, metal: Metal, name: str) -> None:
        """Name the mineral that carries what the listed ones do not hold."""
        ore = self._bench.work.recipe.ore
        changed = replace(ore, silver_carrier=name) if metal == "silver" else replace(ore, gold_carrier=name)
        self._bench.do(edits.set_ore, changed, f"{metal.capitalize()} is carried by {name}")

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for line in self.lines.values():
            line.field.commit()
