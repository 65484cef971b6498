"""The small editor for a recipe's name."""

from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.words import Words


class Rename(Panel):
    """Enter takes the name, Escape leaves the old one."""

    def __init__(self, bench: Bench, window: QWidget) -> None:
        super().__init__("Name of the recipe", window)
        self._bench = bench
        self.body.addWidget(Words("Name of the recipe", 14, bold=True))
        self.field = Field()
        self.field.setMinimumWidth(300)
        self.field.setAccessibleName("Name of the recipe")
        self.field.setText(bench.work.recipe.name)
        self.field.selectAll()
        self.field.returnPressed.connect(self._take)
        self.body.addWidget(self.field)

    def _take(self) -> None:
        name = " ".join(self.field.text().split())
        if name:
            self._bench.do("rename_recipe", name)
        self.shut()
