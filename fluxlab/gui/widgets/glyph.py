"""The verdict glyphs: silhouettes of a metal button (whole, half filled, split and slipped, dashed ring)."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen

from fluxlab.gui.tokens import Tokens

if TYPE_CHECKING:
    from fluxlab.design.report_types import Answer

WORDS: "dict[Answer, str]" = {"yes": "Yes", "close": "Close", "no": "No", "unknown": "Not known"}


def answer_colour(answer: "Answer", tokens: Tokens) -> QColor:
    """The colour an answer is written in: good is quiet."""
    return {"yes": tokens.ink, "close": tokens.close, "no": tokens.no, "unknown": tokens.ink2}[answer]


def answer_tint(answer: "Answer", tokens: Tokens) -> QColor | None:
    """The ground an answer stands on, None for the page itself."""
    return {"close": tokens.close_tint, "no": tokens.no_tint}.get(answer)


def draw_button_glyph(
    painter: QPainter, rect: QRectF, answer: "Answer", tokens: Tokens, colour: QColor | None = None
) -> None:
    """Draw the glyph of `answer` into the square `rect`; its shape alone tells the answer."""
    ink = colour or answer_colour(answer, tokens)
    stroke = max(1.2, rect.width() / 11)
    inner = rect.adjusted(stroke / 2, stroke / 2, -stroke / 2, -stroke / 2)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if answer == "yes":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawEllipse(rect)
    elif answer == "close":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawChord(inner, 180 * 16, 180 * 16)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, stroke))
        painter.drawEllipse(inner)
    elif answer == "no":
        _split(painter, rect, ink)
    else:
        _ring(painter, inner, ink, stroke)
    painter.restore()


def _split(painter: QPainter, rect: QRectF, ink: QColor) -> None:
    slip, gap = rect.height() * 0.09, rect.width() * 0.05
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    painter.drawChord(rect.translated(-gap, -slip), 90 * 16, 180 * 16)
    painter.drawChord(rect.translated(gap, slip), -90 * 16, 180 * 16)


def _ring(painter: QPainter, rect: QRectF, ink: QColor, stroke: float) -> None:
    pen = QPen(ink, stroke)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
    parts = 8
    for k in range(parts):
        painter.drawArc(rect, round((k + 0.2) * 360 * 16 / parts), round(0.6 * 360 * 16 / parts))


def glyph_at(painter: QPainter, left: float, middle: float, size: float, answer: "Answer", tokens: Tokens) -> None:
    """Draw the glyph `size` px wide, its left edge at `left` and its centre line at `middle`."""
    corner = QPointF(left, middle - size / 2)
    draw_button_glyph(painter, QRectF(corner.x(), corner.y(), size, size), answer, tokens)
