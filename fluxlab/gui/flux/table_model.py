"""The flux table as an item model: rows are the report's lines; an edit goes to the bench."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from fluxlab.design.report_types import LineReport
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.columns import COLUMNS, Col, cell_text, places_of
from fluxlab.gui.flux.following import following
from fluxlab.gui.flux.paste import read_weights
from fluxlab.gui.flux.rails import line_rail, shared_top
from fluxlab.gui.reading import read_mass
from fluxlab.gui.tables import tsv
from fluxlab.gui.widgets.fields import decimal_mark, show_exact
from fluxlab.gui.widgets.rail import RailSpec

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()
_CHOSEN = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
_TYPED = _CHOSEN | Qt.ItemFlag.ItemIsEditable


def _changed(old: LineReport, new: LineReport) -> set[Col]:
    """The columns in which two states of a row differ."""
    if old.fixed != new.fixed or old.missing != new.missing:
        return set(Col)
    parts = (
        (Col.WHAT, (old.name, old.form, old.why, old.grams > 0), (new.name, new.form, new.why, new.grams > 0)),
        (Col.GRAMS, old.grams, new.grams),
        (Col.SHARE, old.share, new.share),
        (Col.COST, old.cost, new.cost),
        (Col.LOOSE, old.loose_volume, new.loose_volume),
        (Col.STOCK, old.stock, new.stock),
    )
    return {col for col, was, now in parts if was != now}


class FluxModel(QAbstractTableModel):
    """Rows of the flux table. `refused` carries the sentence for a text that was not taken, and its row."""

    refused = Signal(int, str)

    def __init__(self, bench: Bench, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.lines: tuple[LineReport, ...] = ()
        self.rails: tuple[RailSpec, ...] = ()
        self._rest: dict[str, LineReport] = {}
        self.places = 1
        self.currency = ""
        self.mark = "."

    def refresh(self) -> None:
        """Take over the report; only rows that differ are announced."""
        work, report = self._bench.work, self._bench.report
        hidden = {line.flux for line in work.recipe.lines if line.hidden}
        lines = tuple(line for line in report.lines if line.flux not in hidden)
        look = (places_of(work.shelf.balance_step), work.shelf.currency, decimal_mark())
        if work is self._bench.document.work:
            self._rest = {line.flux: line for line in lines}
        else:
            lines = following(lines, self._rest, look[0])
        top = shared_top(lines)
        rails = tuple(line_rail(line, top, look[0]) for line in lines)
        if [line.flux for line in lines] != [line.flux for line in self.lines]:
            self._swap_rows(lines, rails)
        old, old_rails, old_look = self.lines, self.rails, (self.places, self.currency, self.mark)
        self.lines, self.rails = lines, rails
        self.places, self.currency, self.mark = look
        if look != old_look and lines:
            self.dataChanged.emit(self.index(0, 0), self.index(len(lines) - 1, len(Col) - 1))
            return
        for row, line in enumerate(lines):
            if line is not old[row] and (line != old[row] or rails[row] != old_rails[row]):
                changed = _changed(old[row], line)
                if rails[row] != old_rails[row]:
                    changed.add(Col.RAIL)
                if changed:
                    self.dataChanged.emit(self.index(row, min(changed)), self.index(row, max(changed)))

    def _swap_rows(self, lines: Sequence[LineReport], rails: Sequence[RailSpec]) -> None:
        """Rows that left are removed and rows that came are inserted; a new order is a reset."""
        wanted = [line.flux for line in lines]
        for row in range(len(self.lines) - 1, -1, -1):
            if self.lines[row].flux not in wanted:
                self.beginRemoveRows(_ROOT, row, row)
                self.lines = self.lines[:row] + self.lines[row + 1 :]
                self.rails = self.rails[:row] + self.rails[row + 1 :]
                self.endRemoveRows()
        kept = {line.flux for line in self.lines}
        if [flux for flux in wanted if flux in kept] != [line.flux for line in self.lines]:
            self.beginResetModel()
            self.lines, self.rails = tuple(lines), tuple(rails)
            self.endResetModel()
            return
        for row, line in enumerate(lines):
            if line.flux not in kept:
                self.beginInsertRows(_ROOT, row, row)
                self.lines = (*self.lines[:row], line, *self.lines[row:])
                self.rails = (*self.rails[:row], rails[row], *self.rails[row:])
                self.endInsertRows()

    def rowCount(self, parent: Index = _ROOT) -> int:
        """One row a flux."""
        return 0 if parent.isValid() else len(self.lines)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """All columns, hidden ones too."""
        return 0 if parent.isValid() else len(Col)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Every cell can be chosen; the grams can be typed."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        return _TYPED if index.column() == Col.GRAMS else _CHOSEN

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Text of a cell, its grams as a number, its spoken form."""
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        line, col = self.lines[index.row()], Col(index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            return cell_text(line, col, self.places, self.currency)
        if role == Qt.ItemDataRole.EditRole:
            if col is Col.GRAMS:
                return show_exact(line.grams, self.places) if line.fixed else cell_text(line, col, self.places, "")
            return cell_text(line, col, self.places, self.currency)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            text = cell_text(line, col, self.places, self.currency)
            if col is Col.WHAT:
                return f"{line.name}. {line.why}"
            return f"{line.name}, {COLUMNS[col].name.lower()}: {text}{' g' if col is Col.GRAMS else ''}"
        if role == Qt.ItemDataRole.UserRole and col is Col.GRAMS:
            return line.grams
        if role == Qt.ItemDataRole.ToolTipRole and col is Col.LOCK:
            return "Fixed by you: click to let it free" if line.fixed else "Free: click to fix it at this weight"
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Titles of the columns."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(Col):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return COLUMNS[Col(section)].title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return COLUMNS[Col(section)].name
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Fix a row at a typed weight, free it with an empty text; a refused text changes nothing."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid() or index.column() != Col.GRAMS:
            return False
        words = str(value).strip()
        row = index.row()
        line = self.lines[row]
        if words == str(self.data(index, Qt.ItemDataRole.EditRole)):
            return False
        if not words:
            return self._bench.do("fix_weight", line.flux, None) is not None
        weight = read_mass(words)
        if isinstance(weight, str):
            self.refused.emit(row, weight)
            return False
        return self._bench.do("fix_weight", line.flux, weight) is not None

    def toggle(self, row: int) -> None:
        """Fix a free row at the weight it shows, or free a fixed one."""
        line = self.lines[row]
        self._bench.do("fix_weight", line.flux, None if line.fixed else round(line.grams, self.places))

    def nudge(self, row: int, steps: int) -> None:
        """Change a row by balance steps; it is fixed from then on."""
        line, step = self.lines[row], self._bench.work.shelf.balance_step
        weight = round((round(line.grams / step) + steps) * step, 6)
        if weight >= 0:
            self._bench.do("fix_weight", line.flux, weight)

    def move(self, row: int, step: int) -> None:
        """Move a row up (-1) or down (1)."""
        fluxes = [line.flux for line in self._bench.work.recipe.lines]
        if 0 <= row + step < len(self.lines):
            self._bench.do("move_flux", self.lines[row].flux, fluxes.index(self.lines[row + step].flux))

    def paste(self, text: str, row: int) -> str:
        """Fix rows at pasted weights in one undo step; the sentence about what was not taken, empty when all was."""
        found = read_weights(text, self.lines[row:], self._bench.work.shelf)
        if found.weights:
            self._bench.do("paste_weights", found.weights)
        return found.sentence

    def as_rows(self, rows: Sequence[int], columns: Sequence[Col]) -> list[list[str]]:
        """The rows as plain text under a line of titles, decimal mark of the locale."""
        head = [COLUMNS[col].name for col in columns]
        return [head, *([self._plain(self.lines[row], col) for col in columns] for row in rows)]

    def _plain(self, line: LineReport, col: Col) -> str:
        return cell_text(line, col, self.places, self.currency)

    def as_tsv(self, rows: Sequence[int], columns: Sequence[Col]) -> str:
        """The rows as tab-separated text for a spreadsheet."""
        return tsv.write(self.as_rows(rows, columns))
