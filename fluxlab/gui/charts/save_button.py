"""The tool at the right of a chart's title that saves or copies it."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QWidget

from fluxlab.gui.widgets.buttons import Button

if TYPE_CHECKING:
    from fluxlab.gui.charts.chart import Chart


class SaveButton(Button):
    """Opens the chart's menu under itself."""

    def __init__(self, chart: "Chart", parent: QWidget | None = None) -> None:
        super().__init__("", "text", "menu", parent)
        name = f"Save or copy: {chart.title.lower()}"
        self.setAccessibleName(name)
        self.setToolTip(name)
        self._chart = chart
        self.clicked.connect(self.open)

    def open(self) -> None:
        """Open the menu."""
        self._chart.menu().popup(self.mapToGlobal(QPoint(0, self.height())))
