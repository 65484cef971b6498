"""The slag by the book: degree under its three conventions, the other ratios, and what it is made of."""

from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import IndexReport, Report, ShareRow, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.tables.copied import CopiedTable
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.rail import RailSpec, broken_colour, draw_rail, nice_top

DEGREES = (("S", "S"), ("SB", "SB"), ("SBA base", "SBA"), ("SBA acid", "SBA"))
DEGREE_NOTES = ("silica only", "with boron", "alumina base", "alumina acid")
OXIDE_ROW = 20


def _figure(value: float | None, places: int = 2) -> str:
    return "–" if value is None else show_number(value, places)


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a row: what F1 explains it by, its name, the figure, the note under it, and whether it is meant."""

    key: str
    name: str
    figure: str
    note: str
    meant: bool = False


def degree_figures(indices: IndexReport, meant: str) -> tuple[Figure, ...]:
    """The silicate degree as each convention counts it; the target's one is marked."""
    return tuple(
        Figure("degree", name, _figure(indices.degree.get(key)), note, key == meant)
        for (key, name), note in zip(DEGREES, DEGREE_NOTES, strict=True)
    )


def ratio_figures(indices: IndexReport) -> tuple[Figure, ...]:
    """Basicities and the openness of the network."""
    boron = _figure(indices.nbo_per_t_with_boron)
    return (
        Figure("basicity_mass", "Basicity", _figure(indices.basicity_mass), "by mass"),
        Figure("basicity_mole", "Basicity", _figure(indices.basicity_mole), "by mole"),
        Figure("optical", "Optical", _figure(indices.optical_basicity, 3), "basicity"),
        Figure("nbo", "NBO/T", _figure(indices.nbo_per_t), f"{boron} with B"),
    )


class Figures(QWidget):
    """Figures side by side, each between its name and a note; the one that a target means is violet."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self.figures: tuple[Figure, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, figures: tuple[Figure, ...]) -> None:
        """Show figures."""
        if figures != self.figures:
            self.figures = figures
            words = "; ".join(
                f"{f.name} {f.figure}, {f.note}{', meant by the target' if f.meant else ''}" for f in figures
            )
            self.setAccessibleName(f"{self._name}: {words}")
            self.update()

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        number = len(self.figures) * place.x() // max(1, self.width())
        return self.figures[number].key if 0 <= number < len(self.figures) else "slag"

    def sizeHint(self) -> QSize:
        """Three lines."""
        return QSize(330, theme.scaled(59))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the figures."""
        painter = QPainter(self)
        t = theme.tokens()
        step = self.width() / max(1, len(self.figures))
        for k, f in enumerate(self.figures):
            x = k * step
            colour = t.hand if f.meant else t.ink
            quiet = t.hand if f.meant else t.ink2
            type_.left(painter, x, theme.scaled(13), f.name, 12, quiet, f.meant)
            end = type_.left(painter, x, theme.scaled(35), f.figure, 18, colour, f.meant)
            if f.meant:
                painter.fillRect(QRectF(x, theme.scaled(39), end - x, 2), t.hand)
            type_.left(painter, x, theme.scaled(53), f.note, 12, quiet)


class Oxides(CopiedTable):
    """What the slag is made of, as rails in mass per cent; limits of the targets stand on them in violet."""

    holds, file_name = "composition", "slag.csv"

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[tuple[str, str, RailSpec], ...] = ()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
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

    def as_rows(self) -> list[list[str]]:
        """The composition as plain text under a line of titles."""
        return [["Oxide", "Mass %"], *([name, figure] for name, figure, _ in self.rows)]

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
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(t.hand, 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)


def _oxide_rail(row: ShareRow, limits: dict[str, TargetReport], top: float) -> RailSpec:
    target = limits.get(row.name)
    likely = None
    if row.percent.low is not None and row.percent.high is not None:
        likely = (row.percent.low, row.percent.high)
    if target is None or not target.on:
        return RailSpec(0.0, top, row.percent.value, likely)
    return RailSpec(0.0, top, row.percent.value, likely, target.lo, target.hi, target.lo_kind, target.hi_kind)
