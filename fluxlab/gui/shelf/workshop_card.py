"""What the rules make of the workshop card, and the exposure limits that plans are made with."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.report_types import Answer, Caution
from fluxlab.gui.shelf.workshop_words import RULES
from fluxlab.gui.tables.page import PageColumn
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

QUIET = "Nothing that the card states speaks against this recipe."
PLANNING = "For planning. The law of your place decides; some places are stricter."
_MARKS: dict[str, Answer] = {"block": "no", "warn": "close", "caution": "close"}


class WorkshopCard(PageColumn):
    """The rules that ask the card, as this recipe meets them; the limits folded under them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rules = Section("What the rules make of it", "for this recipe")
        self.limits = Section("Exposure limits", "planning figures", fold="limits")
        self._shown: tuple[tuple[str, str, str], ...] | None = None
        self._entries = QVBoxLayout()
        self._entries.setSpacing(8)
        self.rules.body.addSpacing(4)
        self.rules.body.addLayout(self._entries)
        self.said: list[str] = []
        for part in (self.rules, self.limits):
            self.body.addWidget(part)
            self.body.addSpacing(12)
        self.body.addStretch(1)
        self.limits.set_folded(True)

    def show_cautions(self, cautions: Sequence[Caution]) -> None:
        """Show what of the report rests on the card."""
        self._list_limits()
        wanted = tuple((c.level, c.title, f"{c.sentence} Here: {c.because}.") for c in cautions if c.rule in RULES)
        if wanted == self._shown:
            return
        self._shown = wanted
        self.said = [f"{title}: {words}" for _, title, words in wanted]
        while (item := self._entries.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for level, title, words in wanted:
            self._entries.addWidget(_entry(_MARKS[level], title, words))
        if not wanted:
            self._entries.addWidget(Words(QUIET, 13, tone="ink2"))

    def _list_limits(self) -> None:
        if self.limits.body.count():
            return
        from fluxlab.design.cautions.exposure import exposures

        self.limits.body.addWidget(Words(PLANNING, 13))
        for row in exposures().values():
            self.limits.body.addSpacing(6)
            self.limits.body.addWidget(Words(f"{row.name[:1].upper()}{row.name[1:]}: {row.basis}", 13, bold=True))
            limits = f"NIOSH {row.rel}; OSHA {row.pel}; dangerous at once {row.idlh}"
            other = f"; {row.other}" if row.other else ""
            self.limits.body.addWidget(Words(f"{limits}{other}. {row.source}.", 12, tone="ink2"))


def _entry(mark: Answer, title: str, words: str) -> QWidget:
    entry = QWidget()
    row = QHBoxLayout(entry)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(9)
    row.addWidget(Mark(mark), 0, Qt.AlignmentFlag.AlignTop)
    column = QVBoxLayout()
    column.setSpacing(1)
    column.addWidget(Words(title, 13, bold=True, tone=mark))
    column.addWidget(Words(words, 12, tone="ink2"))
    row.addLayout(column, 1)
    return entry
