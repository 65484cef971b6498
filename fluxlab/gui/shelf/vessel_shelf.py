"""Pots or moulds on the shelf: their table, the card of the chosen one, adding and removing."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, QPoint
from PySide6.QtWidgets import QWidget

from fluxlab.design import edits
from fluxlab.design.recipe import Work
from fluxlab.gui.bridge import Bench, Edit
from fluxlab.gui.shelf import naming
from fluxlab.gui.shelf.in_use import crucible_in_use, mould_in_use
from fluxlab.gui.shelf.vessel_card import VesselCard
from fluxlab.gui.shelf.vessel_columns import crucible_columns, mould_columns
from fluxlab.gui.tables.model import Column, GridModel
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.vessel.vessel_types import Crucible, Mould

ROW = 42


@dataclass(frozen=True, slots=True)
class Kind:
    """What differs between pots and moulds."""

    word: str
    words: str
    columns: tuple[Column[Any], ...]
    rows: Callable[[Work], tuple[Any, ...]]
    put: Edit
    remove: Edit
    in_use: Callable[[Work, str], str]
    fresh: Callable[[str, str], Any]


class VesselShelf(QObject):
    """Keeps a table of vessels and the card of the chosen one together."""

    def __init__(self, bench: Bench, kind: Kind, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bench, self._kind = bench, kind
        self.model: GridModel[Any] = GridModel(kind.columns, key=lambda r: r.uid, parent=self)
        self.table = GridView(f"{kind.words.capitalize()} on the shelf, inside measures in millimetres", ROW)
        self.table.show_model(self.model)
        self.table.fill_menu = self._fill_menu
        self.table.removed.connect(self.remove_rows)
        self.table.may_duplicate = True
        self.table.duplicated.connect(lambda row: self.duplicate(self.model.rows[row]))
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._show_current())
        self.card = VesselCard()
        self.card.edited.connect(lambda vessel: bench.do(kind.put, vessel))
        self.add = Button(f"Add {kind.word}", "text", "plus")
        self.add.clicked.connect(self.begin)
        self.tools: tuple[QWidget, ...] = (self.add,)

    def refresh(self) -> None:
        """Show the shelf of the bench."""
        rows = self._kind.rows(self._bench.work)
        self.model.set_rows(rows)
        if not self.table.currentIndex().isValid() and rows:
            self.table.choose_row(0)
        self._show_current()

    def note(self) -> str:
        """How many there are, in words."""
        count = len(self.model.rows)
        if not count:
            return f"No {self._kind.word} on the shelf yet"
        return f"{count} {self._kind.word if count == 1 else self._kind.words}, inside measures in mm"

    def commit_pending(self) -> None:
        """Take what is being typed."""
        self.table.commit_pending()
        self.card.commit_pending()

    def _show_current(self) -> None:
        row = self.table.currentIndex().row()
        self.card.show_vessel(self.model.rows[row] if 0 <= row < len(self.model.rows) else None)

    def _fill_menu(self, menu: Menu, row: int) -> None:
        if not 0 <= row < len(self.model.rows):
            return
        vessel = self.model.rows[row]
        menu.entry("Duplicate", lambda: self.duplicate(vessel), "Ctrl+D")
        menu.entry("Remove from the shelf", lambda: self.remove_rows([row]), "Del")
        menu.addSeparator()

    def begin(self) -> None:
        """Put a vessel of a common size on the shelf, to be measured and corrected."""
        things = self._kind.rows(self._bench.work)
        name = naming.free_name(f"New {self._kind.word}", things)
        self._put(self._kind.fresh(naming.free_uid(name, things), name))
        self.table.setFocus()

    def duplicate(self, vessel: Any) -> None:
        """Put a copy of a vessel on the shelf."""
        self._put(naming.copied(vessel, self._kind.rows(self._bench.work)))

    def _put(self, vessel: Any) -> None:
        self._bench.do(self._kind.put, vessel)
        self.refresh()
        self.table.choose_row([v.uid for v in self.model.rows].index(vessel.uid))

    def remove_rows(self, rows: list[int]) -> None:
        """Take vessels off the shelf; one in use stays, and it is said what needs it."""
        for vessel in [self.model.rows[row] for row in rows]:
            sentence = self._kind.in_use(self._bench.work, vessel.uid)
            if sentence:
                cell = self.table.visualRect(self.model.index(self.model.rows.index(vessel), 0))
                whisper(self.table.viewport(), sentence, cell.bottomLeft() + QPoint(0, 4))
                return
            self._bench.do(self._kind.remove, vessel.uid)
        self.refresh()


def crucible_shelf(bench: Bench) -> VesselShelf:
    """The pots."""
    return VesselShelf(
        bench,
        Kind(
            "pot",
            "pots",
            crucible_columns(bench),
            lambda work: work.shelf.crucibles,
            edits.put_crucible,
            edits.remove_crucible,
            crucible_in_use,
            lambda uid, name: Crucible(uid, name, 30.0, 44.0, 105.0),
        ),
    )


def mould_shelf(bench: Bench) -> VesselShelf:
    """The moulds."""
    return VesselShelf(
        bench,
        Kind(
            "mould",
            "moulds",
            mould_columns(bench),
            lambda work: work.shelf.moulds,
            edits.put_mould,
            edits.remove_mould,
            mould_in_use,
            Mould,
        ),
    )
