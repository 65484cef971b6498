"""Two axes and the field between them, by pyqtgraph; what stands in the field is painted on a layer of our own."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QGraphicsObject, QStyleOptionGraphicsItem, QWidget

from fluxlab.gui import theme
from fluxlab.gui.charts.scale import Axis, Field
from fluxlab.gui.widgets import text as type_

Draw = Callable[[QPainter, Field], None]
TICK = 5


class Layer(QGraphicsObject):
    """What stands in the field, in px from its upper left corner."""

    def __init__(self, box: Any, draw: Draw, field: Callable[[], Field]) -> None:
        super().__init__(box)
        self._box, self._draw, self._field = box, draw, field
        box.sigResized.connect(self._resized)

    def _resized(self) -> None:
        self.prepareGeometryChange()
        self.update()

    def boundingRect(self) -> QRectF:
        """The whole field."""
        return QRectF(self._box.rect())

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Draw what stands in the field."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw(painter, self._field())


class Plot:
    """The axes. Mouse and keys are left to the chart around it; pyqtgraph is imported here and nowhere else."""

    def __init__(self, parent: QWidget, draw: Draw) -> None:
        import pyqtgraph

        self.view = pyqtgraph.PlotWidget(parent=parent)
        self.view.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        item = self.view.getPlotItem()
        item.setMenuEnabled(False)
        item.hideButtons()
        item.setMouseEnabled(False, False)
        item.layout.setContentsMargins(0, 0, 0, 0)
        self.box = item.getViewBox()
        self.box.setDefaultPadding(0.0)
        self.box.setFlag(QGraphicsItem.GraphicsItemFlag.ItemClipsChildrenToShape, False)
        self._item = item
        self._left, self._below = item.getAxis("left"), item.getAxis("bottom")
        self.x_axis, self.y_axis = Axis(0.0, 1.0), Axis(0.0, 1.0)
        self.layer = Layer(self.box, draw, self.field)
        self.dress()

    def field(self) -> Field:
        """The field as it stands."""
        box = self.box.rect()
        return Field(self.x_axis, self.y_axis, box.width(), box.height())

    def origin(self) -> QPointF:
        """The upper left corner of the field in px of the plot."""
        place = self.view.mapFromScene(self.box.mapToScene(QPointF(0.0, 0.0)))
        return QPointF(place)

    def dress(self) -> None:
        """Take the colours and the type in force."""
        t = theme.tokens()
        self.view.setBackground(t.sheet)
        for axis in (self._left, self._below):
            axis.enableAutoSIPrefix(False)
            axis.setPen(QPen(t.edge, 1))
            axis.setTickPen(QPen(t.edge, 1))
            axis.setTextPen(QPen(t.ink2))
            axis.setStyle(tickLength=TICK, tickTextOffset=3, tickFont=theme.font(12), autoExpandTextSpace=False)
            axis.setStyle(autoReduceTextSpace=False, tickAlpha=255)
        self._left.setStyle(hideOverlappingLabels=False)
        self._make_room()
        self._below.setHeight(theme.scaled(18) + TICK)
        self.layer.update()

    def _make_room(self) -> None:
        """The left axis is as wide as its widest figure, and as wide as for "0.03", so that charts stand in line."""
        widest = max((type_.width(words, 12) for _, words in self.y_axis.ticks), default=0.0)
        self._left.setWidth(max(theme.scaled(31), round(widest) + 4) + TICK)

    def set_axes(self, x_axis: Axis, y_axis: Axis) -> None:
        """Change the axes."""
        if (x_axis, y_axis) == (self.x_axis, self.y_axis):
            return
        self.x_axis, self.y_axis = x_axis, y_axis
        self.box.setRange(
            xRange=(x_axis.even(x_axis.lo), x_axis.even(x_axis.hi)),
            yRange=(y_axis.even(y_axis.lo), y_axis.even(y_axis.hi)),
            padding=0.0,
        )
        for axis, part in ((self._below, x_axis), (self._left, y_axis)):
            axis.setTicks([[(part.even(value), words) for value, words in part.ticks]])
        self._make_room()
        self.layer.update()

    def render(self, painter: QPainter, target: QRectF) -> None:
        """Paint axes and field into a rectangle of another painter."""
        self.view.render(painter, target, self.view.rect())
