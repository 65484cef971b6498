"""A tick that the operator sets: what he decides is violet."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

SIDE = 18


class Tick(QAbstractButton):
    """A box with words; space or a click anywhere on it sets it and takes it back."""

    def __init__(self, words: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setCheckable(True)
        self.setText(words)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """28 px high."""
        return QSize(round(theme.scaled(SIDE) + 8 + type_.width(self.text(), 13, True)) + 9, theme.scaled(28))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw box, tick, words and focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        t = theme.tokens()
        side = float(theme.scaled(SIDE))
        box = QRectF(4.5, (self.height() - side) / 2.0, side, side)
        painter.setPen(QPen(t.hand if self.isChecked() else t.edge, 1.5))
        painter.setBrush(t.hand if self.isChecked() else t.lift)
        painter.drawRoundedRect(box, 3, 3)
        if self.isChecked():
            flat, mitred = Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin
            painter.setPen(QPen(t.onhand, 2.2, Qt.PenStyle.SolidLine, flat, mitred))
            corners = ((0.24, 0.52), (0.43, 0.72), (0.77, 0.29))
            painter.drawPolyline(QPolygonF([QPointF(box.x() + x * side, box.y() + y * side) for x, y in corners]))
        colour = t.hand if self.isChecked() else t.ink
        line = type_.middle(QRectF(self.rect()), 13, True)
        type_.left(painter, box.right() + 8, line, self.text(), 13, colour, self.isChecked())
        if self.hasFocus():
            painter.setPen(QPen(t.hand, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)
