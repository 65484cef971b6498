"""The foot of the flux table: a double rule, and what the rows come to."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import Report
from fluxlab.gui import theme
from fluxlab.gui.flux.columns import Col, places_of
from fluxlab.gui.flux.table_view import FluxView
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number


class Total(QWidget):
    """The sum of the fluxes, their ratio to the ore, what stands in the rows besides or the loose volume, the cost."""

    def __init__(self, view: FluxView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.figures = ("", "", "", "")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        view.laid_out.connect(self.update)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, report: Report) -> None:
        """Show the sums of a report."""
        shelf = report.work.shelf
        grams = show_number(report.flux_mass, places_of(shelf.balance_step))
        ratio = "" if report.flux_to_ore is None else f"{show_number(report.flux_to_ore, 2)} : 1"
        loose = f"{show_number(sum(line.loose_volume for line in report.lines), 0)} mL loose"
        cost = "" if report.flux_cost is None else f"{show_number(report.flux_cost, 2)} {shelf.currency}".strip()
        besides = sum(line.grams for line in report.lines) - report.flux_mass
        if besides > 0.5 * shelf.balance_step:
            # reducers, nitre and iron stand in the rows, but are no flux
            loose = f"and {show_number(besides, places_of(shelf.balance_step))} g no flux"
        figures = (grams, ratio, loose, cost)
        if figures != self.figures:
            self.figures = figures
            self.setAccessibleName(
                f"Flux in all {grams} g, flux to ore {ratio}, {loose}" + (f", cost {cost}" if cost else "")
            )
            self.update()

    def sizeHint(self) -> QSize:
        """Double rule and one line."""
        return QSize(400, theme.scaled(44))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rules, then the figures under their columns."""
        painter = QPainter(self)
        t = theme.tokens()
        wide = self.width()
        painter.fillRect(QRectF(0, 2, wide, 2), t.ink)
        painter.fillRect(QRectF(0, 6, wide, 1), t.ink)
        box = QRectF(0, 7, wide, self.height() - 7)
        grams, ratio, loose, cost = self.figures
        right = self._edge(Col.GRAMS) - 10
        base = type_.middle(box, 18, True)
        type_.left(painter, 0, base, "Flux", 14, t.ink, True)
        type_.right(painter, right, base, grams, 18, t.ink, True)
        type_.left(painter, right + 5, base, "g", 13, t.ink2)
        view = self._view
        place = self._edge(Col.SHARE) if not view.isColumnHidden(Col.SHARE) else right + 84
        start = type_.right(
            painter, max(place - 4, right + 24 + type_.width(ratio, 14, True)), base, ratio, 14, t.ink, True
        )
        start += type_.width(ratio, 14, True)
        words = loose
        if cost and not view.isColumnHidden(Col.COST):
            words = f"{loose}, {cost}"
        if start + 10 + type_.width(words, 13) <= wide:
            type_.right(painter, wide, base, words, 13, t.ink2)

    def _edge(self, col: Col) -> float:
        """The right edge of a column [px]."""
        return self._view.columnViewportPosition(col) + self._view.columnWidth(col)
