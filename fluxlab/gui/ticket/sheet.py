"""A pen that writes and rules in millimetres, black only."""

from functools import cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from fluxlab.gui import theme
from fluxlab.gui.ticket.paper import MM_PER_POINT
from fluxlab.gui.widgets.text import fitting

# faces are measured and drawn large and scaled down, so that widths do not depend on the device
_DRAWN = 100
HAIR, RULE, STRONG = 0.2, 0.35, 0.55
BLACK = QColor(0, 0, 0)


@cache
def _face(family: str, bold: bool) -> QFont:
    font = QFont(family)
    font.setPixelSize(_DRAWN)
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    # without ligatures every letter can be searched for and copied from the PDF
    font.setFeature(QFont.Tag("liga"), 0)
    return font


@cache
def _measure(family: str, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(_face(family, bold))


def _family() -> str:
    return theme.font(13).family()


def width(words: str, points: float, bold: bool = False) -> float:
    """How wide `words` run [mm]."""
    return _measure(_family(), bold).horizontalAdvance(words) * points * MM_PER_POINT / _DRAWN


def capital(points: float, bold: bool = False) -> float:
    """Height of a capital [mm]."""
    return _measure(_family(), bold).capHeight() * points * MM_PER_POINT / _DRAWN


def leading(points: float) -> float:
    """Distance of one line of text from the next [mm]."""
    return 1.22 * points * MM_PER_POINT


def lines_of(words: str, points: float, room: float, bold: bool = False, most: int = 0) -> list[str]:
    """`words` in lines no wider than `room` [mm]; with `most` lines the last one may end in an ellipsis."""
    lines: list[str] = []
    line = ""
    for word in fitting(words, lambda word: width(word, points, bold) <= room):
        for piece in _pieces(word, points, room, bold):
            trial = f"{line} {piece}" if line else piece
            if line and width(trial, points, bold) > room:
                lines.append(line)
                line = piece
            else:
                line = trial
    if line:
        lines.append(line)
    if most and len(lines) > most:
        last = lines[most - 1]
        while last and width(f"{last}…", points, bold) > room:
            last = last[:-1]
        lines = [*lines[: most - 1], f"{last.rstrip()}…"]
    return lines


def _pieces(word: str, points: float, room: float, bold: bool) -> list[str]:
    """A word cut into pieces that fit, for a word without end."""
    pieces: list[str] = []
    while width(word, points, bold) > room and len(word) > 1:
        cut = max(1, int(len(word) * room / width(word, points, bold)))
        while cut > 1 and width(word[:cut], points, bold) > room:
            cut -= 1
        pieces.append(word[:cut])
        word = word[cut:]
    return [*pieces, word]


class Sheet:
    """The pen itself. Its painter is scaled so that one unit is a millimetre."""

    def __init__(self, painter: QPainter) -> None:
        self.painter = painter

    def left(self, x: float, baseline: float, words: str, points: float, bold: bool = False) -> float:
        """Write from `x` on; where the words end [mm]."""
        scale = points * MM_PER_POINT / _DRAWN
        painter = self.painter
        painter.save()
        painter.translate(x, baseline)
        painter.scale(scale, scale)
        painter.setFont(_face(_family(), bold))
        painter.setPen(BLACK)
        painter.drawText(QPointF(0.0, 0.0), words)
        painter.restore()
        return x + width(words, points, bold)

    def right(self, x: float, baseline: float, words: str, points: float, bold: bool = False) -> float:
        """Write so that the words end at `x`; where they begin [mm]."""
        start = x - width(words, points, bold)
        self.left(start, baseline, words, points, bold)
        return start

    def centred(self, x: float, baseline: float, words: str, points: float, bold: bool = False) -> None:
        """Write with the middle at `x`."""
        self.left(x - width(words, points, bold) / 2.0, baseline, words, points, bold)

    def rule(self, x0: float, x1: float, y: float, thick: float = HAIR) -> None:
        """A line across."""
        self.stroke(x0, y, x1, y, thick)

    def stroke(self, x0: float, y0: float, x1: float, y1: float, thick: float = HAIR) -> None:
        """A straight line."""
        self.painter.setPen(_pen(thick))
        self.painter.drawLine(QLineF(x0, y0, x1, y1))

    def dashes(self, x0: float, x1: float, y: float, dash: float, gap: float, thick: float = HAIR) -> None:
        """A dashed line across, dash and gap in mm."""
        pen = _pen(thick)
        pen.setDashPattern([dash / thick, gap / thick])
        self.painter.setPen(pen)
        self.painter.drawLine(QLineF(x0, y, x1, y))

    def box(self, rect: QRectF, thick: float = RULE, corner: float = 0.3) -> None:
        """An empty box."""
        pen = _pen(thick)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        self.painter.setPen(pen)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawRoundedRect(rect, corner, corner)


def _pen(thick: float) -> QPen:
    return QPen(BLACK, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
