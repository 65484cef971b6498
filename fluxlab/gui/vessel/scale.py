"""One scale for pot and mould, and the bar that shows it."""

from PySide6.QtCore import QLineF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.vessel.marks import Word
from fluxlab.gui.widgets import text as type_

BARS = (50.0, 20.0, 10.0)
FINEST, COARSEST = 0.4, 3.0


def common_scale(widths: tuple[float, ...], heights: tuple[float, ...], wide: float, high: float) -> float:
    """The largest scale [px/mm], in steps of a twentieth, at which every width [mm] fits side room and the heights
    [mm] together fit the room [px]; kept between the finest and the coarsest that can be read.
    """
    fits = [wide / width for width in widths if width > 0.0]
    if sum(heights) > 0.0:
        fits.append(high / sum(heights))
    scale = int(20.0 * min(fits, default=1.5)) / 20.0
    return min(max(scale, FINEST), COARSEST)


class ScaleBar(QWidget):
    """A round number of millimetres at the scale of the drawings."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale, self._bar = 1.5, BARS[0]
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def set_scale(self, scale: float, room: float) -> None:
        """Show another scale [px/mm], with the longest bar for which there is room [px]."""
        fits = [bar for bar in BARS if bar * scale + type_.width("50 mm", 13) + 12 <= room]
        bar = fits[0] if fits else BARS[-1]
        if (scale, bar) != (self._scale, self._bar):
            self._scale, self._bar = scale, bar
            self.setAccessibleName(f"Scale bar: {bar:.0f} mm")
            self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        """As long as the bar, with its words."""
        return QSize(round(self._bar * self._scale + type_.width("50 mm", 13) + 12), theme.scaled(24))

    def minimumSizeHint(self) -> QSize:
        """Never cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the bar with ticks at its ends and its middle."""
        t = theme.tokens()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        right, y = self.width() - 1.0, self.height() / 2.0
        length = self._bar * self._scale
        painter.setPen(QPen(t.ink2, 1.4))
        painter.drawLine(QLineF(right - length, y, right, y))
        for part in (0.0, 0.5, 1.0):
            x = right - part * length
            painter.drawLine(QLineF(x, y - 6.0, x, y + 6.0))
        word = Word(f"{self._bar:.0f} mm", 13, False, t.ink2)
        word.draw(painter, right - length - 7.0 - word.width, type_.middle(QRectF(self.rect()), 13))
