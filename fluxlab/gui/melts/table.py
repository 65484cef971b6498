"""The melt record as a table, the latest melt on top."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFileDialog, QWidget

from fluxlab.gui.export import save_csv
from fluxlab.gui.melts.cells import GlyphDelegate, OverNote
from fluxlab.gui.melts.columns import GOT, RECOVERY, columns, range_words, scale_of, yield_words
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.lines import MeltLine, looks
from fluxlab.gui.tables.model import GridModel, Index
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.segments import Segments
from fluxlab.gui.widgets.whisper import whisper

ROW = 40
NOTES = ("blade = expected, ring = got", "ring = got", "")
"""What the drawing means, in as many words as there is room for; F1 on its column tells all of it."""


class MeltTable(Section):
    """`chosen` tells the line that was chosen, `wanted` that a melt shall be recorded, `scope` whose melts to show."""

    chosen = Signal(object)
    wanted = Signal()
    scope = Signal(str)

    def __init__(self, desk: MeltDesk, parent: QWidget | None = None) -> None:
        self.scopes = Segments("Which melts", [("ore", "This ore"), ("all", "All ores")])
        self.scopes.set_current("ore")
        self.record = Button("Record a melt", "text", "plus")
        super().__init__("Melt record", "", (self.scopes, self.record), parent)
        self._desk = desk
        self._notes_said: tuple[str, ...] = ("",)
        self._words = looks()
        self._groups = groups()
        self.model: GridModel[MeltLine] = GridModel(
            columns(1.0, self._words, self._groups, self._ore_name), key=lambda line: line.melt.uid, parent=self
        )
        self.view = GridView("Melt record", ROW)
        self.view.show_model(self.model)
        # nothing is typed here, so the Tab key leads on to the chosen melt and not through every cell
        self.view.setTabKeyNavigation(False)
        self._glyphs = GlyphDelegate(self.view)
        self.view.setItemDelegateForColumn(0, self._glyphs)
        self._notes = {GOT: OverNote(yield_words, self.view), RECOVERY: OverNote(range_words, self.view)}
        for place, column in enumerate(self.model.columns):
            if column.title in self._notes:
                self.view.setItemDelegateForColumn(place, self._notes[column.title])
        self.view.fill_menu = self._menu
        self.body.addWidget(self.view, 1)
        self.body.addStretch(0)
        self.record.clicked.connect(self.wanted)
        self.scopes.chosen.connect(self.scope)
        self.view.selectionModel().currentRowChanged.connect(self._tell)

    def show_lines(self, lines: Sequence[MeltLine]) -> None:
        """Show these melts, the last recorded first; the chosen one stays chosen."""
        before = self.line
        self.model.set_columns(columns(scale_of(lines), self._words, self._groups, self._ore_name))
        self.model.set_rows(tuple(reversed(lines)))
        count = len(lines)
        self._notes_said = NOTES if count else ("no melts", "")
        self._say_note()
        if before is not None:
            self.choose(before.melt.uid)

    def _say_note(self) -> None:
        self.set_note(next(note for note in self._notes_said if not note or self.has_room_for(note)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say what the drawing means in as many words as there is room for."""
        super().resizeEvent(event)
        self._say_note()

    @property
    def line(self) -> MeltLine | None:
        """The chosen melt."""
        row = self.view.currentIndex().row()
        return self.model.rows[row] if 0 <= row < len(self.model.rows) else None

    def choose(self, uid: str) -> bool:
        """Choose the melt of an entry, or the one that has taken its place; False if it is not shown."""
        for row, line in enumerate(self.model.rows):
            if uid in (line.melt.uid, line.melt.replaces):
                self.view.choose_row(row)
                return True
        return False

    def _tell(self, current: Index, _previous: Index) -> None:
        if current.isValid() and current.row() < len(self.model.rows):
            self.chosen.emit(self.model.rows[current.row()])

    def _ore_name(self, ore: str) -> str:
        return "" if ore == self._desk.ore else self._desk.ore_name(ore)

    def _menu(self, menu: Menu, row: int) -> None:
        menu.entry("Record a melt", self.wanted.emit)
        menu.entry("Export the whole record as CSV…", self.export_csv, enabled=bool(self.model.rows))
        menu.entry("Export the whole record as JSON…", self.export_json, enabled=bool(self.model.rows))
        menu.addSeparator()

    def export_csv(self) -> None:
        """Write every figure of every entry as a table, the keys naming the units."""
        from fluxlab.store.melt_table import melts_table

        record = self._desk.whole_record()
        names = {ore: self._desk.ore_name(ore) for ore in dict.fromkeys(kept.melt.ore for kept in record)}
        save_csv(self, "melt record.csv", melts_table(record, names.__getitem__))

    def export_json(self) -> None:
        """Write every entry as a document that a program can read."""
        from fluxlab.store.files import write_atomic
        from fluxlab.store.melt_document import melts_text
        from fluxlab.store.problem import StoreProblem

        chosen, _ = QFileDialog.getSaveFileName(self, "Export as JSON", "melt record.json", "Documents (*.json)")
        if not chosen:
            return
        try:
            write_atomic(
                Path(chosen), melts_text([kept.melt for kept in self._desk.whole_record()]), "export the melts to"
            )
        except StoreProblem as problem:
            whisper(self, problem.sentence)


def groups() -> dict[str, str]:
    """The group of everything that can be seen, by key."""
    from fluxlab.design.diagnosis import observations

    return {each.key: each.group for each in observations()}
