"""Text on a baseline: left, right, centred, figure with unit, wrapped."""

import re
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QStaticText, QTransform

from fluxlab.gui import theme

_FORMULA = re.compile(r"\b(?:[A-Z][a-z]?\d*){2,}\b")
_UNITS = r"g|kg|mg|µm|mm|°C|%|L|mL|min|h|Pa·s|kJ|kW|m³|ppm"
_SPACES = re.compile(rf"(?!(?<=\d) (?:{_UNITS})(?!\w))[ \t\r\n]+")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` runs [px]."""
    return _width(text, size, bold, theme.text_size())


@lru_cache(maxsize=4096)
def _width(text: str, size: float, bold: bool, _percent: int) -> float:
    return theme.metrics(size, bold).horizontalAdvance(text)


def left(
    painter: QPainter, x: float, baseline: float, text: str, size: float, colour: QColor, bold: bool = False
) -> float:
    """Write `text` from `x` on; where it ends [px]."""
    shaped, ascent, wide = _shaped(text, size, bold, theme.text_size())
    painter.setFont(theme.font(size, bold))
    painter.setPen(colour)
    painter.drawStaticText(QPointF(x, baseline - ascent), shaped)
    return x + wide


@lru_cache(maxsize=2048)
def _shaped(text: str, size: float, bold: bool, _percent: int) -> tuple[QStaticText, float, float]:
    """Text laid out once, its ascent and its width [px]: most of a redraw repeats words that stood there before."""
    made = QStaticText(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
    made.prepare(QTransform(), theme.font(size, bold))
    return made, theme.metrics(size, bold).ascent(), width(text, size, bold)


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


def lines(text: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """`text` cut at its spaces into lines no wider than `room` [px], in a size of the type scale."""
    return _lines(text, size, bold, theme.text_size(), room)


@lru_cache(maxsize=1024)
def _lines(text: str, size: float, bold: bool, _percent: int, room: float) -> tuple[str, ...]:
    return tuple(wrap(text, theme.metrics(size, bold), room))


def parted(text: str) -> list[str]:
    """The words of `text`: a figure keeps its unit, and a narrow or no-break space holds 32 000 together."""
    return [word for word in _SPACES.split(text) if word]


def fitting(text: str, fits: Callable[[str], bool]) -> Iterator[str]:
    """The words of `text`; a figure that does not fit with its unit is parted from it."""
    for word in parted(text):
        yield from (word,) if fits(word) else word.split(" ")


def wrap(text: str, measure: QFontMetricsF, room: float) -> list[str]:
    """`text` cut at its spaces into lines no wider than `room` [px]; a single longer word keeps its own line."""
    done: list[str] = []
    line = ""
    for word in fitting(text, lambda word: measure.horizontalAdvance(word) <= room):
        trial = f"{line} {word}" if line else word
        if line and measure.horizontalAdvance(trial) > room:
            done.append(line)
            line = word
        else:
            line = trial
    return [*done, line] if line else done


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


def with_formulas(words: str) -> str:
    """A phrase with the numbers of its formulas lowered; other numbers stay."""
    return _FORMULA.sub(lambda found: formula(found[0]), words)
