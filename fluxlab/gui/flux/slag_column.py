"""The middle column: the slag map, fluidity and what moves it, the slag by the book, the solver's words, the pour."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.report_types import SlagReport
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts.fluidity_part import Fluidity
from fluxlab.gui.charts.map_part import SlagMapPart
from fluxlab.gui.charts.moves_part import WhatMovesIt
from fluxlab.gui.flux.holds_part import WhatHoldsIt
from fluxlab.gui.flux.own_figures_part import CRYSTALS, POT, OwnFigures
from fluxlab.gui.flux.plan import Plan
from fluxlab.gui.flux.pot_part import InThePot
from fluxlab.gui.flux.slag_book import Figures, Oxides, degree_figures, ratio_figures
from fluxlab.gui.reading import reader
from fluxlab.gui.widgets.decision import Decision
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Caption, Words

GAP = 10
HEAD = 5, 24
"""Rule and title of a section: the rule stays, the title grows with the text [px]."""
MAP, LEAST_MAP, FLUIDITY, LEAST_FLUIDITY, MOST_FLUIDITY = 322, 262, 206, 128, 280
"""Heights of both charts in px of the grid: as in the pictures, where height is short, where there is plenty."""


class SlagColumn(QWidget):
    """Everything about the slag, what is predicted first, then what the books judge it by."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self._room = 0
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        book = Section("Slag by the book", "lead and copper count as slag", fold="slag")
        self.degrees, self.ratios, self.oxides = Figures("Silicate degree"), Figures("Other ratios"), Oxides()
        self.mass = Words("", 12, tone="ink2")
        self.ferric = Decision(
            "Iron left ferric",
            reader("share"),
            "%",
            0,
            1.0,
            may_be_empty=True,
            empty="by the route",
        )
        self.ferric.decided.connect(self._set_ferric)
        book.body.addWidget(self.degrees)
        book.body.addWidget(self.ratios)
        book.body.addSpacing(6)
        book.body.addWidget(self.oxides)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(Caption("Iron left ferric"))
        row.addWidget(self.ferric)
        row.addStretch(1)
        row.addWidget(self.mass, 0, Qt.AlignmentFlag.AlignVCenter)
        self.apart = Words("", 12, tone="ink2")
        book.body.addSpacing(3)
        book.body.addLayout(row)
        book.body.addWidget(self.apart)
        pour = Section("The pour", fold="pour")
        self.plan = Plan(bench)
        pour.body.addWidget(self.plan)
        self.holds = WhatHoldsIt(bench)
        self.pot, self.own_pot = InThePot(bench), OwnFigures(POT, bench)
        self.map = SlagMapPart(bench)
        self.own_crystals = OwnFigures(CRYSTALS, bench)
        self.fluidity, self.what_moves = Fluidity(bench), WhatMovesIt(bench)
        in_the_pot, melt = (self.pot, self.own_pot), (self.what_moves, self.own_crystals)
        self.parts = (self.map, self.fluidity, self.holds, *in_the_pot, *melt, book, pour)
        # what nobody sees while it is folded away, and which is read only when it is unfolded
        self._when_open: tuple[tuple[Section, Callable[[], None]], ...] = (
            (self.what_moves, self.what_moves.refresh),
            (book, self._refresh_book),
            (self.pot, self.pot.refresh),
        )
        for part, _ in self._when_open:
            part.folded.connect(self._unfolded)
        for part in self.parts:
            column.addWidget(part)
        column.addStretch(1)

    def _set_ferric(self, percent: float | None) -> None:
        self._bench.do("set_ferric_share", None if percent is None else percent / 100)

    def fit(self, room: int) -> None:
        """Share the height that can be seen at once [px]; what is below is reached by scrolling.

        Fluidity gives way first, then the map; where there is plenty the map takes it.
        """
        self._room = room
        rest = room - 2 * (HEAD[0] + theme.scaled(HEAD[1])) - GAP
        liked, least = theme.scaled(FLUIDITY), theme.scaled(LEAST_FLUIDITY)
        fluidity = max(least, min(liked, rest - theme.scaled(MAP)))
        shape = max(theme.scaled(MAP), round(0.92 * self.width()))
        tall = max(theme.scaled(LEAST_MAP), min(rest - fluidity, shape))
        self.map.chart.set_height(tall)
        self.fluidity.chart.set_height(max(fluidity, min(rest - tall, theme.scaled(MOST_FLUIDITY))))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A wider column has room for a taller map."""
        self.fit(self._room)

    def refresh(self) -> None:
        """Show the bench as it is now."""
        self.map.refresh()
        self.fluidity.refresh()
        self.plan.refresh()
        self.holds.refresh()
        self.own_pot.refresh()
        self.own_crystals.refresh()
        for part, refresh in self._when_open:
            if not part.is_folded:
                refresh()

    def _unfolded(self, fold: str, folded: bool) -> None:
        """Bring a part up to date that was folded away while the recipe changed."""
        if not folded:
            next(refresh for part, refresh in self._when_open if part.fold == fold)()

    def _refresh_book(self) -> None:
        report, recipe = self._bench.report, self._bench.work.recipe
        target = next((t for t in recipe.targets if t.key == "degree" and t.on), None)
        meant = "" if target is None else target.convention or "SB"
        self.degrees.refresh(degree_figures(report.slag.indices, meant))
        self.ratios.refresh(ratio_figures(report.slag.indices))
        self.oxides.refresh(report)
        share = recipe.ferric_share
        self.ferric.set_empty(f"by the route, {100 * report.slag.ferric_share:.0f} %")
        self.ferric.set_value(None if share is None else 100 * share)
        self.mass.set_words(_mass_words(report.slag.mass, report.slag.volume.value))
        self.apart.set_words(_apart_words(report.slag))
        self.apart.setVisible(bool(self.apart.words))

    def commit_pending(self) -> None:
        """Take what an open field holds."""
        self.ferric.commit()
        self.plan.commit_pending()
        self.own_pot.commit_pending()
        self.own_crystals.commit_pending()


def _apart_words(slag: SlagReport) -> str:
    """What the slag leaves out; empty when it holds everything."""
    named = ", ".join(f"{row.name} {show_number(row.grams, 1)} g" for row in slag.apart)
    return f"In the charge, not in the slag model: {named}." if named else ""


def _mass_words(mass: float, volume: float) -> str:
    return f"{show_number(mass, 0)} g oxides, {show_number(volume, 0)} mL hot"
