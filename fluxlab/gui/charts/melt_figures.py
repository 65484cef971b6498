"""The melt in figures: temperatures on one scale against the pour, then density, surface tension and heat."""

from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.fluid_types import FluidReport, Likely
from fluxlab.gui import theme
from fluxlab.gui.charts.marks import focus_frame
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.rail import Limit, RailSpec, broken_colour, draw_rail

ROW = 36
TEMPERATURES: tuple[tuple[str, str, Limit], ...] = (
    ("leaves_pot", "Leaves the pot from", "must"),
    ("pour_wanted", "Thin enough from", "must"),
    ("liquidus", "Last crystal goes at", "wish"),
    ("melt_free", "All melted from", "wish"),
)
PROPERTIES = (
    ("density", "Density hot", "g/cm³", 2),
    ("surface_tension", "Surface tension", "mN/m", 0),
    ("heat", "Heat in the slag", "kJ", 0),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One figure: what F1 explains it by, its name, the figure, its unit, its range in words, and its rail."""

    key: str
    name: str
    figure: str
    unit: str
    likely: str
    rail: RailSpec | None


def rows_of(fluid: FluidReport | None) -> tuple[Row, ...]:
    """The figures that are known."""
    if fluid is None:
        return ()
    hot = [(key, name, kind, getattr(fluid, key)) for key, name, kind in TEMPERATURES]
    known = [likely for *_, likely in hot if likely is not None]
    ends = [*(v.low90 for v in known), *(v.high90 for v in known), fluid.pour]
    lo, hi = 50.0 * (min(ends) // 50.0), 50.0 * -(-max(ends) // 50.0)
    rows = [
        Row(
            f"fluid:{key}",
            name,
            show_number(likely.value, 0),
            "°C",
            _range(likely, 0),
            RailSpec(lo, hi, likely.value, (likely.low90, likely.high90), None, fluid.pour, "must", kind),
        )
        for key, name, kind, likely in hot
        if likely is not None
    ]
    for key, name, unit, places in PROPERTIES:
        found: Likely | None = getattr(fluid, key)
        if found is not None:
            rows.append(Row(f"fluid:{key}", name, show_number(found.value, places), unit, _range(found, places), None))
    return tuple(rows)


def _range(likely: Likely, places: int) -> str:
    return f"likely {show_number(likely.low90, places)} – {show_number(likely.high90, places)}"


class MeltFigures(QWidget):
    """One row a figure: name over its likely range, a rail against the pour where it is a temperature, the figure."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[Row, ...] = ()
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("The melt in figures: not known")
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, fluid: FluidReport | None) -> None:
        """Show the figures of the melt."""
        rows = rows_of(fluid)
        if rows == self.rows:
            return
        if len(rows) != len(self.rows):
            self.updateGeometry()
        self.rows = rows
        said = "; ".join(f"{row.name} {row.figure} {row.unit}, {row.likely}" for row in rows)
        self.setAccessibleName(f"The melt in figures: {said or 'not known'}")
        self.update()

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        number = place.y() // theme.scaled(ROW)
        return self.rows[number].key if 0 <= number < len(self.rows) else "moves"

    def sizeHint(self) -> QSize:
        """One row a figure."""
        return QSize(330, theme.scaled(ROW) * len(self.rows))

    def minimumSizeHint(self) -> QSize:
        """Nothing is cut."""
        return QSize(theme.scaled(290), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rows."""
        painter = QPainter(self)
        tall = theme.scaled(ROW)
        for k, row in enumerate(self.rows):
            self._row(painter, QRectF(0, k * tall, self.width(), tall), row)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            focus_frame(painter, QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _row(self, painter: QPainter, box: QRectF, row: Row) -> None:
        t = theme.tokens()
        painter.fillRect(QRectF(0, box.top(), box.width(), 1), t.rule)
        type_.left(painter, 0, box.top() + theme.scaled(16), row.name, 13, t.ink)
        type_.left(painter, 0, box.top() + theme.scaled(31), row.likely, 12, t.ink2)
        middle = QRectF(0, box.top() + 2, box.width(), box.height() - 2)
        unit = theme.scaled(46)
        colour = t.ink
        if row.rail is not None:
            left = theme.scaled(146)
            rail = QRectF(
                left, box.top() + theme.scaled(8), box.width() - left - unit - theme.scaled(46), theme.scaled(22)
            )
            draw_rail(painter, rail, row.rail, t)
            colour = broken_colour(row.rail.broken(), t, t.ink)
        base = type_.middle(middle, 15, True)
        type_.right(painter, box.width() - unit, base, row.figure, 15, colour, True)
        type_.left(painter, box.width() - unit + 4, base, row.unit, 12, t.ink2)
