"""The program's own icons: a 20-unit grid, one mitred stroke of 1.6 px, no fill except the pin."""

from collections.abc import Callable
from functools import cache
from math import cos, pi, sin
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from fluxlab.gui import theme

if TYPE_CHECKING:
    from PySide6.QtGui import QIcon

GRID = 20.0
_Path = Callable[[QPainterPath], None]


def _line(path: QPainterPath, *points: tuple[float, float]) -> None:
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)


def _undo(path: QPainterPath) -> None:
    _line(path, (7.5, 3), (4, 6.5), (7.5, 10))
    path.moveTo(4.5, 6.5)
    path.lineTo(11, 6.5)
    path.arcTo(QRectF(6.5, 6.5, 9, 9), 90, -180)
    path.lineTo(7.5, 15.5)


def _redo(path: QPainterPath) -> None:
    _line(path, (12.5, 3), (16, 6.5), (12.5, 10))
    path.moveTo(15.5, 6.5)
    path.lineTo(9, 6.5)
    path.arcTo(QRectF(4.5, 6.5, 9, 9), 90, 180)
    path.lineTo(12.5, 15.5)


def _menu(path: QPainterPath) -> None:
    for y in (5, 10, 15):
        _line(path, (3.5, y), (16.5, y))


def _plus(path: QPainterPath) -> None:
    _line(path, (10, 4), (10, 16))
    _line(path, (4, 10), (16, 10))


def _axes(path: QPainterPath) -> None:
    _line(path, (4.5, 3), (4.5, 15.5), (17, 15.5))
    _line(path, (2, 6), (4.5, 3), (7, 6))
    _line(path, (14, 13), (17, 15.5), (14, 18))


def _minus(path: QPainterPath) -> None:
    _line(path, (4, 10), (16, 10))


def _cross(path: QPainterPath) -> None:
    _line(path, (5, 5), (15, 15))
    _line(path, (15, 5), (5, 15))


def _columns(path: QPainterPath) -> None:
    path.addRect(QRectF(3.5, 4.5, 13, 11))
    _line(path, (7.8, 4.5), (7.8, 15.5))
    _line(path, (12.2, 4.5), (12.2, 15.5))


def _dot(path: QPainterPath) -> None:
    path.addEllipse(QPointF(10, 10), 3, 3)


def _printer(path: QPainterPath) -> None:
    _line(path, (6, 8), (6, 3.5), (14, 3.5), (14, 8))
    _line(path, (6, 14), (3.5, 14), (3.5, 8), (16.5, 8), (16.5, 14), (14, 14))
    path.addRect(QRectF(6, 11.5, 8, 5))


def _lock(path: QPainterPath) -> None:
    path.addRect(QRectF(4.5, 9, 11, 7.5))
    path.moveTo(7, 9)
    path.lineTo(7, 6.5)
    path.arcTo(QRectF(7, 3.5, 6, 6), 180, -180)
    path.lineTo(13, 9)


def _chevron(path: QPainterPath) -> None:
    _line(path, (5, 7.5), (10, 12.5), (15, 7.5))


def _chevron_right(path: QPainterPath) -> None:
    _line(path, (7.5, 5), (12.5, 10), (7.5, 15))


def _search(path: QPainterPath) -> None:
    path.addEllipse(QPointF(8.5, 8.5), 5, 5)
    _line(path, (12.2, 12.2), (17, 17))


def _tick(path: QPainterPath) -> None:
    _line(path, (4, 10.5), (8.5, 15), (16, 5.5))


def _up(path: QPainterPath) -> None:
    _line(path, (5, 9), (10, 4), (15, 9))
    _line(path, (10, 4), (10, 16.5))


def _down(path: QPainterPath) -> None:
    _line(path, (5, 11.5), (10, 16.5), (15, 11.5))
    _line(path, (10, 4), (10, 16.5))


def _bin(path: QPainterPath) -> None:
    _line(path, (3.5, 6), (16.5, 6))
    _line(path, (7.5, 6), (7.5, 3.5), (12.5, 3.5), (12.5, 6))
    _line(path, (5.2, 6), (6, 16.5), (14, 16.5), (14.8, 6))


def _copy(path: QPainterPath) -> None:
    path.addRect(QRectF(7, 7, 9.5, 9.5))
    _line(path, (4.5, 13), (3.5, 13), (3.5, 3.5), (13, 3.5), (13, 4.5))


def _folder(path: QPainterPath) -> None:
    _line(path, (3, 15.5), (3, 4.5), (8, 4.5), (10, 6.5), (17, 6.5), (17, 15.5))
    path.closeSubpath()


def _pencil(path: QPainterPath) -> None:
    _line(path, (4, 16), (5, 12), (13.5, 3.5), (16.5, 6.5), (8, 15))
    path.closeSubpath()


def _cog(path: QPainterPath) -> None:
    path.addEllipse(QPointF(10, 10), 4, 4)
    for k in range(8):
        a = k * pi / 4
        _line(path, (10 + 5.2 * cos(a), 10 + 5.2 * sin(a)), (10 + 7.4 * cos(a), 10 + 7.4 * sin(a)))


_STROKED: dict[str, _Path] = {
    "undo": _undo,
    "redo": _redo,
    "menu": _menu,
    "plus": _plus,
    "minus": _minus,
    "cross": _cross,
    "columns": _columns,
    "axes": _axes,
    "dot": _dot,
    "printer": _printer,
    "lock": _lock,
    "chevron": _chevron,
    "chevron right": _chevron_right,
    "search": _search,
    "tick": _tick,
    "up": _up,
    "down": _down,
    "bin": _bin,
    "copy": _copy,
    "folder": _folder,
    "pencil": _pencil,
    "cog": _cog,
}
NAMES = (*_STROKED, "pin")


def _pin() -> QPainterPath:
    path = QPainterPath()
    _line(path, (6, 3), (14, 3), (14, 5), (12.6, 5), (12.6, 9), (15, 12), (5, 12), (7.4, 9), (7.4, 5), (6, 5))
    path.closeSubpath()
    path.addRect(QRectF(9.2, 12, 1.6, 5.5))
    return path


@cache
def _outline(name: str) -> QPainterPath:
    path = QPainterPath()
    _STROKED[name](path)
    return path


def draw_icon(painter: QPainter, rect: QRectF, name: str, colour: QColor) -> None:
    """Draw the icon `name` into `rect`."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / GRID, rect.height() / GRID)
    if name == "pin":
        painter.fillPath(_pin(), colour)
    else:
        stroke = 1.6 * GRID / rect.width() if rect.width() < GRID else 1.6
        painter.setPen(QPen(colour, stroke, Qt.PenStyle.SolidLine, Qt.PenCapStyle.SquareCap, Qt.PenJoinStyle.MiterJoin))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(_outline(name))
    painter.restore()


def icon(name: str, colour: QColor | None = None) -> "QIcon":
    """The icon `name` for a menu or a stock button, sharp on dense screens too."""
    from PySide6.QtGui import QIcon, QPixmap

    made = QIcon()
    for ratio in (1, 2, 3):
        picture = QPixmap(QSize(20, 20) * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        draw_icon(painter, QRectF(0, 0, GRID, GRID), name, colour or theme.tokens().ink)
        painter.end()
        made.addPixmap(picture)
    return made
