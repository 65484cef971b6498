"""The slag by the book: degree under its three conventions, the other ratios, and what it is made of."""

from PySide6.QtCore import QPoint, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import IndexReport, Report, ShareRow, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.rail import RailSpec, broken_colour, draw_rail, nice_top

DEGREES = (("S", "S"), ("SB", "SB"), ("SBA base", "SBA"), ("SBA acid", "SBA"))
DEGREE_NOTES = ("silica only", "with boron", "alumina base", "alumina acid")
OXIDE_ROW = 21
INDEX_ROW = 24


def _figure(value: float | None, places: int = 2) -> str:
    return "–" if value is None else show_number(value, places)


class Degrees(QWidget):
    """The silicate degree as each convention counts it; the one the target means is violet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[tuple[str, ...], str] = ((), "")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, indices: IndexReport, meant: str) -> None:
        """Show the degrees; `meant` names the convention of the target, "" for none."""
        shown = (tuple(_figure(indices.degree.get(key)) for key, _ in DEGREES), meant)
        if shown != self._shown:
            self._shown = shown
            words = [f"{key} {figure}" for (key, _), figure in zip(DEGREES, shown[0], strict=True)]
            self.setAccessibleName(f"Silicate degree: {', '.join(words)}. The target means {meant or 'none'}.")
            self.update()

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "degree"

    def sizeHint(self) -> QSize:
        """Three lines."""
        return QSize(330, theme.scaled(66))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw four figures side by side."""
        figures, meant = self._shown
        if not figures:
            return
        painter = QPainter(self)
        t = theme.tokens()
        step = self.width() / len(DEGREES)
        for k, ((key, name), note) in enumerate(zip(DEGREES, DEGREE_NOTES, strict=True)):
            x = k * step
            mine = key == meant
            colour = t.hand if mine else t.ink
            type_.left(painter, x, theme.scaled(16), name, 12, t.hand if mine else t.ink2, mine)
            end = type_.left(painter, x, theme.scaled(40), figures[k], 18, colour, mine)
            if mine:
                painter.fillRect(QRectF(x, theme.scaled(44), end - x, 2), t.hand)
            type_.left(painter, x, theme.scaled(60), note, 12, t.hand if mine else t.ink2)


class Ratios(QWidget):
    """Basicities and network figures in two columns."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[tuple[str, str, str], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, indices: IndexReport) -> None:
        """Show the ratios."""
        rows = (
            ("basicity_mass", "Basicity, mass", _figure(indices.basicity_mass)),
            ("basicity_mole", "Basicity, mole", _figure(indices.basicity_mole)),
            ("optical", "Optical basicity", _figure(indices.optical_basicity, 3)),
            ("nbo", "NBO/T, with boron", f"{_figure(indices.nbo_per_t)}, {_figure(indices.nbo_per_t_with_boron)}"),
        )
        if rows != self.rows:
            self.rows = rows
            self.setAccessibleName("; ".join(f"{name} {figure}" for _, name, figure in rows))
            self.update()

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        row, column = place.y() // theme.scaled(INDEX_ROW), 2 * place.x() // max(1, self.width())
        number = 2 * row + column
        return self.rows[number][0] if 0 <= number < len(self.rows) else "slag"

    def sizeHint(self) -> QSize:
        """Half the rows high."""
        return QSize(330, theme.scaled(INDEX_ROW) * 2)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write names and figures."""
        painter = QPainter(self)
        t = theme.tokens()
        gutter = theme.scaled(22)
        wide = (self.width() - gutter) / 2
        tall = theme.scaled(INDEX_ROW)
        for k, (_, name, figure) in enumerate(self.rows):
            box = QRectF((k % 2) * (wide + gutter), (k // 2) * tall, wide, tall)
            painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 1), t.rule)
            base = type_.middle(box, 13)
            type_.left(painter, box.left(), base, name, 13, t.ink)
            type_.right(painter, box.right(), base, figure, 14, t.ink, True)


class Oxides(QWidget):
    """What the slag is made of, as rails in mass per cent; limits of the targets stand on them in violet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[tuple[str, str, RailSpec], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, report: Report, least: float = 0.05) -> None:
        """Show the oxides from `least` mass % on, the largest first."""
        shares = sorted(report.slag.oxides, key=lambda row: -row.percent.value)
        shares = [row for row in shares if row.percent.value >= least]
        limits = {target.key.removeprefix("cap:"): target for target in report.targets if target.key[:4] == "cap:"}
        top = nice_top(max((row.percent.value for row in shares), default=10.0))
        rows = tuple((row.name, show_number(row.percent.value, 1), _oxide_rail(row, limits, top)) for row in shares)
        if rows == self.rows:
            return
        if len(rows) != len(self.rows):
            self.updateGeometry()
        self.rows = rows
        self.setAccessibleName("The slag, mass per cent: " + ", ".join(f"{name} {figure}" for name, figure, _ in rows))
        self.update()

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "oxides"

    def sizeHint(self) -> QSize:
        """One row an oxide."""
        return QSize(330, theme.scaled(OXIDE_ROW) * len(self.rows))

    def minimumSizeHint(self) -> QSize:
        """Nothing is cut."""
        return QSize(200, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a rail for each oxide."""
        painter = QPainter(self)
        t = theme.tokens()
        tall = theme.scaled(OXIDE_ROW)
        name_room, figure_room = theme.scaled(62), theme.scaled(44)
        for k, (name, figure, spec) in enumerate(self.rows):
            box = QRectF(0, k * tall, self.width(), tall)
            if k:
                painter.fillRect(QRectF(0, box.top(), box.width(), 1), t.rule)
            base = type_.middle(box, 13, True)
            type_.left(painter, 0, base, type_.formula(name), 13, t.ink, True)
            rail = QRectF(name_room, box.top() + 3, box.width() - name_room - figure_room, tall - 6)
            draw_rail(painter, rail, spec, t)
            type_.right(painter, box.right(), base, figure, 13, broken_colour(spec.broken(), t, t.ink), True)


def _oxide_rail(row: ShareRow, limits: dict[str, TargetReport], top: float) -> RailSpec:
    target = limits.get(row.name)
    likely = None
    if row.percent.low is not None and row.percent.high is not None:
        likely = (row.percent.low, row.percent.high)
    if target is None or not target.on:
        return RailSpec(0.0, top, row.percent.value, likely)
    return RailSpec(0.0, top, row.percent.value, likely, target.lo, target.hi, target.lo_kind, target.hi_kind)
