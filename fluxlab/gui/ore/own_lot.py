"""Own figures of the lot: where the rows come from, how an own figure is checked and set."""

from PySide6.QtWidgets import QWidget

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.own_figures_part import Kind, OwnFigures, Row
from fluxlab.gui.ore import explanations


def _rows(report: Report) -> tuple[Row, ...]:
    lot = report.ore.lot
    return tuple(
        Row(f.key, f.words, f.unit, f.shipped.value, None, f.shipped_source, f.group)
        for f in (() if lot is None else lot.figures)
    )


def _own(work: Work) -> tuple[tuple[str, float], ...]:
    lot = work.recipe.ore.lot
    return () if lot is None else lot.figures


def _check(work: Work, key: str, value: float) -> str:
    from fluxlab.ore.lot_figures import lot_figures
    from fluxlab.ore.own_figures import refusal

    return refusal(lot_figures(work.recipe.ore), key, value)


KIND = Kind("Own figures of the lot", "own lot", _rows, _own, _check, "set_lot_figure")


class OwnLotPart(OwnFigures):
    """Errors of assays and weights, Gy's factors, and from where on something is said."""

    explanation = explanations.OWN_LOT

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(KIND, bench, parent)
