"""The band at the left: the place switcher, drawn as the mass balance of the job."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.run.facts import STOPS, RunFacts, StopFacts
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import glyph_at

WIDTH = 140
BAND_LEFT = 14
BAND_WIDTH = 25.0
LABEL_LEFT = 50
SHARES = (115.0, 127.0, 115.0, 127.0)
TALL = 724.0


class Stop(QAbstractButton):
    """One place of the run: a name and its live fact."""

    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.name = name
        self.facts = StopFacts()
        self.setText(name)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def set_facts(self, facts: StopFacts) -> None:
        """Show the live fact; nothing happens when it is the same."""
        if facts != self.facts:
            self.facts = facts
            self.setAccessibleDescription(", ".join(part for part in (facts.first, facts.second) if part))
            self.update()

    def sizeHint(self) -> QSize:
        """The run lays its stops out itself."""
        return QSize(theme.scaled(WIDTH), theme.scaled(60))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the name and what fits of the fact."""
        painter = QPainter(self)
        t = theme.tokens()
        x = theme.scaled(LABEL_LEFT)
        tight = self.height() < theme.scaled(96)
        y = theme.scaled(18 if tight else 30)
        type_.left(painter, x, y, self.name, 15, t.ink, True)
        y += theme.scaled(18 if tight else 20)
        type_.left(painter, x, y, self.facts.first, 13, t.ink)
        y += theme.scaled(16 if tight else 18)
        if self.facts.second and y < self.height() + 2:
            type_.left(painter, x, y, self.facts.second, 12, t.ink2)
        y += theme.scaled(14)
        if self.facts.answers and y + theme.scaled(12) <= self.height():
            size = theme.scaled(11)
            for k, answer in enumerate(self.facts.answers):
                glyph_at(painter, x + k * theme.scaled(16), y + size / 2, size, answer, t)
        if self.hasFocus():
            painter.setPen(QPen(t.hand, 2))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(3, 3, -4, -3), 3, 3)


class Run(QWidget):
    """The five stops and the band behind them, its width to scale in grams."""

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Places")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.facts: RunFacts | None = None
        self.stops = {name: Stop(name, self) for name in STOPS}
        for name, stop in self.stops.items():
            stop.clicked.connect(lambda _=False, name=name: self.chosen.emit(name))
        theme.notifier().theme_changed.connect(self._redress)

    def set_current(self, name: str) -> None:
        """Mark the place that is open."""
        self.stops[name].setChecked(True)
        self.update()

    def set_facts(self, facts: RunFacts) -> None:
        """Show the masses and facts of the job."""
        if facts == self.facts:
            return
        if self.facts is None or _drawn(facts) != _drawn(self.facts):
            self.update()
        self.facts = facts
        for name, stop_facts in zip(STOPS, facts.stops, strict=True):
            self.stops[name].set_facts(stop_facts)

    def _redress(self) -> None:
        self._place()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give each stop its share of the height."""
        self._place()

    def _place(self) -> None:
        factor = min(1.0, self.height() / TALL) if theme.text_size() == 100 else self.height() / TALL
        factor = max(factor, theme.scaled(62) / 127)
        y = 20.0 * min(1.0, factor)
        for name, share in zip(STOPS, SHARES, strict=False):
            self.stops[name].setGeometry(0, round(y), self.width(), round(y + share * factor) - round(y))
            y += share * factor
        tall = round(max(theme.scaled(62), min(126.0, self.height() - y)))
        self.stops["Shelf"].setGeometry(0, max(round(y), self.height() - tall), self.width(), tall)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down go from stop to stop."""
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        focused = next((k for k, name in enumerate(STOPS) if self.stops[name].hasFocus()), None)
        if step is None or focused is None:
            super().keyPressEvent(event)
            return
        self.stops[STOPS[(focused + step) % len(STOPS)]].setFocus(Qt.FocusReason.TabFocusReason)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ground, the open stop and the band."""
        painter = QPainter(self)
        t = theme.tokens()
        painter.fillRect(self.rect(), t.tray)
        current = next((stop for stop in self.stops.values() if stop.isChecked()), None)
        right = self.width() - 1
        painter.fillRect(QRectF(right, 0, 1, self.height()), t.rule)
        if current is not None:
            box = QRectF(current.geometry())
            painter.fillRect(box, t.sheet)
            painter.fillRect(QRectF(0, box.top(), self.width(), 1), t.rule)
            painter.fillRect(QRectF(0, box.bottom() - 1, self.width(), 1), t.rule)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pale = _between(t.solid, t.tray, 0.26)
        self._shelf_lines(painter, t.solid if current is self.stops["Shelf"] else pale)
        if self.facts is None:
            return
        self._band(painter, pale)
        if current is not None:
            painter.setClipRect(current.geometry())
            self._band(painter, t.solid)

    def _shelf_lines(self, painter: QPainter, colour: QColor) -> None:
        stop = self.stops["Shelf"].geometry()
        top = stop.top() + theme.scaled(18 if stop.height() < theme.scaled(96) else 25)
        for k in range(3):
            painter.fillRect(QRectF(BAND_LEFT, top + k * 11, BAND_WIDTH, 3), colour)

    def _band(self, painter: QPainter, colour: QColor) -> None:
        """Charge from the top; flux joins at its stop; slag and a thread of metal part at Melts."""
        assert self.facts is not None
        charge, flux, metal = self.facts.charge, self.facts.flux, self.facts.metal
        if charge <= 0:
            return
        per_gram = BAND_WIDTH / (charge + flux)
        ore, flux_stop, melts = (self.stops[name].geometry() for name in ("Ore", "Flux", "Melts"))
        x0, narrow, wide = float(BAND_LEFT), BAND_LEFT + charge * per_gram, BAND_LEFT + (charge + flux) * per_gram
        top = ore.top() + min(14.0, ore.height() * 0.12)
        join = flux_stop.top() + flux_stop.height() * 0.24
        step = min(16.0, flux_stop.height() * 0.2)
        part = melts.top() + melts.height() * 0.32
        foot = melts.top() + melts.height() * 0.82
        thread = max(2.0, metal * per_gram)
        slag_left = x0 + thread + 5
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(x0, top),
                    QPointF(narrow, top),
                    QPointF(narrow, join),
                    QPointF(wide, join + step),
                    QPointF(wide, foot),
                    QPointF(slag_left, foot),
                    QPointF(slag_left, part + 8),
                    QPointF(x0 + thread, part),
                    QPointF(x0 + thread, foot),
                    QPointF(x0, foot),
                ]
            )
        )
        painter.drawEllipse(QPointF(x0 + thread / 2, foot + 2), 5, 5)

    def sizeHint(self) -> QSize:
        """As wide as the names need."""
        return QSize(theme.scaled(WIDTH), 400)


def _drawn(facts: RunFacts) -> tuple[int, int, bool]:
    """The widths of the band in quarter pixels: a change that cannot be seen is not drawn."""
    whole = facts.charge + facts.flux
    per_gram = 4 * BAND_WIDTH / whole if whole > 0 else 0.0
    return round(facts.charge * per_gram), round(facts.metal * per_gram), whole > 0


def _between(one: QColor, other: QColor, share: float) -> QColor:
    return QColor.fromRgbF(
        one.redF() * share + other.redF() * (1 - share),
        one.greenF() * share + other.greenF() * (1 - share),
        one.blueF() * share + other.blueF() * (1 - share),
    )
