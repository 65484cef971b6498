"""The About page: what the program is made of, under which licences, and how to put another toolkit in its place."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from fluxlab import __version__, resources
from fluxlab.design.cautions.standing import standing
from fluxlab.gui import theme
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.menus import scroll_style
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.words import Words

KINDS = {
    "program": "the program",
    "toolkit": "toolkit",
    "font": "font",
    "library": "library",
    "runtime": "language",
    "data": "data and texts",
}
ABOUT = (
    "fluxlab designs the flux for small melts of silver- and gold-bearing ore. Fluidity, melting, button and recovery "
    "are estimates: each is shown with its range, and where nothing can be told it says so. No estimate is an assay. "
    "Hot metal, lead and acid fumes kill: its cautions do not replace training, draught and gear."
)
LIST, TEXT, HIGH = 250, 470, 420


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing that the program stands on."""

    name: str
    kind: str
    used_for: str
    holder: str
    licence: str
    texts: tuple[str, ...]
    address: str = ""
    source: str = ""
    replace: str = ""

    @property
    def facts(self) -> str:
        """What is to be known of it, one fact a line."""
        lines = [f"For {self.used_for}.", f"By {self.holder}.", f"Licence: {self.licence}."]
        lines += [f"Home: {self.address}"] if self.address else []
        lines += [f"Source code: {self.source}"] if self.source else []
        lines += [f"Putting another copy in its place: {self.replace}"] if self.replace else []
        return "\n".join(lines)

    @property
    def licence_text(self) -> str:
        """The whole licence, with the one that it leans on."""
        return "\n\n".join(resources.text(name).strip() for name in self.texts)


def notices() -> tuple[str, tuple[Notice, ...]]:
    """The opening words and the notices, by kind in the order of NOTICE."""
    document = resources.toml("notices.toml")
    found = [_notice(row) for row in document["notice"]]
    order = list(KINDS)
    return " ".join(document["heading"].split()), tuple(sorted(found, key=lambda n: order.index(n.kind)))


def _notice(row: dict[str, Any]) -> Notice:
    return Notice(
        name=row["name"],
        kind=row["kind"],
        used_for=row["used_for"],
        holder=row["holder"],
        licence=row["licence"],
        texts=tuple(row["text"]),
        address=row.get("address", ""),
        source=" ".join(row.get("source", "").split()),
        replace=" ".join(row.get("replace", "").split()),
    )


class AboutPanel(Panel):
    """A list of what the program stands on; the chosen one with its facts and its licence."""

    def __init__(self, window: QWidget) -> None:
        title = f"fluxlab {__version__}"
        super().__init__(title, window)
        heading, found = notices()
        self.model: GridModel[Notice] = GridModel(
            [
                Column(
                    "What it stands on",
                    lambda n: n.name,
                    "name",
                    LIST,
                    1,
                    note=lambda n: f"{KINDS[n.kind]}, {n.licence}",
                )
            ],
            key=lambda n: n.name,
            parent=self,
        )
        self.model.set_rows(found)
        self.list = GridView("What fluxlab stands on", 42, self, titles=False)
        self.list.show_model(self.model)
        self.facts = Words("", 13)
        self.licence = QPlainTextEdit(self)
        self.licence.setReadOnly(True)
        self.licence.setAccessibleName("Licence text")
        self.licence.setFont(theme.font(12))
        self.licence.setFrameShape(QPlainTextEdit.Shape.NoFrame)
        self.licence.setStyleSheet(
            scroll_style() + f"QPlainTextEdit {{ background: {theme.tokens().lift.name()}; border: none; }}"
        )
        high = min(theme.scaled(HIGH), max(160, window.height() - 220))
        room = window.width() - 70
        self.list.setFixedSize(min(theme.scaled(LIST), room // 3), high)
        text = Scroller("Facts and licence", 200)
        text.setFixedSize(min(theme.scaled(TEXT), room - self.list.width()), high)
        self.licence.setMinimumHeight(high * 2 // 3)
        text.body.addWidget(Words(" ".join(standing(nitrate=True)), 12))
        text.body.addSpacing(8)
        text.body.addWidget(self.facts)
        text.body.addSpacing(8)
        text.body.addWidget(self.licence, 1)
        both = QHBoxLayout()
        both.setSpacing(16)
        both.addWidget(self.list, 0, Qt.AlignmentFlag.AlignTop)
        both.addWidget(text)
        top = QVBoxLayout()
        top.addWidget(Words(title, 18, bold=True))
        top.addWidget(Words(ABOUT, 13, room=self.list.width() + text.width() + 16))
        top.addWidget(Words(heading, 12, tone="ink2", room=self.list.width() + text.width() + 16))
        self.body.addLayout(top)
        self.body.addLayout(both)
        self.list.selectionModel().currentRowChanged.connect(lambda *_: self._show())
        self.list.choose_row(0)

    def _show(self) -> None:
        row = self.list.currentIndex().row()
        if 0 <= row < len(self.model.rows):
            notice = self.model.rows[row]
            self.facts.set_words(notice.facts)
            self.licence.setPlainText(notice.licence_text or "No text: facts and works free of rights.")

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the plate with the list ready for the keys."""
        super().open_at(beside, rect)
        self.list.setFocus()
