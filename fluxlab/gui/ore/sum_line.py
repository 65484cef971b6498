"""The total under a double rule: what the likely shares add up to, and what is done about it."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.gui import theme
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.share_columns import Kind
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.widgets import text as type_
from fluxlab.issue import Issue, Severity
from fluxlab.ore.ore_types import Share

WHOLE, TOO_MUCH = 0.05, 120.0
ABOUT_SUM = " add up to "


def sum_words(kind: Kind, as_is: bool, shares: Sequence[Share]) -> str:
    """What is done with the sum of the likely shares, in a few words."""
    total = sum(share.likely for share in shares)
    if abs(total - 100.0) <= WHOLE:
        return "the likely shares add up to 100"
    if kind == "minerals":
        return "scaled to 100 for the reckoning" if total <= TOO_MUCH else "more than the whole"
    if total > 100.0:
        return "more than the whole, scaled to 100" if as_is else "more than the whole"
    return "the rest is not named" if as_is else "what the laboratory found"


def parted(issues: Sequence[Issue], where: str) -> tuple[Issue | None, tuple[Issue, ...]]:
    """The issue that speaks of the sum, and the other ones of this part; a mere note on the sum is said by the line."""
    own = [i for i in issues if i.where == where or i.where.startswith(where + ".")]
    about = next((i for i in own if ABOUT_SUM in i.sentence), None)
    rest = tuple(i for i in own if i is not about or i.severity is not Severity.NOTE)
    return about, rest


class SumLine(QWidget):
    """The line itself."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.explanation = explanations.SUM
        self._total, self._words, self._tone, self._right = "", "", "", 0.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_sum(self, total: float, places: int, words: str, severity: Severity | None, right: float) -> None:
        """Show a total [%] that ends at `right` px, and the words beside it."""
        self._total, self._words, self._right = shown(total, places), words, right
        self._tone = {Severity.ERROR: "no", Severity.WARNING: "close"}.get(severity, "") if severity else ""
        self.setAccessibleName(f"Sum {self._total} %, {words}")
        self.update()

    def sizeHint(self) -> QSize:
        """Under the double rule."""
        return QSize(300, theme.scaled(44))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rules, the total and the words."""
        painter = QPainter(self)
        t = theme.tokens()
        for y in (0, 3):
            painter.fillRect(QRectF(0, y, self.width(), 1.5), t.ink)
        colour = {"no": t.no, "close": t.close}.get(self._tone, t.ink)
        box = QRectF(0, 5, self.width(), self.height() - 5)
        base = type_.middle(box, 16, True)
        type_.left(painter, 6, base, "Sum", 14, t.ink, True)
        type_.right(painter, self._right, base, self._total, 16, colour, True)
        type_.left(painter, self._right + 6, base, "%", 12, t.ink2)
        ink = colour if self._tone else t.ink2
        type_.right(painter, self.width(), base, self._words, 13, ink)
