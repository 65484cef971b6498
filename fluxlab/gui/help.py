"""The plate that lists the keys."""

from PySide6.QtWidgets import QGridLayout, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words

KEYS = (
    ("Tab, Enter", "right, down in a table"),
    ("↑ ↓ on a weight", "one step of the balance more or less"),
    ("type a weight", "fixes the row; empty it to let it free"),
    ("Space on the dot or pin", "fix at this weight, or free"),
    ("F2, Space on a rail or target", "its limits"),
    ("Alt+↑, Alt+↓", "move a row"),
    ("Ctrl+C, Ctrl+V", "rows to and from a spreadsheet"),
    ("Ctrl+Z, Ctrl+Y", "undo, redo: without end"),
    ("Ctrl+S", "save as the next revision"),
    ("Ctrl+1 … Ctrl+5", "Ore, Flux, Weigh-out, Melts, Shelf"),
    ("Ctrl+N, Ctrl+D", "new ore type, duplicate the recipe"),
    ("Ctrl+E, Ctrl+I", "export, import a file"),
    ("F1", "explains what you point at"),
    ("F10", "the menu"),
)


class KeysPanel(Panel):
    """The keys, in two columns."""

    def __init__(self, window: QWidget) -> None:
        super().__init__("Keys", window)
        self.body.addWidget(Words("Keys", 14, bold=True))
        area = Scroller("Keys", 200)
        area.setMinimumSize(theme.scaled(430), min(theme.scaled(380), window.height() - 120))
        self.body.addWidget(area)
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(4)
        for row, (keys, what) in enumerate(KEYS):
            grid.addWidget(Words(keys, 13, bold=True, room=190), row, 0)
            grid.addWidget(Words(what, 13, tone="ink2", room=220), row, 1)
        grid.setColumnStretch(1, 1)
        area.body.addLayout(grid)
        area.body.addStretch(1)
