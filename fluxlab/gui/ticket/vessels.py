"""Pot and mould on paper: black only, with the few millimetres that matter at the furnace."""

from fluxlab.design.ticket import Ticket
from fluxlab.gui.ticket.key import draw_key, key_height, layers_of_pot
from fluxlab.gui.ticket.section import BOTH, MARK, NUMBER, RIGHT, WORD, draw_layers, outline, plate, solid
from fluxlab.gui.ticket.sheet import BLACK, HAIR, RULE, Sheet, capital, leading
from fluxlab.gui.vessel import textures
from fluxlab.gui.vessel.frame import Frame, heap
from fluxlab.gui.vessel.from_report import first_heap, shape_of_mould, shape_of_pot
from fluxlab.gui.vessel.shape import Shape

HEAD, HEAPED, UNDER = 5.5, 8.0, leading(WORD) + 0.4
_MARKS = 7.5
_BETWEEN = 3.0
_LEFT = (-1.0,)


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


def foot_room(ticket: Ticket, wide: float) -> float:
    """Room under the ground line for the words about the layers [mm]."""
    return UNDER + key_height(ticket, wide)


def drawing_scale(ticket: Ticket, wide: float, high: float) -> float:
    """The scale of both drawings [mm on paper per mm], so that they stand side by side in the room [mm]."""
    shapes = [shape for shape in shapes_of(ticket) if shape]
    across = sum(2.0 * shape.half_width for shape in shapes)
    tall = max((shape.depth + shape.foot for shape in shapes), default=1.0)
    return min((wide - _MARKS - _BETWEEN) / across, (high - head_room(ticket)) / tall) if shapes else 0.0


def drawings_height(ticket: Ticket, wide: float, high: float) -> float:
    """Height that the drawings take in a room, with the words under them [mm]."""
    shapes = [shape for shape in shapes_of(ticket) if shape]
    if not shapes:
        return 0.0
    scale = drawing_scale(ticket, wide, high)
    drawn = head_room(ticket) + scale * max(shape.depth + shape.foot for shape in shapes)
    return drawn + foot_room(ticket, wide)


def draw_vessels(sheet: Sheet, ticket: Ticket, left: float, top: float, wide: float, high: float) -> None:
    """Draw pot and mould side by side on one ground line, in a room of a width and height [mm], words under them."""
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
            _moments(sheet, frame.axis, ground)
        else:
            _mould(sheet, ticket, shape, frame)
        x += 2.0 * shape.half_width * scale + gap
    draw_key(sheet, ticket, left + 1.0, ground + UNDER, wide - 1.0)


def _pot(sheet: Sheet, ticket: Ticket, shape: Shape, frame: Frame) -> None:
    """Left of the axis the cold charge, right of it the quiet melt."""
    fill = ticket.fill
    if fill is None:
        return
    level, part = first_heap(fill, shape.depth)
    if level > 0.0:
        body = heap(frame, shape, level, 0.0, _LEFT, 4.0 / frame.scale)
        textures.stipple(sheet.painter, body, BLACK, 1.15, 0.22)
        outline(sheet, body, RULE)
    draw_layers(sheet, layers_of_pot(ticket), shape, frame, RIGHT)
    solid(sheet, shape, frame, 1.25, rising=True)
    _from_the_rim(sheet, shape, frame, level)
    if part:
        plate(sheet, frame.axis, frame.y(0.45 * level), part, WORD, False)
    y = frame.y(fill.two_thirds_level)
    inner = shape.radius(fill.two_thirds_level) * frame.scale
    outer = shape.outer_radius(fill.two_thirds_level) * frame.scale
    for side in BOTH:
        sheet.stroke(frame.axis + side * (inner - 1.3), y, frame.axis + side * (outer + 1.3), y, 0.5)
    sheet.right(frame.axis - outer - 1.8, y + capital(MARK) / 2.0, "⅔", MARK)


def _from_the_rim(sheet: Sheet, shape: Shape, frame: Frame, level: float) -> None:
    """How far the cold charge stands below or over the rim."""
    rim, gap = frame.y(shape.depth), shape.depth - level
    words = f"{abs(gap):.0f} mm" + (" over" if gap <= -0.5 else "")
    if gap <= -0.5:
        sheet.centred(frame.axis, rim - 4.6, words, NUMBER, True)
        return
    inside = shape.rim_radius * frame.scale
    sheet.dashes(frame.axis - inside, frame.axis + inside, rim, 1.2, 0.8, HAIR)
    _between(sheet, frame.axis, rim, frame.y(level), words)


def _between(sheet: Sheet, x: float, top: float, bottom: float, words: str) -> None:
    sheet.stroke(x, top, x, bottom, HAIR)
    high = capital(NUMBER, True) + 1.6
    roomy = bottom - top > high + 1.0
    plate(sheet, x, (top + bottom) / 2.0 if roomy else bottom + 0.6 + high / 2.0, words, NUMBER, True)


def _moments(sheet: Sheet, axis: float, ground: float) -> None:
    """Which half is cold and which is hot, under the pot."""
    baseline = ground + UNDER - 1.0
    sheet.right(axis - 1.2, baseline, "cold", WORD)
    sheet.left(axis + 1.2, baseline, "hot", WORD)
    sheet.stroke(axis, ground + 0.4, axis, baseline + 0.3, HAIR)


def _mould(sheet: Sheet, ticket: Ticket, shape: Shape, frame: Frame) -> None:
    poured = ticket.mould_fill
    if poured is None:
        return
    draw_layers(sheet, ticket.poured, shape, frame, BOTH)
    solid(sheet, shape, frame, 0.85, rising=False)
    rim = frame.y(shape.depth)
    over = poured.freeboard <= -0.5
    inside = shape.rim_radius * frame.scale
    if not over:
        sheet.dashes(frame.axis - inside, frame.axis + inside, rim, 1.2, 0.8, HAIR)
    words = f"{abs(poured.freeboard):.0f} mm {'over' if over else 'free'}"
    sheet.centred(frame.axis, rim - 1.8, words, NUMBER, True)
