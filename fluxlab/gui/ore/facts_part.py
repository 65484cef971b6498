"""What the description speaks of and what goes into the pot: stage, moisture, bulk density."""

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.facts import FactLine, IssueWords
from fluxlab.gui.tables.numbers import exact, shown
from fluxlab.gui.tables.page import GAP
from fluxlab.gui.tables.readers import above_zero
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.decision import Choice
from fluxlab.gui.widgets.fields import NumberField
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.ore.ore_types import OreType, Stage

STAGES: dict[Stage, str] = {"ore": "raw ore", "concentrate": "concentrate", "calcine": "calcine"}
WHERE = ("ore.stage", "ore.moisture", "charge")


def stage_called(words: str) -> Stage:
    """The stage of these words."""
    return next(stage for stage, name in STAGES.items() if name == words)


class FactsPart(Section):
    """Four facts in two columns, and what is wrong with them."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("What this speaks of", parent=parent)
        self._bench = bench
        self.explanation = explanations.FACTS
        self.stage = Button("", "text", after="chevron")
        self.stage.clicked.connect(self._open_stages)
        self.feed = Choice("Into the pot goes", self._fill_feeds)
        self.moisture = NumberField(reader("share", hi=99.0), "%", 1, 0.5)
        self.density = NumberField(above_zero(reader("density"), "A density"), "g/cm³", 2, 0.05, may_be_empty=True)
        keep_width(self.moisture, 84)
        keep_width(self.density, 136)
        self.density.setToolTip("Of what goes into the pot: weigh a level cup of 100 cm³ and divide by 100.")
        self.moisture.valueEdited.connect(lambda value: self._set(f"Moisture {exact(value)} %", moisture=value))
        self.density.valueEdited.connect(self._set_density)
        self.issues = IssueWords()
        columns = QHBoxLayout()
        columns.setSpacing(GAP)
        for lines in (
            (FactLine("Described is", self.stage), FactLine("Into the pot goes", self.feed)),
            (FactLine("Moisture", self.moisture), FactLine("Bulk density", self.density)),
        ):
            column = QVBoxLayout()
            column.setSpacing(0)
            for line in lines:
                line.setMinimumHeight(theme.scaled(36))
                column.addWidget(line)
            columns.addLayout(column, 1)
        self.body.addLayout(columns)
        self.body.addWidget(self.issues)

    def show_ore(self, ore: OreType) -> None:
        """Show the facts of an ore and of the recipe on the bench."""
        report = self._bench.report
        self.stage.set_words(STAGES[ore.stage])
        self.stage.setAccessibleName(f"Described is the {STAGES[ore.stage]}")
        self.feed.set_words(STAGES[self._bench.work.recipe.pot_feed])
        self.moisture.set_value(ore.moisture)
        self.density.set_value(ore.bulk_density)
        self.density.setPlaceholderText(f"about {shown(report.ore.bulk_density, 2)}")
        self.issues.show_issues([i for i in report.issues if i.where in WHERE])

    def _set(self, label: str, **changes: Any) -> None:
        self._bench.do(edits.set_ore, replace(self._bench.work.recipe.ore, **changes), label)

    def _set_density(self, value: float | None) -> None:
        words = "estimated" if value is None else f"{exact(value)} g/cm³"
        self._set(f"Bulk density {words}", bulk_density=value)

    def _open_stages(self) -> None:
        menu = Menu(self)
        menu.choices(list(STAGES.values()), self.stage.text(), self.choose_stage)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.stage.mapToGlobal(self.stage.rect().bottomLeft()))

    def choose_stage(self, words: str) -> None:
        """Say what the description and the grades speak of."""
        self._set(f"Described is the {words}", stage=stage_called(words))

    def _fill_feeds(self, menu: Menu) -> None:
        menu.choices(list(STAGES.values()), self.feed.text(), self.choose_feed)

    def choose_feed(self, words: str) -> None:
        """Say what goes into the pot."""
        self._bench.do(edits.set_pot_feed, stage_called(words))

    def commit_pending(self) -> None:
        """Take what is being typed."""
        self.moisture.commit()
        self.density.commit()
