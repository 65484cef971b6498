"""Own figures of the roast's programme: where the rows come from, how an own figure is checked and set."""

from PySide6.QtWidgets import QWidget

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.own_figures_part import Kind, OwnFigures, Row
from fluxlab.gui.ore import explanations


def _rows(report: Report) -> tuple[Row, ...]:
    roast = report.ore.roast
    return tuple(
        Row(f.key, f.words, f.unit, f.shipped.value, None, f.shipped_source, f.group)
        for f in (() if roast is None else roast.figures)
    )


def _check(work: Work, key: str, value: float) -> str:
    from fluxlab.ore.roast_figure_list import refused_by_roast

    return refused_by_roast(dict(work.recipe.roast.figures), key, value)


KIND = Kind(
    "Own figures of the programme",
    "own programme",
    _rows,
    lambda work: work.recipe.roast.figures,
    _check,
    "set_programme_figure",
)


class OwnProgrammePart(OwnFigures):
    """Steps, speed of burning, clotting and fire, weights and air."""

    explanation = explanations.OWN_PROGRAMME

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(KIND, bench, parent)
        self._on = bench

    def refresh(self) -> None:
        """Show the figures on the bench; where nothing is roasted there are none."""
        self.setVisible(self._on.report.ore.roast is not None)
        super().refresh()
