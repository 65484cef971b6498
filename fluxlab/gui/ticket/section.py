"""What the drawings of pot and mould on paper share: walls, outlines, plates, and the pattern of each layer."""

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainterPath, QPen

from fluxlab.design.layers import LayerKind, Standing
from fluxlab.gui.ticket.sheet import BLACK, HAIR, RULE, Sheet, capital, width
from fluxlab.gui.vessel import textures
from fluxlab.gui.vessel.frame import Frame, filling, wall
from fluxlab.gui.vessel.shape import Shape

NUMBER, WORD, MARK = 10.5, 8.5, 11.0
BOTH, RIGHT = (1.0, -1.0), (1.0,)
PAPER = QColor(255, 255, 255)
_LINES = 0.7


def layer_filled(sheet: Sheet, path: QPainterPath, kind: LayerKind) -> None:
    """A layer in its pattern: metal black, speiss crossed, matte lined, slag white."""
    if kind == "metal":
        sheet.painter.fillPath(path, BLACK)
        return
    sheet.painter.fillPath(path, PAPER)
    if kind == "speiss":
        for rising in (True, False):
            textures.hatch(sheet.painter, path, BLACK, 0.7, HAIR, rising)
    elif kind == "matte":
        _lined(sheet, path)
    outline(sheet, path, RULE)


def draw_layers(sheet: Sheet, layers: Sequence[Standing], shape: Shape, frame: Frame, sides: tuple[float, ...]) -> None:
    """Layers of a vessel up to its rim, on the given sides of the axis."""
    for each in layers:
        top = min(each.top, shape.depth)
        if top > each.low:
            layer_filled(sheet, filling(frame, shape, each.low, top, sides), each.layer.kind)


def solid(sheet: Sheet, shape: Shape, frame: Frame, spacing: float, rising: bool) -> None:
    """The hatched wall."""
    body = wall(frame, shape)
    sheet.painter.fillPath(body, PAPER)
    textures.hatch(sheet.painter, body, BLACK, spacing, HAIR, rising)
    outline(sheet, body, 0.4)


def outline(sheet: Sheet, path: QPainterPath, thick: float) -> None:
    """A path as a line."""
    pen = QPen(BLACK, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin)
    sheet.painter.setPen(pen)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.drawPath(path)


def plate(sheet: Sheet, x: float, y: float, words: str, points: float, bold: bool) -> None:
    """Words on white, their middle at a point."""
    wide, high = width(words, points, bold) + 1.6, capital(points, bold) + 1.6
    sheet.painter.fillRect(QRectF(x - wide / 2.0, y - high / 2.0, wide, high), PAPER)
    sheet.centred(x, y + capital(points, bold) / 2.0, words, points, bold)


def _lined(sheet: Sheet, path: QPainterPath) -> None:
    box, painter = path.boundingRect(), sheet.painter
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(BLACK, HAIR))
    count = int(box.height() / _LINES)
    lines = [
        QLineF(box.left(), box.bottom() - k * _LINES, box.right(), box.bottom() - k * _LINES)
        for k in range(1, count + 1)
    ]
    painter.drawLines(lines)
    painter.restore()
