"""Text on a baseline: left, right, centred, figure with unit, wrapped."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QFontMetricsF, QPainter

from fluxlab.gui import theme

_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` runs [px]."""
    return theme.metrics(size, bold).horizontalAdvance(text)


def left(
    painter: QPainter, x: float, baseline: float, text: str, size: float, colour: QColor, bold: bool = False
) -> float:
    """Write `text` from `x` on; where it ends [px]."""
    painter.setFont(theme.font(size, bold))
    painter.setPen(colour)
    painter.drawText(QPointF(x, baseline), text)
    return x + width(text, size, bold)


def right(
    painter: QPainter, x: float, baseline: float, text: str, size: float, colour: QColor, bold: bool = False
) -> float:
    """Write `text` so that it ends at `x`; where it begins [px]."""
    start = x - width(text, size, bold)
    left(painter, start, baseline, text, size, colour, bold)
    return start


def centred(
    painter: QPainter, x: float, baseline: float, text: str, size: float, colour: QColor, bold: bool = False
) -> None:
    """Write `text` with its middle at `x`."""
    left(painter, x - width(text, size, bold) / 2, baseline, text, size, colour, bold)


def wrap(text: str, measure: QFontMetricsF, room: float) -> list[str]:
    """`text` cut at its spaces into lines no wider than `room` [px]; a single longer word keeps its own line."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        trial = f"{line} {word}" if line else word
        if line and measure.horizontalAdvance(trial) > room:
            lines.append(line)
            line = word
        else:
            line = trial
    return [*lines, line] if line else lines


def paragraph(
    painter: QPainter, x: float, baseline: float, lines: Sequence[str], size: float, colour: QColor, leading: float
) -> float:
    """Write `lines` one under the other, `leading` px apart; the baseline after the last [px]."""
    for line in lines:
        left(painter, x, baseline, line, size, colour)
        baseline += leading
    return baseline


def middle(rect: QRectF, size: float, bold: bool = False) -> float:
    """The baseline that puts capitals and figures in the middle of `rect` [px]."""
    return rect.center().y() + theme.metrics(size, bold).capHeight() / 2


def formula(name: str) -> str:
    """A chemical formula with its numbers lowered: "Na2O" becomes "Na₂O"."""
    return name.translate(_LOWERED)
