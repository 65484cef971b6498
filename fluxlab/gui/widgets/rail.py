"""The rail: the one instrument for an amount with a limit."""

from collections.abc import Callable
from dataclasses import dataclass
from math import floor, log10
from typing import Literal

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from fluxlab.gui.tokens import Tokens

Limit = Literal["must", "wish"]
ARROW = 7.0


@dataclass(frozen=True, slots=True)
class RailSpec:
    """What stands on one rail; every figure in the unit of the amount.

    `lo`, `hi` end the scale. `band_lo`, `band_hi` are limits (None = open), each a must or a wish. `value` is the
    blade, `likely` its nine-in-ten range, `stop` the hard stop (stock), `seen` the ring, `triangle` low, likely and
    high as entered, `first` the range as first entered. `quiet` draws the blade grey, `seen_outside` the ring carmine.
    """

    lo: float
    hi: float
    value: float | None = None
    likely: tuple[float, float] | None = None
    band_lo: float | None = None
    band_hi: float | None = None
    lo_kind: Limit = "must"
    hi_kind: Limit = "must"
    stop: float | None = None
    seen: float | None = None
    triangle: tuple[float, float, float] | None = None
    first: tuple[float, float] | None = None
    quiet: bool = False
    seen_outside: bool = False

    def broken(self, slack: float = 1e-9) -> Limit | None:
        """The kind of limit that the value breaks, None while it keeps them."""
        if self.value is None:
            return None
        room = slack * max(1.0, abs(self.hi))
        if self.band_hi is not None and self.value > self.band_hi + room:
            return self.hi_kind
        if self.band_lo is not None and self.value < self.band_lo - room:
            return self.lo_kind
        return None


def nice_top(value: float) -> float:
    """The next round number (1, 1.5, 2, 3, 5, 7 times a power of ten) not below `value`, 1 when there is nothing."""
    if value <= 0:
        return 1.0
    power = 10.0 ** floor(log10(value))
    return next(step * power for step in (1, 1.5, 2, 3, 5, 7, 10) if step * power >= value * (1 - 1e-12))


def broken_colour(kind: Limit | None, tokens: Tokens, otherwise: QColor) -> QColor:
    """The colour of a value outside its band: a broken must is carmine, a wish not met is yellow."""
    return {"must": tokens.no, "wish": tokens.close}.get(kind or "", otherwise)


def draw_rail(painter: QPainter, rect: QRectF, spec: RailSpec, tokens: Tokens) -> None:
    """Draw `spec` into `rect`; everything centres on the pixel row of its hairline."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    row = floor(rect.center().y())
    half = max(5.0, floor(rect.height() / 2) - 2)
    at = _scale(rect, spec)
    _band(painter, rect, row, half, spec, tokens, at)
    painter.fillRect(QRectF(round(rect.left()), row, round(rect.width()), 1), tokens.edge)
    _ends(painter, row, half, spec, tokens, at)
    if spec.first is not None:
        _bar(painter, row, at(spec.first[0]), at(spec.first[1]), 7, _mixed(tokens.edge, tokens.sheet, 0.45))
    if spec.likely is not None:
        _bar(painter, row, at(spec.likely[0]), at(spec.likely[1]), 5, tokens.edge)
    if spec.stop is not None and spec.lo <= spec.stop <= spec.hi:
        painter.fillRect(QRectF(at(spec.stop) - 2, row - half, 4, 2 * half + 1), tokens.edge)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if spec.triangle is not None:
        _triangle(painter, row, half, spec.triangle, tokens, at)
    if spec.value is not None:
        _blade(painter, rect, row, half, spec, tokens, at(spec.value))
    if spec.seen is not None:
        painter.setPen(QPen(tokens.no if spec.seen_outside else tokens.ink, 2))
        painter.setBrush(tokens.sheet)
        painter.drawEllipse(QPointF(at(spec.seen), row + 0.5), 5, 5)
    painter.restore()


def _scale(rect: QRectF, spec: RailSpec) -> Callable[[float], float]:
    span = (spec.hi - spec.lo) or 1.0
    left, wide = round(rect.left()), round(rect.width())

    def at(value: float) -> float:
        share = min(1.0, max(0.0, (value - spec.lo) / span))
        return round(left + share * (wide - 1))

    return at


def _mixed(one: QColor, other: QColor, share: float) -> QColor:
    return QColor.fromRgbF(
        one.redF() * share + other.redF() * (1 - share),
        one.greenF() * share + other.greenF() * (1 - share),
        one.blueF() * share + other.blueF() * (1 - share),
    )


def _band(
    painter: QPainter, rect: QRectF, row: int, half: float, spec: RailSpec, tokens: Tokens, at: Callable[[float], float]
) -> None:
    if spec.band_lo is None and spec.band_hi is None:
        return
    start = at(spec.band_lo) if spec.band_lo is not None else round(rect.left())
    end = at(spec.band_hi) if spec.band_hi is not None else round(rect.right())
    box = QRectF(start, row - half + 1, max(1.0, end - start), 2 * half - 1)
    kinds = {k for k, v in ((spec.lo_kind, spec.band_lo), (spec.hi_kind, spec.band_hi)) if v is not None}
    if kinds == {"wish"}:
        _dashed(painter, box, tokens.hand)
    else:
        painter.fillRect(box, tokens.hand_tint)


def _dashed(painter: QPainter, box: QRectF, colour: QColor) -> None:
    pen = QPen(colour, 1)
    pen.setDashPattern([3, 3])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box.adjusted(0, 0, -1, -1))


def _ends(
    painter: QPainter, row: int, half: float, spec: RailSpec, tokens: Tokens, at: Callable[[float], float]
) -> None:
    for value, kind in ((spec.band_lo, spec.lo_kind), (spec.band_hi, spec.hi_kind)):
        if value is None or not spec.lo <= value <= spec.hi:
            continue
        x = at(value)
        if kind == "must":
            painter.fillRect(QRectF(x - 1, row - half, 2, 2 * half + 1), tokens.hand)
        else:
            y = row - half
            while y < row + half:
                painter.fillRect(QRectF(x, y, 1, 3), tokens.hand)
                y += 6


def _bar(painter: QPainter, row: int, start: float, end: float, thick: int, colour: QColor) -> None:
    painter.fillRect(QRectF(start, row - thick // 2, max(2.0, end - start), thick), colour)


def _triangle(
    painter: QPainter,
    row: int,
    half: float,
    shares: tuple[float, float, float],
    tokens: Tokens,
    at: Callable[[float], float],
) -> None:
    low, likely, high = (at(share) + 0.5 for share in shares)
    fill = QColor(tokens.edge)
    fill.setAlphaF(0.35)
    painter.setPen(QPen(tokens.ink, 1.2))
    painter.setBrush(fill)
    top, foot = row + 0.5 - half, row + 0.5 + half
    painter.drawPolygon(QPolygonF([QPointF(low, foot), QPointF(likely, top), QPointF(high, foot)]))


def _blade(painter: QPainter, rect: QRectF, row: int, half: float, spec: RailSpec, tokens: Tokens, x: float) -> None:
    kind = spec.broken()
    colour = broken_colour(kind, tokens, tokens.ink3 if spec.quiet else tokens.ink)
    painter.fillRect(QRectF(x - 1, row - half - 1, 3, 2 * half + 3), colour)
    assert spec.value is not None
    if kind is None:
        return
    sign = 1.0 if spec.band_hi is not None and spec.value > spec.band_hi else -1.0
    base = x + 0.5 + sign * 2.5
    if not rect.left() <= base + sign * ARROW <= rect.right() + ARROW:
        base -= sign * (ARROW + 5)
    painter.setPen(QPen(colour, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    middle = row + 0.5
    painter.drawPolyline(
        QPolygonF([QPointF(base, middle - 5), QPointF(base + sign * (ARROW - 1), middle), QPointF(base, middle + 5)])
    )
