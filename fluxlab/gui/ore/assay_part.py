"""What an assay is taken for: itself, or the ticked minerals that explain it, with what stays unexplained."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.design.report_types import ShareRow
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.offers import minerals_for
from fluxlab.gui.tables.facts import Figures, IssueWords
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.pick_list import Item, PickList
from fluxlab.gui.tables.switch import Switch
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.rail import RailSpec, nice_top
from fluxlab.gui.widgets.section import Section
from fluxlab.ore.ore_types import OreType, Share

if TYPE_CHECKING:
    from fluxlab.ore.mix_types import Explained

ROW = 40


class AssayPart(Section):
    """Shown for an oxide and an element assay only."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("What the assay is taken for", parent=parent)
        self._bench = bench
        self._top = 1.0
        self.explanation = explanations.RESIDUAL
        self.switch = Switch("Assay taken as", (("minerals", "Minerals that explain it"), ("as it is", "As it is")))
        self.switch.chosen.connect(self._choose)
        self.model: GridModel[ShareRow] = GridModel(
            [
                Column("Ticked mineral", lambda r: r.name, "name", 170, 2, note=_formula),
                Column("Share found", self._range, "rail", 140, 2, rail=self._rail),
                Column("%", lambda r: shown(r.percent.value, 1), "value", 64),
            ],
            key=lambda r: r.name,
            parent=self,
        )
        self.view = GridView("Ticked minerals", ROW, whole=True)
        self.view.show_model(self.model)
        self.view.removed.connect(self.untick_rows)
        self.add = Button("Tick minerals", "text", "plus")
        self.add.clicked.connect(self.pick)
        self.take = Button("Remove", "text", "minus")
        self.take.clicked.connect(lambda: self.untick_rows(self.view.chosen_rows()))
        self.residual = Figures("Not explained")
        self.issues = IssueWords()
        self.body.addSpacing(4)
        self.body.addWidget(self.switch, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addSpacing(4)
        self.body.addWidget(self.view)
        tools = QHBoxLayout()
        tools.setSpacing(6)
        tools.addWidget(self.add)
        tools.addWidget(self.take)
        tools.addStretch(1)
        self.body.addLayout(tools)
        self.body.addWidget(self.residual)
        self.body.addWidget(self.issues)

    def show_ore(self, ore: OreType) -> None:
        """Show what the assay of an ore is taken for."""
        report = self._bench.report
        self.switch.set_way("as it is" if ore.as_is else "minerals")
        rows = () if ore.as_is else ticked_rows(ore.ticked, report.ore.minerals)
        before = self._top
        self._top = nice_top(max([row.percent.high or row.percent.value for row in rows], default=1.0))
        self.model.set_rows(rows)
        if before != self._top:
            self.model.redraw()
        self.view.setVisible(bool(rows))
        self.add.setVisible(not ore.as_is)
        self.take.setVisible(bool(rows))
        self.residual.set_lines([] if ore.as_is else residual_lines(report.ore.residual_percent, self._explained(ore)))
        self.issues.show_issues([i for i in report.issues if i.where == "ore.ticked"])

    @staticmethod
    def _explained(ore: OreType) -> "tuple[Explained, ...]":
        from fluxlab.ore.analysis import mix

        return mix(ore).explained

    def _range(self, row: ShareRow) -> str:
        low, high = row.percent.low, row.percent.high
        return "" if low is None or high is None else f"{shown(low, 1)} to {shown(high, 1)}"

    def _rail(self, row: ShareRow) -> RailSpec:
        low, high = row.percent.low, row.percent.high
        likely = None if low is None or high is None else (low, high)
        return RailSpec(0.0, self._top, value=row.percent.value, likely=likely)

    def _choose(self, way: str) -> None:
        as_is = way == "as it is"
        ore = replace(self._bench.work.recipe.ore, as_is=as_is)
        self._bench.do(edits.set_ore, ore, "Assay as it is" if as_is else "Assay explained by minerals")

    def pick(self) -> None:
        """Open the list of minerals; it stays open for the next one."""
        picker = PickList("Tick minerals", self._offers(), self.window(), hint="Enter ticks, Esc closes")
        picker.picked.connect(lambda key: self._picked(key, picker))
        picker.open_at(self.add)

    def _offers(self) -> list[Item]:
        ore = self._bench.work.recipe.ore
        return minerals_for(assayed_elements(ore), ore.ticked)

    def _picked(self, key: str, picker: PickList) -> None:
        self._bench.do(edits.tick_mineral, key, True)
        picker.set_items(self._offers())

    def untick_rows(self, rows: Sequence[int]) -> None:
        """Take minerals out of those that may explain the assay."""
        for name in [self.model.rows[row].name for row in rows]:
            if name in self._bench.work.recipe.ore.ticked:
                self._bench.do(edits.tick_mineral, name, False)

    def commit_pending(self) -> None:
        """Nothing is typed here."""


def assayed_elements(ore: OreType) -> set[str]:
    """Elements of which the assay that counts says something, oxygen aside."""
    from fluxlab.issue import Issue
    from fluxlab.materials.formulas import read

    shares: tuple[Share, ...] = getattr(ore, ore.known_by)
    found = [read(share.what) for share in shares]
    return {symbol for f in found if not isinstance(f, Issue) for symbol in f.atoms if symbol != "O"}


def ticked_rows(ticked: Sequence[str], found: Sequence[ShareRow]) -> tuple[ShareRow, ...]:
    """The ticked minerals with the share found for each, and what the grades added, by falling share."""
    from fluxlab.design.report_types import Amount

    by_name = {row.name: row for row in found}
    nothing = [ShareRow(name, Amount(0.0), 0.0) for name in ticked if name not in by_name]
    return (*sorted(by_name.values(), key=lambda row: -row.percent.value), *nothing)


def residual_lines(residual: float | None, explained: "Sequence[Explained]") -> list[tuple[str, str, str]]:
    """The residual and the elements that make it, the worst first."""
    if residual is None:
        return []
    worst = sorted(explained, key=lambda e: -abs(e.assayed - e.explained))[:3]
    lines = [("Not explained by these minerals", shown(residual, 1), "%")]
    lines += [
        (
            f"{e.element}: assayed {shown(e.assayed, 1)} %, explained {shown(e.explained, 1)} %",
            shown(e.explained - e.assayed, 1),
            "%",
        )
        for e in worst
        if abs(e.assayed - e.explained) >= 0.05
    ]
    return lines


def _formula(row: ShareRow) -> str:
    from fluxlab.materials.minerals import minerals

    found = minerals().get(row.name)
    return typeset(found.formula) if found else ""
