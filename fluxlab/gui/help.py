"""Help plates: the keys, and what the program is made of."""

from PySide6.QtWidgets import QGridLayout, QWidget

from fluxlab import __version__
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
ABOUT = (
    "fluxlab designs the flux for small melts of silver- and gold-bearing ore.",
    "It works by ratios from the books and by mass balance. It predicts no fluidity, no melting point and no recovery "
    "yet, and says so where you would look for them. Figures without a source are marked as a judgement.",
    "Hot metal, lead and acid fumes kill. The cautions of this program do not replace training, draught and gear.",
)
LICENCES = (
    ("fluxlab", "MIT licence"),
    ("Qt for Python (PySide6)", "LGPL 3; its libraries lie in the program's Python environment and may be replaced"),
    ("B612, the typeface", "SIL Open Font Licence 1.1"),
    ("daqp, the solver's kernel", "MIT licence"),
    ("numpy", "BSD 3-clause licence"),
    ("pint", "BSD 3-clause licence"),
    ("pyqtgraph", "MIT licence"),
    ("periodictable", "public domain and BSD"),
)


class HelpPanel(Panel):
    """The plate for "keys" or "about"."""

    def __init__(self, page: str, window: QWidget) -> None:
        title = "Keys" if page == "keys" else f"fluxlab {__version__}"
        super().__init__(title, window)
        self.body.addWidget(Words(title, 14, bold=True))
        area = Scroller(title, 200)
        area.setMinimumSize(430, min(430, window.height() - 120))
        self.body.addWidget(area)
        if page != "keys":
            for sentence in ABOUT:
                area.body.addWidget(Words(sentence, 13, room=410))
                area.body.addSpacing(6)
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(4)
        for row, (left, right) in enumerate(KEYS if page == "keys" else LICENCES):
            grid.addWidget(Words(left, 13, bold=True, room=170), row, 0)
            grid.addWidget(Words(right, 13, tone="ink2", room=230), row, 1)
        grid.setColumnStretch(1, 1)
        area.body.addLayout(grid)
        area.body.addStretch(1)
