"""What moves the slag: signed bars, what one part more of a flux or an ore oxide does to it."""

from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.fluid_types import Move
from fluxlab.gui import theme
from fluxlab.gui.charts.marks import focus_frame
from fluxlab.gui.tables.copied import CopiedTable
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number

ROW = 20
HEAD = 22
GROUP = 24
NAME = 106
COLUMNS = ("Degree", "Basicity", "Viscosity")
GROUPS = {"flux": "One part more of a flux, to 100 of slag", "oxide": "One part more of an oxide of the ore"}


@dataclass(frozen=True, slots=True)
class Bar:
    """One change: how far along its column (-1 to 1), and in words."""

    share: float
    words: str


def signed(value: float, places: int) -> str:
    """A change with its sign; a zero has none."""
    words = show_number(abs(value), places)
    if not float(f"{abs(value):.{places}f}"):
        return words
    return f"{'+' if value > 0 else '−'}{words}"


def thinner(change: float) -> str:
    """A change of log10 of the viscosity as a change of the viscosity [%]."""
    return f"{signed(100.0 * (10.0**change - 1.0), 1)} %"


def bars_of(moves: tuple[Move, ...]) -> list[tuple[Bar | None, Bar | None, Bar | None]]:
    """The three bars of each move; a column's longest fills its half."""
    columns = [
        [move.degree for move in moves],
        [move.basicity for move in moves],
        [move.viscosity for move in moves],
    ]
    tops = [max((abs(v) for v in column if v is not None), default=0.0) or 1.0 for column in columns]
    told = (lambda v: signed(v, 3), lambda v: signed(v, 3), thinner)

    def bar(k: int, value: float | None) -> Bar | None:
        return None if value is None else Bar(value / tops[k], told[k](value))

    return [(bar(0, m.degree), bar(1, m.basicity), bar(2, m.viscosity)) for m in moves]


class Moves(CopiedTable):
    """Three columns of bars; to the right of a column's middle is more."""

    holds, file_name = "changes", "what-moves-it.csv"

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.moves: tuple[Move, ...] = ()
        self.bars: list[tuple[Bar | None, Bar | None, Bar | None]] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._say()
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, moves: tuple[Move, ...]) -> None:
        """Show what moves the slag."""
        if moves == self.moves:
            return
        if len(moves) != len(self.moves):
            self.updateGeometry()
        self.moves, self.bars = moves, bars_of(moves)
        self._say()
        self.update()

    def _say(self) -> None:
        said = [
            f"{move.name}: "
            + ", ".join(f"{c.lower()} {bar.words}" for c, bar in zip(COLUMNS, bars, strict=True) if bar is not None)
            for move, bars in zip(self.moves, self.bars, strict=True)
            if any(bars)
        ]
        self.setAccessibleName("What moves it, one part more to 100 of slag: " + ("; ".join(said) or "not known"))

    def key_at(self, place: QPoint) -> str:
        """What F1 explains here."""
        return "moves"

    def as_rows(self) -> list[list[str]]:
        """The changes as plain text under a line of titles; the viscosity as the change of its logarithm."""
        rows = [["One part more of", "is a", "Degree", "Basicity", "log10 viscosity"]]
        for move in self.moves:
            figures = (move.degree, move.basicity, move.viscosity)
            rows.append([move.name, move.kind, *("" if f is None else show_number(f, 4) for f in figures)])
        return rows

    def _groups(self) -> list[tuple[str, list[int]]]:
        found = [(kind, [k for k, move in enumerate(self.moves) if move.kind == kind]) for kind in GROUPS]
        return [(kind, rows) for kind, rows in found if rows]

    def sizeHint(self) -> QSize:
        """A row for each move, a line over each group."""
        groups = len(self._groups())
        tall = ROW * len(self.moves) + GROUP * groups + (HEAD if groups else 0)
        return QSize(330, theme.scaled(tall) + (4 if groups else 0))

    def minimumSizeHint(self) -> QSize:
        """Nothing is cut."""
        return QSize(theme.scaled(300), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the bars."""
        if not self.moves:
            return
        painter = QPainter(self)
        t = theme.tokens()
        name = theme.scaled(NAME)
        step = (self.width() - name) / len(COLUMNS)
        for k, title in enumerate(COLUMNS):
            type_.centred(painter, name + (k + 0.5) * step, theme.scaled(15), title, 12, t.ink2)
        y = float(theme.scaled(HEAD))
        for kind, rows in self._groups():
            painter.fillRect(QRectF(0, y, self.width(), 1), t.edge)
            type_.left(painter, 0, y + theme.scaled(16), GROUPS[kind], 12, t.ink2)
            y += theme.scaled(GROUP)
            for k in rows:
                self._row(painter, QRectF(0, y, self.width(), theme.scaled(ROW)), k, name, step)
                y += theme.scaled(ROW)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            focus_frame(painter, QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _row(self, painter: QPainter, box: QRectF, k: int, name: float, step: float) -> None:
        t = theme.tokens()
        move = self.moves[k]
        words = type_.formula(move.name) if move.kind == "oxide" else move.name
        if type_.width(words, 12) > name - 4:
            words = words.partition(" (")[0]
        size = 13.0 if type_.width(words, 13, True) <= name - 4 else 12.0
        bold = type_.width(words, size, True) <= name - 4
        type_.left(painter, 0, type_.middle(box, size, bold), words, size, t.ink, bold)
        for number, bar in enumerate(self.bars[k]):
            _bar(painter, QRectF(name + number * step, box.top(), step, box.height()), bar)
        painter.fillRect(QRectF(0, box.top(), box.width(), 1), t.rule)


def _bar(painter: QPainter, box: QRectF, bar: Bar | None) -> None:
    t = theme.tokens()
    figure = theme.scaled(50)
    middle = round(box.left() + 2 + (box.width() - figure) / 2)
    half = (box.width() - figure) / 2 - 5
    painter.fillRect(QRectF(middle, box.top() + 3, 1, box.height() - 5), t.edge)
    base = type_.middle(box, 12)
    if bar is None:
        type_.right(painter, box.right(), base, "–", 12, t.ink3)
        return
    long = bar.share * half
    tall = max(6, round(box.height() * 0.45))
    top = round(box.center().y() - tall / 2)
    if abs(long) >= 0.5:
        painter.fillRect(QRectF(middle + 1 if long > 0 else middle + long, top, abs(long), tall), t.ink2)
    type_.right(painter, box.right(), base, bar.words, 12, t.ink)
