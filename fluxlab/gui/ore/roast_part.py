"""The roast: predicted weight change, what is left of sulphur and arsenic, the gas that leaves."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from fluxlab.design.report_types import Answer, RoastReport
from fluxlab.gui import theme
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.roast_words import RoastLine, gas_words, roast_lines
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.glyph import WORDS, answer_colour, answer_tint, glyph_at
from fluxlab.gui.widgets.rail import draw_rail
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

LINE, SLIM = 38, 28


class _Lines(QWidget):
    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._lines: tuple[RoastLine, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_lines(self, lines: tuple[RoastLine, ...]) -> None:
        grown = [_high(line) for line in lines] != [_high(line) for line in self._lines]
        self._lines = lines
        said = "; ".join(f"{li.words} {li.figure} {li.unit} {li.note}".strip() for li in lines)
        self.setAccessibleName(f"Roast: {said}")
        if grown:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(300, sum(_high(line) for line in self._lines))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        t = theme.tokens()
        y = 0
        for line in self._lines:
            box = QRectF(0, y, self.width(), _high(line))
            y += _high(line)
            lift = theme.scaled(8) if line.note else 0
            type_.left(painter, 0, type_.middle(box, 13) - lift, line.words, 13, t.ink)
            if line.note:
                type_.left(painter, 0, type_.middle(box, 12) + theme.scaled(9), line.note, 12, t.ink2)
            start, end = theme.scaled(150), self.width() - theme.scaled(74)
            if line.rail is not None and end - start > 30:
                draw_rail(painter, QRectF(start, box.center().y() - 11, end - start, 22), line.rail, t)
            base = type_.middle(box, 15, True)
            unit = type_.right(painter, box.right() - 4, base, line.unit, 12, t.ink2)
            type_.right(painter, unit - 4, base, line.figure, 15, t.ink, True)
            painter.fillRect(QRectF(0, box.bottom() - 1, box.width(), 1), t.rule)


def _high(line: RoastLine) -> int:
    return theme.scaled(LINE if line.note else SLIM)


class GasBand(QWidget):
    """What leaves the roast; on a tint with its glyph when it asks for attention."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answer: Answer = "yes"
        self.first, self.second = "", ""
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_words(self, answer: Answer, first: str, second: str) -> None:
        """Show the two parts."""
        if (answer, first, second) == (self.answer, self.first, self.second):
            return
        self.answer, self.first, self.second = answer, first, second
        self.setAccessibleName(f"{WORDS[answer]}: {first}. {second}" if answer != "yes" else first)
        self.updateGeometry()
        self.update()

    def _left(self) -> int:
        return theme.scaled(36) if self.answer != "yes" else 0

    def _lines(self, width: int) -> list[str]:
        """The words wrapped; the answer's own word stands before the first line in bold."""
        room = width - self._left() - 8
        words = type_.wrap(self.first, theme.metrics(13), room - self._head_width())
        rest = type_.wrap(" ".join(words[1:]), theme.metrics(13), room)
        return [*words[:1], *rest, *type_.wrap(self.second, theme.metrics(12), room)]

    def _head_width(self) -> float:
        return type_.width(WORDS[self.answer], 13, True) + 8 if self.answer != "yes" else 0.0

    def hasHeightForWidth(self) -> bool:
        """Narrower means taller."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of the wrapped words [px]."""
        return len(self._lines(width)) * theme.scaled(18) + theme.scaled(10)

    def sizeHint(self) -> QSize:
        """Two lines."""
        width = max(self.width(), 300)
        return QSize(300, self.heightForWidth(width))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, glyph and words."""
        painter = QPainter(self)
        t = theme.tokens()
        tint = answer_tint(self.answer, t)
        if tint is not None:
            painter.fillRect(QRectF(self.rect()), tint)
            glyph_at(painter, 10, self.height() / 2, theme.scaled(17), self.answer, t)
        base, x = theme.scaled(18), float(self._left())
        if tint is not None:
            type_.left(painter, x, base, WORDS[self.answer], 13, answer_colour(self.answer, t), True)
            x += self._head_width()
        lines = self._lines(self.width())
        small = len(type_.wrap(self.second, theme.metrics(12), self.width() - self._left() - 8))
        for i, line in enumerate(lines):
            size = 13 if i < len(lines) - small else 12
            type_.left(painter, x, base, line, size, t.ink if tint is not None else t.ink2)
            x = float(self._left())
            base += theme.scaled(18)


class RoastPart(Section):
    """The card."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Roast", "a perfect roast is assumed", parent=parent)
        self.explanation = explanations.ROAST
        self.lines = _Lines(self)
        self.gas = GasBand(self)
        self.none = Words("", 13, tone="ink2")
        inside = QVBoxLayout()
        inside.setSpacing(0)
        inside.addWidget(self.none)
        inside.addWidget(self.lines)
        inside.addSpacing(6)
        inside.addWidget(self.gas)
        self.body.addLayout(inside)

    def show_roast(self, roast: RoastReport | None, otherwise: str) -> None:
        """Show a roast, or the one sentence that says why there is none."""
        for part in (self.lines, self.gas):
            part.setVisible(roast is not None)
        self.none.setVisible(roast is None)
        self.set_note("a perfect roast is assumed" if roast is not None else "")
        if roast is None:
            self.none.set_words(otherwise)
            return
        self.lines.show_lines(roast_lines(roast))
        self.gas.show_words(*gas_words(roast))
