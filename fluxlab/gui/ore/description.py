"""The description of an ore: one of three tables, its sum, and what an assay is explained by."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.offers import offers
from fluxlab.gui.ore.paste import pasted
from fluxlab.gui.ore.share_columns import Kind, Scale, share_columns
from fluxlab.gui.ore.sum_line import SumLine, parted, sum_words
from fluxlab.gui.tables import tsv
from fluxlab.gui.tables.facts import IssueWords
from fluxlab.gui.tables.model import GridModel
from fluxlab.gui.tables.pick_list import PickList
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words
from fluxlab.ore.ore_types import OreType, Share

ROW = 48
WORDS: dict[Kind, str] = {"minerals": "mineral", "oxides": "oxide", "elements": "element"}
FIRST_SHARE = 1.0
"""Share that a row begins with [mass %], to be typed over."""


class ShareTable(QWidget):
    """The table of one kind of description with its sum and tools."""

    def __init__(self, bench: Bench, kind: Kind, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench, self.kind = bench, kind
        self.scale = Scale()
        self.model: GridModel[Share] = GridModel(
            share_columns(kind, self.scale, self._put), key=lambda r: r.what, parent=self
        )
        self.view = GridView(f"Shares of {kind}, mass per cent", ROW, whole=True)
        self.view.show_model(self.model)
        self.view.removed.connect(self.remove_rows)
        self.view.pasted.connect(self.paste_rows)
        self.view.fill_menu = self._fill_menu
        self.sum = SumLine()
        self.issues = IssueWords()
        word = WORDS[kind]
        self.nothing = Words("Nothing is entered yet.", 13, tone="ink2")
        self.begin = Button("Enter what the ore is made of", "quiet")
        self.begin.clicked.connect(lambda: self.pick(self.begin))
        self.add = Button(word.capitalize(), "text", "plus")
        self.add.setAccessibleName(f"Add {'an' if word[0] in 'aeiou' else 'a'} {word}")
        self.add.clicked.connect(lambda: self.pick(self.add))
        self.take = Button("Remove", "text", "minus")
        self.take.setToolTip("Take the chosen rows out (Del)")
        self.take.clicked.connect(lambda: self.remove_rows(self.view.chosen_rows()))
        self.paste = Button("Paste rows", "text")
        self.paste.setToolTip("From a spreadsheet: name and share, or name, low, likely and high (Ctrl+V)")
        self.paste.clicked.connect(self._paste_clipboard)
        tools = QHBoxLayout()
        tools.setSpacing(6)
        for tool in (self.add, self.take, self.paste):
            tools.addWidget(tool)
        tools.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.nothing)
        column.addWidget(self.begin, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.view)
        column.addWidget(self.sum)
        column.addLayout(tools)
        column.addWidget(self.issues)

    def show_ore(self, ore: OreType) -> None:
        """Show the description of this kind."""
        shares: tuple[Share, ...] = getattr(ore, self.kind)
        before = (self.scale.top, self.scale.places)
        self.scale.fit(shares)
        self.model.set_rows(shares)
        if before != (self.scale.top, self.scale.places):
            self.model.redraw()
        for part in (self.view, self.sum, self.take):
            part.setVisible(bool(shares))
        self.nothing.setVisible(not shares)
        self.begin.setVisible(not shares)
        about, rest = parted(self._bench.report.issues, f"ore.{self.kind}")
        words = sum_words(self.kind, ore.as_is, shares)
        right = self.view.columnViewportPosition(2) + self.view.columnWidth(2) - 6
        total = sum(share.likely for share in shares)
        self.sum.show_sum(total, self.scale.places, words, about.severity if about else None, right)
        self.issues.show_issues(rest if shares else ())

    def commit_pending(self) -> None:
        """Take what an open cell holds."""
        self.view.commit_pending()

    def _put(self, at: int, **changes: Any) -> None:
        share = getattr(self._bench.work.recipe.ore, self.kind)[at]
        self._bench.do(edits.set_share, self.kind, at, replace(share, **changes))

    def pick(self, beside: QWidget) -> None:
        """Open the list of what can be added; it stays open for the next one."""
        picker = PickList(
            f"Add to the {self.kind}", offers(self.kind, self._present()), self.window(), hint="Enter adds, Esc closes"
        )
        picker.picked.connect(lambda key: self._picked(key, picker))
        picker.open_at(beside)

    def _present(self) -> list[str]:
        return [share.what for share in getattr(self._bench.work.recipe.ore, self.kind)]

    def _picked(self, key: str, picker: PickList) -> None:
        self.add_row(key)
        picker.set_items(offers(self.kind, self._present()))

    def add_row(self, what: str) -> None:
        """Add a row with a small share, and make it the current one."""
        known = "by eye" if self.kind == "minerals" else "laboratory"
        self._bench.do(edits.add_share, self.kind, Share(what, FIRST_SHARE, known_from=known))
        self.show_ore(self._bench.work.recipe.ore)
        self.view.setCurrentIndex(self.model.index(len(self.model.rows) - 1, 2))

    def remove_rows(self, rows: list[int]) -> None:
        """Take rows out of the description."""
        for row in sorted(rows, reverse=True):
            self._bench.do(edits.remove_share, self.kind, row)
        self.show_ore(self._bench.work.recipe.ore)

    def _paste_clipboard(self) -> None:
        from PySide6.QtGui import QGuiApplication

        self.paste_rows(tsv.read(QGuiApplication.clipboard().text()))

    def paste_rows(self, rows: list[list[str]]) -> None:
        """Take rows of a spreadsheet over as one undo step, and say what was not understood."""
        current = self.view.currentIndex()
        found = pasted(rows, self.kind, self.model.rows, current.row(), current.column() - 1)
        if found.shares:
            self._bench.do(edits.paste_shares, self.kind, found.shares)
            self.show_ore(self._bench.work.recipe.ore)
        if found.refused:
            more = f" And {len(found.refused) - 2} more." if len(found.refused) > 2 else ""
            whisper(self.paste, " ".join(found.refused[:2]) + more)

    def _fill_menu(self, menu: Menu, row: int) -> None:
        menu.entry("Paste rows", self._paste_clipboard, "Ctrl+V")
        if row >= 0:
            menu.entry("Remove", lambda: self.remove_rows(self.view.chosen_rows()), "Del")
        menu.addSeparator()
