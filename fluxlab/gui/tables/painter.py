"""How a cell looks: name over its second line, bold or quiet figure, words, rail, tick."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from fluxlab.gui import theme
from fluxlab.gui.tables.model import GridModel, Index, Look
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.rail import draw_rail

PAD = 6.0
EDGE, GAP = 6.0, 12.0
"""Room before words at the edge of the table, and before words that follow another column."""
FIGURE = 16.0
FIELD = 36
"""Height of the frame around the cell that has the focus, and of its editor."""


def field_box(cell: QRectF, look: Look = "figure") -> QRectF:
    """Where the frame of a cell stands, and its editor; around a name it leaves room for the second line."""
    high = cell.height() - 5 if look == "name" else min(cell.height() - 4, theme.scaled(FIELD))
    return QRectF(cell.left() + 1, cell.center().y() - high / 2, cell.width() - 2, high)


def paint_ground(
    painter: QPainter, option: QStyleOptionViewItem, look: Look = "figure", typed_in: bool = False
) -> None:
    """Draw what lies under the words of a cell: the ground of the picked row, the hairline, the focus."""
    t, cell, state = theme.tokens(), QRectF(option.rect), option.state
    if state & QStyle.StateFlag.State_Selected:
        painter.fillRect(cell, t.pick)
    painter.fillRect(QRectF(cell.left(), cell.bottom() - 1, cell.width(), 1), t.rule)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if state & QStyle.StateFlag.State_HasFocus:
        painter.setPen(QPen(t.hand, 2))
        painter.setBrush(t.lift if typed_in else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(field_box(cell, look).adjusted(1, 1, -1, -1), 3, 3)


def paint_cell(painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
    """Draw one cell with its ground, hairline and focus."""
    grid = index.model()
    if not isinstance(grid, GridModel) or index.row() >= len(grid.rows):
        return
    column, row = grid.columns[index.column()], grid.rows[index.row()]
    t, cell = theme.tokens(), QRectF(option.rect)
    paint_ground(painter, option, column.look, bool(column.take))
    tone = column.tone(row) if column.tone else ""
    colour = {"close": t.close, "no": t.no, "quiet": t.ink3}.get(tone)
    inner = cell.adjusted(before(index.column()), 0, 0, 0)
    match column.look:
        case "name":
            _name(painter, inner, column.show(row), column.note(row) if column.note else "", colour or t.ink, t)
        case "figure":
            base = type_.middle(cell, FIGURE, True)
            type_.right(painter, cell.right() - PAD, base, column.show(row), FIGURE, colour or t.ink, True)
        case "value":
            base = type_.middle(cell, 14, True)
            type_.right(painter, cell.right() - PAD, base, column.show(row), 14, colour or t.ink, True)
        case "quiet":
            base = type_.middle(cell, 14)
            type_.right(painter, cell.right() - PAD, base, column.show(row), 14, colour or t.ink2)
        case "rail":
            spec = column.rail(row) if column.rail else None
            if spec is not None:
                draw_rail(painter, cell.adjusted(GAP, 6, -PAD, -6), spec, t)
        case "words":
            _words(painter, inner, column.show(row), colour or t.ink2)


def before(column: int) -> float:
    """Room before the words of a column."""
    return GAP if column else EDGE


def _name(painter: QPainter, cell: QRectF, words: str, note: str, colour: QColor, t: Tokens) -> None:
    room = cell.width() - PAD
    left = cell.left()
    size = 14.0
    lines = [words]
    if type_.width(words, size, True) > room:
        # Two lines of name leave no room for the second line; it stays in the tooltip.
        size = next((s for s in (13.0, 12.0) if len(type_.wrap(words, theme.metrics(s, True), room)) <= 2), 12.0)
        lines = type_.wrap(words, theme.metrics(size, True), room)[:2]
        note = "" if len(lines) > 1 else note
    step = theme.scaled(size + 3)
    base = type_.middle(cell, size, True) - step * (len(lines) - 1) / 2 - (theme.scaled(8) if note else 0)
    for line in lines:
        type_.left(painter, left, base, line, size, colour, True)
        base += step
    if note:
        fitting = type_.wrap(note, theme.metrics(12), room)
        type_.left(painter, left, base, fitting[0] + (" …" if len(fitting) > 1 else ""), 12, t.ink2)


def _words(painter: QPainter, cell: QRectF, words: str, colour: QColor) -> None:
    lines = type_.wrap(words, theme.metrics(12), cell.width() - PAD)[:2]
    step = theme.scaled(15)
    base = type_.middle(cell, 12) - step * (len(lines) - 1) / 2
    for line in lines:
        type_.left(painter, cell.left(), base, line, 12, colour)
        base += step
