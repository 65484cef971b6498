"""A switch of a few ways, one of them on: the chosen one solid, the others outlined, side by side."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_

PAD = 13


class Switch(QWidget):
    """The switch. `chosen` carries the key of the way that was chosen by hand."""

    chosen = Signal(str)

    def __init__(self, name: str, ways: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._ways = name, tuple(ways)
        self.way = self._ways[0][0]
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._say()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def set_way(self, key: str) -> None:
        """Show which way is on."""
        if key != self.way:
            self.way = key
            self._say()
            self.update()

    def _say(self) -> None:
        others = [words for key, words in self._ways if key != self.way]
        self.setAccessibleName(f"{self._name}: {dict(self._ways)[self.way]}")
        self.setAccessibleDescription(f"Left and right choose; the others are {', '.join(others)}")

    def _choose(self, key: str) -> None:
        if key != self.way:
            self.set_way(key)
            self.chosen.emit(key)

    def _spans(self) -> list[tuple[float, float]]:
        spans, x = [], 0.0
        for _, words in self._ways:
            # Room for the bold form, so that nothing moves when another way is chosen.
            wide = round(type_.width(words, 13, True)) + 2 * PAD
            spans.append((x, x + wide))
            x += wide
        return spans

    def sizeHint(self) -> QSize:
        """30 px high."""
        return QSize(round(self._spans()[-1][1]) + 1, theme.scaled(30))

    def minimumSizeHint(self) -> QSize:
        """Words are never cut."""
        return self.sizeHint()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click chooses."""
        for (key, _), (start, end) in zip(self._ways, self._spans(), strict=True):
            if start <= event.position().x() < end:
                self._choose(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right choose the neighbour."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        keys = [key for key, _ in self._ways]
        self._choose(keys[max(0, min(len(keys) - 1, keys.index(self.way) + step))])

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ways."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        t = theme.tokens()
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        outline = QPainterPath()
        outline.addRoundedRect(box, 3, 3)
        painter.fillPath(outline, t.lift)
        painter.save()
        painter.setClipPath(outline)
        for i, ((key, words), (start, end)) in enumerate(zip(self._ways, self._spans(), strict=True)):
            on = key == self.way
            part = QRectF(start, 0, end - start, self.height())
            if on:
                painter.fillRect(part.adjusted(0, 0, 1, 0), t.solid)
            if i:
                painter.fillRect(QRectF(start, 0, 1, self.height()), t.edge)
            type_.centred(painter, part.center().x(), type_.middle(part, 13), words, 13, t.sheet if on else t.ink, on)
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(t.edge, 1))
        painter.drawPath(outline)
        if self.hasFocus():
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)
