"""Pot and mould on paper: black only, with the few millimetres that matter at the furnace."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainterPath, QPen

from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.sheet import BLACK, HAIR, RULE, Sheet, capital, width
from fluxlab.gui.vessel import textures
from fluxlab.gui.vessel.frame import Frame, filling, heap, wall
from fluxlab.gui.vessel.from_report import first_heap, shape_of_mould, shape_of_pot
from fluxlab.gui.vessel.shape import Shape

NUMBER, WORD, MARK = 10.5, 8.5, 11.0
HEAD, HEAPED = 5.5, 8.0
_MARKS = 7.5
_BETWEEN = 3.0
_PAPER = QColor(255, 255, 255)
_BOTH = (1.0, -1.0)


def shapes_of(ticket: Ticket) -> tuple[Shape | None, Shape | None]:
    """Sections of the pot and the mould that a ticket shows; None where one is missing or its filling not known."""
    pot = shape_of_pot(ticket.pot) if ticket.pot and ticket.fill else None
    mould = shape_of_mould(ticket.mould) if ticket.mould and ticket.mould_fill else None
    return pot, mould


def head_room(ticket: Ticket) -> float:
    """Room over the rims for the figures, and for a heap that stands over its rim [mm]."""
    pot, _ = shapes_of(ticket)
    heaped = pot is not None and ticket.fill is not None and first_heap(ticket.fill, pot.depth)[0] > pot.depth
    return HEAPED if heaped else HEAD


def drawing_scale(ticket: Ticket, wide: float, high: float) -> float:
    """The scale of both drawings [mm on paper per mm], so that they stand side by side in the room [mm]."""
    shapes = [shape for shape in shapes_of(ticket) if shape]
    across = sum(2.0 * shape.half_width for shape in shapes)
    tall = max((shape.depth + shape.foot for shape in shapes), default=1.0)
    return min((wide - _MARKS - _BETWEEN) / across, (high - head_room(ticket)) / tall) if shapes else 0.0


def drawings_height(ticket: Ticket, wide: float, high: float) -> float:
    """Height that the drawings take in a room [mm]."""
    shapes = [shape for shape in shapes_of(ticket) if shape]
    if not shapes:
        return 0.0
    scale = drawing_scale(ticket, wide, high)
    return head_room(ticket) + scale * max(shape.depth + shape.foot for shape in shapes)


def draw_vessels(sheet: Sheet, ticket: Ticket, left: float, top: float, wide: float, high: float) -> None:
    """Draw pot and mould side by side on one ground line, in a room of a width and height [mm]."""
    pot, mould = shapes_of(ticket)
    scale = drawing_scale(ticket, wide, high)
    shapes = [shape for shape in (pot, mould) if shape]
    ground = top + head_room(ticket) + scale * max((shape.depth + shape.foot for shape in shapes), default=0.0)
    used = _MARKS + scale * sum(2.0 * shape.half_width for shape in shapes)
    gap = (wide - used) / (len(shapes) + 1.0) if shapes else 0.0
    x = left + _MARKS + gap
    for shape in shapes:
        frame = Frame(x + shape.half_width * scale, ground - shape.foot * scale, scale)
        if shape is pot:
            _pot(sheet, ticket, shape, frame)
        else:
            _mould(sheet, ticket, shape, frame)
        x += 2.0 * shape.half_width * scale + gap


def _pot(sheet: Sheet, ticket: Ticket, shape: Shape, frame: Frame) -> None:
    fill = ticket.fill
    if fill is None:
        return
    level, part = first_heap(fill, shape.depth)
    if level > 0.0:
        body = heap(frame, shape, level, 0.0, _BOTH, 4.0 / frame.scale)
        textures.stipple(sheet.painter, body, BLACK, 1.15, 0.22)
        _outline(sheet, body, RULE)
    _solid(sheet, shape, frame, 1.25, rising=True)
    rim = frame.y(shape.depth)
    gap = shape.depth - level
    words = f"{abs(gap):.0f} mm" + (" over" if gap <= -0.5 else "")
    if gap <= -0.5:
        sheet.centred(frame.axis, rim - 4.6, words, NUMBER, True)
    else:
        inside = shape.rim_radius * frame.scale
        sheet.dashes(frame.axis - inside, frame.axis + inside, rim, 1.2, 0.8, HAIR)
        _between(sheet, frame.axis, rim, frame.y(level), words)
    if part:
        _plate(sheet, frame.axis, frame.y(0.45 * level), part, WORD, False)
    y = frame.y(fill.two_thirds_level)
    inner = shape.radius(fill.two_thirds_level) * frame.scale
    outer = shape.outer_radius(fill.two_thirds_level) * frame.scale
    for side in _BOTH:
        sheet.stroke(frame.axis + side * (inner - 1.3), y, frame.axis + side * (outer + 1.3), y, 0.5)
    sheet.right(frame.axis - outer - 1.8, y + capital(MARK) / 2.0, "⅔", MARK)


def _between(sheet: Sheet, x: float, top: float, bottom: float, words: str) -> None:
    sheet.stroke(x, top, x, bottom, HAIR)
    high = capital(NUMBER, True) + 1.6
    roomy = bottom - top > high + 1.0
    _plate(sheet, x, (top + bottom) / 2.0 if roomy else bottom + 0.6 + high / 2.0, words, NUMBER, True)


def _plate(sheet: Sheet, x: float, y: float, words: str, points: float, bold: bool) -> None:
    wide, high = width(words, points, bold) + 1.6, capital(points, bold) + 1.6
    sheet.painter.fillRect(QRectF(x - wide / 2.0, y - high / 2.0, wide, high), _PAPER)
    sheet.centred(x, y + capital(points, bold) / 2.0, words, points, bold)


def _mould(sheet: Sheet, ticket: Ticket, shape: Shape, frame: Frame) -> None:
    poured = ticket.mould_fill
    if poured is None:
        return
    top = min(poured.slag_level, shape.depth)
    metal = min(poured.metal_level, top)
    if metal > 0.0:
        sheet.painter.fillPath(filling(frame, shape, 0.0, metal, _BOTH), BLACK)
    if top > 0.0:
        _outline(sheet, filling(frame, shape, metal, top, _BOTH), RULE)
    _solid(sheet, shape, frame, 0.85, rising=False)
    rim = frame.y(shape.depth)
    over = poured.freeboard <= -0.5
    inside = shape.rim_radius * frame.scale
    if not over:
        sheet.dashes(frame.axis - inside, frame.axis + inside, rim, 1.2, 0.8, HAIR)
    words = f"{abs(poured.freeboard):.0f} mm {'over' if over else 'free'}"
    sheet.centred(frame.axis, rim - 1.8, words, NUMBER, True)
    lines = ["slag"] + ([f"{ticket.slag_mass:.0f} g"] if ticket.slag_mass is not None else [])
    _slag_words(sheet, lines, shape, frame, metal, top)


def _slag_words(sheet: Sheet, lines: list[str], shape: Shape, frame: Frame, low: float, high: float) -> None:
    step = capital(WORD) + 1.6
    tall = step * len(lines)
    if tall > 0.9 * (high - low) * frame.scale:
        return
    foot = frame.y(high) + 1.4 + tall
    z = (frame.floor - foot) / frame.scale
    if max(width(line, WORD) for line in lines) > 1.8 * shape.radius(max(z, low)) * frame.scale:
        return
    y = frame.y(high) + 1.4
    for line in lines:
        y += step
        sheet.centred(frame.axis, y - 0.4, line, WORD)


def _solid(sheet: Sheet, shape: Shape, frame: Frame, spacing: float, rising: bool) -> None:
    solid = wall(frame, shape)
    sheet.painter.fillPath(solid, _PAPER)
    textures.hatch(sheet.painter, solid, BLACK, spacing, HAIR, rising)
    _outline(sheet, solid, 0.4)


def _outline(sheet: Sheet, path: QPainterPath, thick: float) -> None:
    pen = QPen(BLACK, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin)
    sheet.painter.setPen(pen)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.drawPath(path)
