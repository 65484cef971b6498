"""The section "What holds it": the solver's words, the ways out where targets fight, and the reasons."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.solver_words import SolverWords
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.section import Section


class WhatHoldsIt(Section):
    """Sentences of the solver; "Ways out" and "Why" are worked out only when they are asked for."""

    mended = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        self.ways, self.why = Button("Ways out", "text"), Button("Why", "text")
        self.why.setAccessibleName("Why this recipe")
        super().__init__("What holds it", tools=(self.ways, self.why), parent=parent, fold="words")
        self._bench = bench
        self.words = SolverWords()
        self.body.addWidget(self.words)
        self.ways.clicked.connect(self.show_ways_out)
        self.why.clicked.connect(self.show_reasons)

    def refresh(self) -> None:
        """Show the bench as it is now."""
        report = self._bench.report
        self.words.refresh(report)
        self.ways.set_tone("no" if report.solve.status in ("relaxed", "impossible") else "")

    def show_ways_out(self) -> None:
        """Open the plate of everything that would let the targets hold."""
        self.ways_out_beside(self.ways)

    def ways_out_beside(self, widget: QWidget) -> None:
        """The same beside what asked for it."""
        from fluxlab.gui.flux.asking import ways_out
        from fluxlab.gui.flux.plates import WaysOut

        fighting = self._bench.report.solve.status in ("relaxed", "impossible")
        plate = WaysOut(ways_out(self._bench.work), fighting, self.window())
        plate.mended.connect(self.mended)
        plate.open_at(widget)

    def show_reasons(self) -> None:
        """Open the plate of reasons."""
        from fluxlab.gui.flux.asking import reasons
        from fluxlab.gui.flux.plates import Why

        Why(reasons(self._bench.work), self.window()).open_at(self.why)
