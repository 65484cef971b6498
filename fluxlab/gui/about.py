"""The About plate: what the program is, whose work it stands on, and every licence in full."""

from dataclasses import dataclass
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from fluxlab import __version__, resources
from fluxlab.gui import theme
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.menus import scroll_style
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words

ABOUT = (
    "fluxlab designs the flux for small melts of silver- and gold-bearing ore.",
    "It works by ratios from the books and by mass balance. It predicts no fluidity, no melting point and no recovery "
    "yet, and says so where you would look for them. Figures without a source are marked as a judgement.",
    "Hot metal, lead and acid fumes kill. The cautions of this program do not replace training, draught and gear.",
)
LEFT, RIGHT = 400, 560


@dataclass(frozen=True, slots=True)
class Entry:
    """One work that the program stands on."""

    name: str
    lines: tuple[str, ...]
    texts: tuple[str, ...]


def entries() -> tuple[Entry, ...]:
    """The works, in the order of the notices."""
    return tuple(_entry(found) for found in resources.toml("notices.toml")["notice"])


def _entry(found: dict[str, Any]) -> Entry:
    lines = [f"For {found['used_for']}.", f"By {found['holder']}. Licence: {found['licence']}."]
    if found.get("address"):
        lines.append(found["address"])
    if found.get("source"):
        lines.append(f"Source code: {found['source']}")
    if found.get("replace"):
        lines.append(f"Putting another copy in its place: {' '.join(found['replace'].split())}")
    return Entry(found["name"], tuple(lines), tuple(found.get("text", ())))


class About(Panel):
    """The works at the left, the licence asked for at the right."""

    def __init__(self, window: QWidget) -> None:
        super().__init__("About fluxlab", window)
        self.body.addWidget(Words(f"fluxlab {__version__}", 14, bold=True))
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setFrameShape(QPlainTextEdit.Shape.NoFrame)
        self.text.setFont(theme.font(12))
        self.text.setStyleSheet(scroll_style())
        self.text.setAccessibleName("Licence text")
        self.left = Scroller("Works and licences", 200)
        for sentence in ABOUT:
            self.left.body.addWidget(Words(sentence, 13))
            self.left.body.addSpacing(6)
        for entry in entries():
            self.left.body.addLayout(self._block(entry))
        row = QHBoxLayout()
        row.setSpacing(18)
        row.addWidget(self.left)
        row.addWidget(self.text)
        self.body.addLayout(row, 1)
        half, tall = window.width() // 2 - 40, max(200, window.height() - theme.scaled(130))
        self.left.setFixedSize(min(theme.scaled(LEFT), half), tall)
        self.text.setFixedSize(min(theme.scaled(RIGHT), half), tall)
        self.show_text("licences/fluxlab.txt")

    def _block(self, entry: Entry) -> QVBoxLayout:
        block = QVBoxLayout()
        block.setSpacing(1)
        block.addSpacing(8)
        block.addWidget(Words(entry.name, 13, bold=True))
        for line in entry.lines:
            block.addWidget(Words(line, 12, tone="ink2"))
        buttons = QHBoxLayout()
        for name in entry.texts:
            short = name.removeprefix("licences/").removesuffix(".txt")
            button = Button(f"Read {short}" if len(entry.texts) > 1 else "Read the licence", "text")
            button.setAccessibleName(f"Licence of {entry.name}: {name}")
            button.clicked.connect(partial(self.show_text, name))
            buttons.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        buttons.addStretch(1)
        block.addLayout(buttons)
        return block

    def show_text(self, name: str, _checked: bool = False) -> None:
        """Show a packaged licence text."""
        self.text.setPlainText(resources.text(name))
