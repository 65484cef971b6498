"""An empty pot or mould in section with its inside dimensions."""

from PySide6.QtCore import QLineF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.explain import Explanation
from fluxlab.gui.tokens import Tokens
from fluxlab.gui.vessel.frame import Frame
from fluxlab.gui.vessel.from_rim import draw_marks, side_room
from fluxlab.gui.vessel.marks import centre_line
from fluxlab.gui.vessel.shape import Shape, mould_shape, pot_shape
from fluxlab.gui.vessel.walls import draw_clay, draw_iron
from fluxlab.gui.widgets import text as type_
from fluxlab.vessel.vessel_types import Crucible, Mould

MOST = 2.0
"""Largest scale of the drawing [px/mm]."""
HIGH = 250


def level_marks(pot: Crucible) -> tuple[float, float] | None:
    """Heights of the half and two-thirds marks [mm], None when the dimensions make no pot."""
    from fluxlab.vessel.crucible import crucible_profile
    from fluxlab.vessel.filling import marks

    profile, _ = crucible_profile(pot)
    if profile is None:
        return None
    found = marks(profile)
    return found.half, found.two_thirds


class VesselDrawing(QWidget):
    """The drawing; as large as its room allows, never larger than 2 px/mm."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.explanation: Explanation | None = None
        self._vessel: Crucible | Mould | None = None
        self._shape: Shape | None = None
        self._marks: tuple[float, float] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        theme.notifier().theme_changed.connect(self.update)

    def show_vessel(self, vessel: Crucible | Mould | None) -> None:
        """Draw a vessel."""
        if vessel == self._vessel:
            return
        self._vessel = vessel
        if isinstance(vessel, Crucible):
            self._shape, self._marks = pot_shape(vessel), level_marks(vessel)
        else:
            self._shape, self._marks = (mould_shape(vessel) if vessel else None), None
        name = vessel.name if vessel else "nothing"
        shape = self._shape
        size = f", rim radius {shape.rim_radius:.0f} mm, depth {shape.depth:.0f} mm" if shape else ", no shape"
        self.setAccessibleName(f"Section of {name}{size}")
        self.update()

    def sizeHint(self) -> QSize:
        """As tall as the vessels of the pictures."""
        return QSize(300, theme.scaled(HIGH))

    def minimumSizeHint(self) -> QSize:
        """Still readable."""
        return QSize(200, theme.scaled(140))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw wall, centre line, marks and dimensions."""
        shape = self._shape
        if shape is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        t = theme.tokens()
        above, beside = theme.scaled(34), side_room() + theme.scaled(56)
        scale = min(
            MOST,
            (self.height() - above - 6) / (shape.depth + shape.foot),
            (self.width() - 2 * beside) / (2 * shape.half_width),
        )
        if scale <= 0:
            return
        frame = Frame(self.width() / 2, above + shape.depth * scale, scale)
        draw_wall = draw_clay if isinstance(self._vessel, Crucible) else draw_iron
        draw_wall(painter, frame, shape, t)
        centre_line(painter, frame.axis, frame.y(shape.depth) - 8, frame.y(-shape.foot) + 4, t.ink2)
        if self._marks is not None:
            draw_marks(painter, frame, shape, *self._marks, t)
        _dimensions(painter, frame, shape, t)


def _dimensions(painter: QPainter, frame: Frame, shape: Shape, t: Tokens) -> None:
    """The depth at the left and the width of the rim on top, each with oblique strokes and its number on a plate."""
    rim, floor = frame.y(shape.depth), frame.y(0.0)
    left, right = frame.x(-shape.rim_radius), frame.x(shape.rim_radius)
    x, y = frame.x(-shape.half_width) - theme.scaled(28), rim - theme.scaled(18)
    painter.setPen(QPen(t.edge, 1.0))
    painter.drawLine(QLineF(x - 7, rim, frame.x(-shape.half_width) - 3, rim))
    painter.drawLine(QLineF(x - 7, floor, frame.x(-shape.outer_radius(0.0)) - 3, floor))
    for end in (left, right):
        painter.drawLine(QLineF(end, rim - 3, end, y - 6))
    _measure(painter, QLineF(x, rim, x, floor), f"{shape.depth:.0f} mm", t)
    _measure(painter, QLineF(left, y, right, y), f"⌀ {2 * shape.rim_radius:.0f} mm", t)


def _measure(painter: QPainter, line: QLineF, words: str, t: Tokens) -> None:
    painter.setPen(QPen(t.ink, 1.0))
    painter.drawLine(line)
    painter.setPen(QPen(t.ink, 1.6))
    for end in (line.p1(), line.p2()):
        painter.drawLine(QLineF(end.x() - 5, end.y() + 5, end.x() + 5, end.y() - 5))
    wide, middle = type_.width(words, 13, True) + 8, line.center()
    plate = QRectF(middle.x() - wide / 2, middle.y() - theme.scaled(9), wide, theme.scaled(18))
    painter.fillRect(plate, t.sheet)
    type_.centred(painter, middle.x(), type_.middle(plate, 13, True), words, 13, t.ink, True)
