"""The item model under every table: rows are frozen values, columns know how to show, take and copy a cell."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Any, Generic, Literal, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from fluxlab.gui.widgets.rail import RailSpec

Index = QModelIndex | QPersistentModelIndex
Look = Literal["name", "figure", "value", "quiet", "words", "rail"]
Row = TypeVar("Row")


class Role(IntEnum):
    """What an editor and the clipboard ask of a cell besides its text."""

    LOOK = Qt.ItemDataRole.UserRole + 1
    COPY = Qt.ItemDataRole.UserRole + 2
    CHOICES = Qt.ItemDataRole.UserRole + 3


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """One column of a table whose rows are `Row`.

    `show` writes the cell, `note` its second line, `rail` its drawing, `exact` the text that an editor starts with and
    that is copied (`show` if not given). `take` changes the row on the owner's side and returns the sentence that
    refuses the text, empty when it was taken; a column without it is read-only. `tone` is "", "close", "no" or
    "quiet". `choices` are offered while typing. Up and down in an editor change the number by `step`. `width` is in px
    of the grid, `stretch` the share of what is left over. Where there is no room for all columns those with a `spare`
    are left out, the lowest first. `help`, `formula` and `source` are for F1.
    """

    title: str
    show: Callable[[Row], str]
    look: Look = "words"
    width: int = 80
    stretch: int = 0
    spare: int = 0
    note: Callable[[Row], str] | None = None
    exact: Callable[[Row], str] | None = None
    rail: Callable[[Row], RailSpec | None] | None = None
    take: Callable[[int, Row, str], str] | None = None
    tone: Callable[[Row], str] | None = None
    choices: Callable[[], Sequence[str]] | None = None
    step: float = 0.0
    help: str = ""
    formula: str = ""
    source: str = ""

    @property
    def right(self) -> bool:
        """Figures stand at the right."""
        return self.look in ("figure", "value", "quiet")


class GridModel(QAbstractTableModel, Generic[Row]):
    """A table of frozen rows. `key` tells rows apart, so that a change keeps selection and place."""

    refused = Signal(str)

    def __init__(
        self, columns: Sequence[Column[Row]], key: Callable[[Row], object], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._key = key
        self.rows: tuple[Row, ...] = ()

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows; only what differs is announced."""
        new = tuple(rows)
        old_keys, new_keys = [self._key(r) for r in self.rows], [self._key(r) for r in new]
        head = _common(old_keys, new_keys)
        tail = _common(old_keys[head:][::-1], new_keys[head:][::-1])
        old_end, new_end = len(old_keys) - tail, len(new_keys) - tail
        if old_end > head:
            self.beginRemoveRows(QModelIndex(), head, old_end - 1)
            self.rows = (*self.rows[:head], *self.rows[old_end:])
            self.endRemoveRows()
        if new_end > head:
            self.beginInsertRows(QModelIndex(), head, new_end - 1)
            self.rows = (*self.rows[:head], *new[head:new_end], *self.rows[head:])
            self.endInsertRows()
        before, self.rows = self.rows, new
        for i, (was, now) in enumerate(zip(before, new, strict=True)):
            if was != now:
                self.dataChanged.emit(self.index(i, 0), self.index(i, len(self.columns) - 1))

    def set_columns(self, columns: Sequence[Column[Row]]) -> None:
        """Replace the columns by as many others (a title has changed)."""
        self.columns = tuple(columns)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)
        self.redraw()

    def redraw(self) -> None:
        """Say that every cell may look different (a scale or a unit changed)."""
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, len(self.columns) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of rows."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(self.columns)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Every cell can be chosen, those with a `take` can be edited."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        return flags | Qt.ItemFlag.ItemIsEditable if self.columns[index.column()].take else flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Text, second line, rail, tone and spoken text of a cell."""
        if not index.isValid() or not 0 <= index.row() < len(self.rows):
            return None
        column, row = self.columns[index.column()], self.rows[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return column.show(row)
            case Qt.ItemDataRole.EditRole | Role.COPY:
                return (column.exact or column.show)(row)
            case Qt.ItemDataRole.AccessibleTextRole:
                return self._spoken(column, row)
            case Qt.ItemDataRole.ToolTipRole:
                return column.note(row) if column.note else None
            case Qt.ItemDataRole.WhatsThisRole:
                return column.help or None
            case Role.LOOK:
                return column.look
            case Role.CHOICES:
                return list(column.choices()) if column.choices else None
        return None

    def _spoken(self, column: Column[Row], row: Row) -> str:
        words = [column.title, column.show(row), column.note(row) if column.note else ""]
        return ", ".join(word for word in words if word)

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Hand a typed text to the column; a refused one leaves the row as it is and says why."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        column, row = self.columns[index.column()], self.rows[index.row()]
        if column.take is None or str(value) == (column.exact or column.show)(row):
            return False
        sentence = column.take(index.row(), row, str(value).strip())
        if sentence:
            self.refused.emit(sentence)
        return not sentence

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Titles of the columns."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        match role:
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.AccessibleTextRole:
                return column.title
            case Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignRight if column.right else Qt.AlignmentFlag.AlignLeft
            case Qt.ItemDataRole.ToolTipRole:
                return column.help or None
        return None


def _common(one: Sequence[object], other: Sequence[object]) -> int:
    """How many items two sequences share from the start."""
    shared = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        shared += 1
    return shared
