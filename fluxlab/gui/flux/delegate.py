"""How a cell of the flux table is drawn and typed into."""

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from fluxlab.design.report_types import LineReport
from fluxlab.gui import theme
from fluxlab.gui.flux.columns import Col, cell_text, is_nothing
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import Field, show_number
from fluxlab.gui.widgets.icons import draw_icon
from fluxlab.gui.widgets.rail import RailSpec, draw_rail

Index = QModelIndex | QPersistentModelIndex
ROW = 42
NAME_LINE = 17
WHY_LINE = 34
WHY_LEADING = 15
RAIL_INSET = 18


def why_lines(line: LineReport, room: float) -> tuple[str, ...]:
    """The sentence under a flux's name, wrapped to the column."""
    return type_.lines(why_words(line), 12, room)


def why_words(line: LineReport) -> str:
    """The sentence under a flux's name; a fixed row is the operator's own doing."""
    if line.fixed and not line.why:
        return "Fixed by you"
    return line.why


class FluxDelegate(QStyledItemDelegate):
    """Draws each column in the language of the page; only the grams have an editor."""

    def __init__(self, model: FluxModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model
        self._view = parent

    def row_height(self, row: int, room: float) -> int:
        """42 px, and more where the sentence needs a second line."""
        lines = len(why_lines(self._model.lines[row], room))
        return theme.scaled(ROW + WHY_LEADING * max(0, lines - 1))

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Heights are set by the view, which knows the width."""
        return QSize(10, theme.scaled(ROW))

    def draw(self, painter: QPainter, rect: QRect, row: int, col: Col, chosen: bool, current: bool) -> None:
        """Draw one cell over the hairline that parts the rows.

        The view calls this itself: asked through the toolkit's own loop a cell costs twice its drawing in conversions,
        and a change of one weight redraws dozens of them.
        """
        t = theme.tokens()
        line = self._model.lines[row]
        if chosen:
            painter.fillRect(rect, t.pick)
        if row < len(self._model.lines) - 1:
            painter.fillRect(QRect(rect.left(), rect.bottom(), rect.width(), 1), t.rule)
        box = QRectF(rect.left(), rect.top(), rect.width(), theme.scaled(ROW))
        quiet = is_nothing(line, self._model.places) and not line.fixed
        if col is Col.WHAT:
            self._what(painter, box, line, quiet, t)
        elif col is Col.GRAMS:
            self._grams(painter, box, line, quiet, current, t)
            current = False
        elif col is Col.LOCK:
            self._lock(painter, box, line, t)
        elif col is Col.RAIL:
            self._rail(painter, box, line, self._model.rails[row], t)
        else:
            words = cell_text(line, col, self._model.places, self._model.currency)
            type_.right(painter, box.right() - 4, type_.middle(box, 13), words, 13, t.ink3 if quiet else t.ink2)
        if current and col is not Col.WHAT:
            _ring(painter, QRectF(rect).adjusted(2, 5, -2, -6), t)

    def _what(self, painter: QPainter, box: QRectF, line: LineReport, quiet: bool, t: Tokens) -> None:
        name = t.no if line.missing else t.ink3 if quiet else t.ink
        end = type_.left(painter, box.left(), box.top() + theme.scaled(NAME_LINE), line.name, 14, name, True)
        if line.form and end + 6 + type_.width(line.form, 12) < box.right():
            form = type_.with_formulas(line.form)
            type_.left(painter, end + 6, box.top() + theme.scaled(NAME_LINE), form, 12, t.ink3)
        colour = t.hand if line.fixed else t.ink2
        lines = why_lines(line, box.width() - 4)
        type_.paragraph(
            painter,
            box.left(),
            box.top() + theme.scaled(WHY_LINE),
            lines,
            12,
            colour,
            theme.scaled(WHY_LEADING),
        )

    def _grams(self, painter: QPainter, box: QRectF, line: LineReport, quiet: bool, current: bool, t: Tokens) -> None:
        figure = show_number(line.grams, self._model.places)
        right = box.right() - 10
        base = type_.middle(box, 18, True)
        if current:
            painter.save()
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.setBrush(t.lift)
            painter.drawRoundedRect(box.adjusted(1, 5, -1, -5), 3, 3)
            painter.restore()
        colour: QColor = t.hand if line.fixed else t.ink3 if quiet else t.ink
        start = type_.right(painter, right, base, figure, 18, colour, not quiet)
        if line.fixed:
            painter.fillRect(QRectF(start, round(base + 4), right - start, 2), t.hand)

    def _lock(self, painter: QPainter, box: QRectF, line: LineReport, t: Tokens) -> None:
        size = theme.scaled(16)
        place = QRectF(box.center().x() - size / 2, box.center().y() - size / 2, size, size)
        draw_icon(painter, place, "pin" if line.fixed else "dot", t.hand if line.fixed else t.ink3)

    def _rail(self, painter: QPainter, box: QRectF, line: LineReport, spec: RailSpec, t: Tokens) -> None:
        numbers = [(value, t.hand) for value in (line.least, line.most) if value is not None]
        if spec.stop is not None:
            numbers.append((spec.stop, t.ink2))
        tall = theme.scaled(20)
        middle = box.top() + (theme.scaled(16) if numbers else box.height() / 2)
        rail = QRectF(box.left() + RAIL_INSET, middle - tall / 2, box.width() - RAIL_INSET - 4, tall)
        draw_rail(painter, rail, spec, t)
        base = box.top() + theme.scaled(36)
        edge = box.left() + 2
        for value, colour in sorted(numbers, key=lambda pair: pair[0]):
            words = f"{value:.6g}"
            wide = type_.width(words, 12)
            at = rail.left() + rail.width() * min(1.0, max(0.0, value / (spec.hi or 1.0)))
            start = min(max(at - wide / 2, edge), box.right() - wide)
            if start < edge:
                continue
            type_.left(painter, start, base, words, 12, colour)
            edge = start + wide + 6

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """A field in the type of the column."""
        field = Field(parent)
        field.set_type(18, True)
        field.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        field.setAccessibleName(f"{self._model.lines[index.row()].name}, grams")
        return field

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter takes the text at once, so that the next key finds the table as it will be."""
        if not isinstance(watched, QWidget) or not _is_enter(event):
            return super().eventFilter(watched, event)
        self.commitData.emit(watched)
        self.closeEditor.emit(watched, QStyledItemDelegate.EndEditHint.SubmitModelCache)
        return True

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Start from the weight with all its places."""
        if isinstance(editor, Field) and not editor.isModified():
            editor.setText(str(self._model.data(index, Qt.ItemDataRole.EditRole)))
            editor.selectAll()

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        """The field stands where the figure stood."""
        rect: QRect = option.rect
        editor.setGeometry(rect.left() + 1, rect.top() + 5, rect.width() - 2, theme.scaled(ROW) - 10)


def _is_enter(event: QEvent) -> bool:
    enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
    return isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and event.key() in enter


def _ring(painter: QPainter, box: QRectF, t: Tokens) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(t.hand, 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(box, 3, 3)
    painter.restore()
