"""Cells of the melt record that no other table has."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from fluxlab.gui import theme
from fluxlab.gui.melts.lines import MeltLine
from fluxlab.gui.tables.model import Column, GridModel, Index
from fluxlab.gui.tables.painter import PAD, paint_cell, paint_ground
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import glyph_at

FIGURE, NOTE = 15, 12


def _cell(index: Index) -> tuple[Column[MeltLine], MeltLine] | None:
    grid = index.model()
    if not isinstance(grid, GridModel) or index.row() >= len(grid.rows):
        return None
    return grid.columns[index.column()], grid.rows[index.row()]


class GlyphDelegate(QStyledItemDelegate):
    """The first column: the button glyph of the answer."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw ground and glyph."""
        painter.save()
        paint_cell(painter, option, index)
        found = _cell(index)
        if found is not None:
            cell, size = QRectF(option.rect), theme.scaled(13)
            glyph_at(painter, cell.left() + 6, cell.center().y(), size, found[1].answer, theme.tokens())
        painter.restore()


class OverNote(QStyledItemDelegate):
    """A figure with quiet words on a line below it; without such words the cell is like any other."""

    def __init__(self, words: Callable[[MeltLine], str], parent: QObject) -> None:
        super().__init__(parent)
        self._words = words

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw ground, figure and words."""
        found = _cell(index)
        said = "" if found is None else self._words(found[1])
        painter.save()
        if found is None or not said:
            paint_cell(painter, option, index)
        else:
            paint_ground(painter, option)
            self._write(painter, QRectF(option.rect), *found, said)
        painter.restore()

    def _write(self, painter: QPainter, cell: QRectF, column: Column[MeltLine], line: MeltLine, said: str) -> None:
        t = theme.tokens()
        colour = {"close": t.close, "no": t.no}.get(column.tone(line) if column.tone else "", t.ink)
        base = type_.middle(cell, FIGURE, True) - theme.scaled(8)
        type_.right(painter, cell.right() - PAD, base, column.show(line), FIGURE, colour, True)
        type_.right(painter, cell.right() - PAD, base + theme.scaled(FIGURE + 2), said, NOTE, t.ink2)
