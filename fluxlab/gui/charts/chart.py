"""A chart on the page: built after the page has been painted, saved and copied from its menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.charts.scale import Axis, Field
from fluxlab.gui.export import save_csv
from fluxlab.gui.tables import tsv
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.menus import Menu

if TYPE_CHECKING:
    from fluxlab.gui.charts.plot import Plot
    from fluxlab.gui.charts.saving import Form

AFTER_PAINT_MS = 40


class Chart(QWidget):
    """Axes with a field. A chart of its kind says what its axes are, draws the field and tells its figures."""

    def __init__(self, title: str, file_name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title, self.file_name = title, file_name
        self.note = ""
        self.plot: Plot | None = None
        self._tall = 237
        self._asked = False
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"{title}: not drawn yet")
        theme.notifier().theme_changed.connect(self._redress)

    # -- what a chart of its kind says ----------------------------------------------------------------------------

    def axes(self) -> tuple[Axis, Axis]:
        """The lower and the left axis."""
        raise NotImplementedError

    def draw(self, painter: QPainter, field: Field) -> None:
        """Draw what stands in the field."""
        raise NotImplementedError

    def as_rows(self) -> list[list[str]]:
        """The figures as plain text under a line of titles."""
        raise NotImplementedError

    def head_height(self) -> int:
        """Room over the plot for what `draw_head` writes [px]."""
        return 0

    def foot_height(self) -> int:
        """Room under the plot for what `draw_head` writes [px]."""
        return 0

    def draw_words(self, painter: QPainter) -> None:
        """Write what stands over and under the plot."""

    # -- building and drawing -------------------------------------------------------------------------------------

    def build(self) -> None:
        """Make the plot, once."""
        from fluxlab.gui.charts.plot import Plot

        if self.plot is None:
            self.plot = Plot(self, self.draw)
            self._place()
            self.redraw()
            self.plot.view.show()

    def _build_soon(self) -> None:
        QTimer.singleShot(AFTER_PAINT_MS, self, self.build)

    def redraw(self) -> None:
        """Draw the figures as they are now."""
        if self.plot is not None:
            self.plot.set_axes(*self.axes())
            self.plot.layer.update()
        self.update()

    def field(self) -> Field | None:
        """The field, None before the plot is built."""
        return None if self.plot is None else self.plot.field()

    def in_field(self, place: QPointF) -> QPointF:
        """A place of the chart in px of the field."""
        if self.plot is None:
            return place
        return place - QPointF(self.plot.view.pos()) - self.plot.origin()

    def at(self, place: QPointF) -> QPointF:
        """A place of the field in px of the chart."""
        if self.plot is None:
            return place
        return place + QPointF(self.plot.view.pos()) + self.plot.origin()

    def set_height(self, tall: int) -> None:
        """Take a height [px]."""
        if tall != self._tall:
            self._tall = tall
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As tall as it was told."""
        return QSize(330, self._tall)

    def minimumSizeHint(self) -> QSize:
        """Narrower than this the axes have no room."""
        return QSize(theme.scaled(200), self._tall)

    def _place(self) -> None:
        if self.plot is not None:
            head, foot = self.head_height(), self.foot_height()
            self.plot.view.setGeometry(0, head, self.width(), max(1, self.height() - head - foot))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the plot out again."""
        self._place()

    def _redress(self) -> None:
        if self.plot is not None:
            self.plot.dress()
            self._place()
        self.redraw()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the words around the plot; the first time, ask for the plot itself."""
        if not self._asked:
            self._asked = True
            # two turns, so that a page that took long to paint is on the screen before the clock begins to run
            QTimer.singleShot(0, self, self._build_soon)
        self.draw_words(QPainter(self))

    def paint_whole(self, painter: QPainter) -> None:
        """Paint title, words and plot as they stand, the title over them."""
        t = theme.tokens()
        head = theme.scaled(28)
        painter.fillRect(QRectF(0, 0, self.width(), self.height() + head), t.sheet)
        end = type_.left(painter, 0, theme.scaled(17), self.title, 14, t.ink, True)
        type_.left(painter, end + 10, theme.scaled(17), self.note, 13, t.ink2)
        painter.save()
        painter.translate(0, head)
        self.draw_words(painter)
        painter.restore()
        if self.plot is not None:
            self.plot.render(painter, QRectF(self.plot.view.geometry()).translated(0, head))

    def picture_size(self) -> QSize:
        """The size of what `paint_whole` paints."""
        return QSize(self.width(), self.height() + theme.scaled(28))

    # -- saving and copying ---------------------------------------------------------------------------------------

    def copy(self) -> None:
        """Put the figures on the clipboard."""
        QGuiApplication.clipboard().setText(tsv.write(self.as_rows()))

    def menu(self) -> Menu:
        """What can be done with the chart."""
        menu = Menu(self)
        menu.entry("Copy the figures", self.copy, "Ctrl+C")
        menu.addSeparator()
        menu.entry("Save as SVG…", lambda: self._save("svg"))
        menu.entry("Save as PNG…", lambda: self._save("png"))
        menu.entry("Save as CSV…", lambda: save_csv(self, f"{self.file_name}.csv", self.as_rows()))
        menu.aboutToHide.connect(menu.deleteLater)
        return menu

    def _save(self, form: Form) -> None:
        from fluxlab.gui.charts.saving import save_picture

        save_picture(self, form)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu."""
        self.menu().popup(event.globalPos())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy by key."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the focus."""
        self.redraw()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the focus is gone."""
        self.redraw()
