"""The section "Fluidity" of the Flux place: the chart on the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.fluid_words import Saved
from fluxlab.gui.charts.fluidity import FluidityChart
from fluxlab.gui.charts.save_button import SaveButton
from fluxlab.gui.widgets.section import Section

if TYPE_CHECKING:
    from fluxlab.design.fluid_types import FluidReport
    from fluxlab.design.report_types import Report

NOTE = "Pa·s over °C, band = 9 in 10"
DOUBT = "Pa·s over °C, low confidence"
EDIT = "set_pour_temperature"


def fluid_of(report: Report) -> FluidReport | None:
    """What a report says of the melt as a liquid; nothing while the ore is not described, as flux alone is no melt."""
    return report.fluid if ore_known(report) else None


def ore_known(report: Report) -> bool:
    """Whether anything is told of what the ore is made of."""
    ore = report.work.recipe.ore
    return bool({"minerals": ore.minerals, "oxides": ore.oxides, "elements": ore.elements}[ore.known_by])


class Fluidity(Section):
    """Drag the pour line, or move it by the arrow keys: the recipe's pour temperature follows."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        self.chart = FluidityChart()
        super().__init__("Fluidity", NOTE, (SaveButton(self.chart),), parent, "fluidity")
        self._bench = bench
        self.body.addWidget(self.chart)
        self.chart.tried.connect(lambda celsius: bench.try_out(EDIT, celsius))
        self.chart.poured.connect(lambda celsius: bench.do(EDIT, celsius))
        self.chart.dropped.connect(bench.drop_trial)
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._compare)

    def refresh(self) -> None:
        """Show the bench as it is now; the saved revision is looked at when everything else is drawn."""
        fluid = fluid_of(self._bench.report)
        doubted = fluid is not None and fluid.confidence == "low"
        self.set_note(DOUBT if doubted else NOTE)
        self.chart.note = DOUBT if doubted else NOTE
        saved = self.chart.saved
        if self._differs():
            self._soon.start()
        else:
            saved = None
        self.chart.show_fluid(fluid, saved)

    def _differs(self) -> bool:
        saved = self._bench.document.saved
        return saved is not None and saved.recipe != self._bench.work.recipe

    def _compare(self) -> None:
        report = self._bench.saved_report
        fluid = None if report is None else fluid_of(report)
        saved = None
        if fluid is not None and fluid.at_pour is not None:
            number = self._bench.revision
            words = "as saved" if number is None else f"revision {number}"
            saved = Saved(words, fluid.pour, fluid.at_pour.value)
        self.chart.show_fluid(self.chart.fluid, saved)
