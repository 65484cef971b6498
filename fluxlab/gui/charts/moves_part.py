"""The section "What moves it": the bars, the melt in figures, and the crystals to be wary of."""

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QWidget

from fluxlab.design.fluid_types import Crystal, FluidReport
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.fluid_words import sentence
from fluxlab.gui.charts.fluidity_part import fluid_of
from fluxlab.gui.charts.melt_figures import MeltFigures
from fluxlab.gui.charts.moves import Moves
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words


class Crystals(Words):
    """Crystals that are likely, each a sentence; a judgement is called one."""

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "crystals"


def crystal_words(crystal: Crystal) -> str:
    """What is likely to crystallise and below which temperatures, and what says so."""
    ends = f"{show_number(crystal.low, 0)} and {show_number(crystal.high, 0)} °C"
    said = f"{crystal.name} likely below some temperature between {ends}: {crystal.sentence.rstrip('.')}."
    stands = "A judgement, nothing measured stands behind it" if crystal.judgement else f"From {crystal.source}"
    return f"{said} {stands}."


class WhatMovesIt(Section):
    """Why the slag is as it is: what each flux and each oxide of the ore does to it."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("What moves it", parent=parent, fold="moves")
        self._bench = bench
        self.moves, self.figures = Moves(), MeltFigures()
        self.crystals, self.none = Crystals("", 12), Words("", 13, tone="ink2")
        self.body.setSpacing(6)
        for part in (self.none, self.moves, self.figures, self.crystals):
            self.body.addWidget(part)

    def refresh(self) -> None:
        """Show the bench as it is now."""
        self.show_fluid(fluid_of(self._bench.report))

    def show_fluid(self, fluid: FluidReport | None) -> None:
        """Show the melt as a liquid."""
        moves = () if fluid is None else fluid.moves
        self.moves.refresh(moves)
        self.figures.refresh(fluid)
        crystals = () if fluid is None else fluid.crystals
        self.crystals.set_words("\n".join(crystal_words(crystal) for crystal in crystals))
        self.none.set_words("" if moves or self.figures.rows else sentence(fluid))
        for part, shown in (
            (self.moves, bool(moves)),
            (self.figures, bool(self.figures.rows)),
            (self.crystals, bool(crystals)),
            (self.none, bool(self.none.words)),
        ):
            part.setVisible(shown)
