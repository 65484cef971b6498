"""The right column of the Ore place: heaps, metals, roast, and the material in the pot as oxides."""

from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.heaps_part import HeapsPart
from fluxlab.gui.ore.metals_part import MetalsPart
from fluxlab.gui.ore.own_programme import OwnProgrammePart
from fluxlab.gui.ore.own_roast_part import OwnRoastPart
from fluxlab.gui.ore.programme_part import ProgrammePart
from fluxlab.gui.ore.roast_part import RoastPart
from fluxlab.gui.tables.facts import Figures
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.oxide_rows import OxideRow, OxideTable
from fluxlab.gui.tables.page import PageColumn
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

TITLES = {
    "ore": "The raw ore as oxides",
    "concentrate": "The concentrate as oxides",
    "calcine": "The calcine as oxides",
}
UNROASTED = {
    "ore": "Nothing is roasted: the material goes into the pot raw.",
    "concentrate": "Nothing is roasted: the material goes into the pot raw.",
    "calcine": "The calcine itself is described, nothing is roasted here.",
}
NOTHING_KNOWN = "Not known until the ore is described."
GAP = 8


class MaterialColumn(PageColumn):
    """Reads the report; the grades and the roast can be changed here."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.heaps = HeapsPart()
        self.metals = MetalsPart(bench)
        self.way = Section("From raw to calcine", "heaps to scale, by volume")
        self.way.body.addWidget(self.heaps)
        self.way.body.addSpacing(4)
        self.way.body.addWidget(self.metals)
        self.roast = RoastPart(bench)
        self.programme = ProgrammePart()
        self.own = OwnRoastPart(bench)
        self.own_programme = OwnProgrammePart(bench)
        self.oxides = OxideTable("Oxides of the material in the pot")
        self.pot = Section("", "mass %, likely range")
        self.nothing = Words(NOTHING_KNOWN, 13, tone="ink2")
        self.pot.body.addWidget(self.nothing)
        self.pot.body.addWidget(self.oxides)
        self.oxides.explanation = explanations.OXIDES
        self.apart = Figures("Not in the slag model")
        self.beside = Section("Not in the slag model", "g in this charge")
        self.beside.body.addWidget(self.apart)
        self.apart.explanation = explanations.APART
        for part in (self.way, self.roast, self.programme, self.own, self.own_programme, self.pot, self.beside):
            self.body.addWidget(part)
            self.body.addSpacing(GAP)
        self.body.addStretch(1)

    def refresh(self) -> None:
        """Show the report of the bench."""
        report = self._bench.report
        recipe, ore = report.work.recipe, report.ore
        known = bool(ore.minerals or ore.oxides)
        self.heaps.show_report(report, known)
        self.metals.show_ore(recipe.ore)
        lot = len(self.heaps.heaps) == 3
        roasted = "From lot to calcine" if lot else "From raw to calcine"
        self.way.set_title(roasted if ore.roast is not None else "What goes into the pot")
        roast = ore.roast if known else None
        self.roast.show_report(report, roast, NOTHING_KNOWN if not known else UNROASTED[recipe.pot_feed])
        self.programme.show_roast(roast)
        self.own.refresh()
        self.own_programme.refresh()
        self.pot.set_title(TITLES[recipe.pot_feed])
        self.oxides.show_rows(
            [OxideRow(row.name, row.percent.value, row.percent.low, row.percent.high) for row in ore.oxides]
        )
        self.nothing.setVisible(not known)
        self.beside.setVisible(known and bool(ore.apart))
        self.apart.set_lines([(typeset(row.name), shown(row.grams, 2), "g") for row in ore.apart])

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for part in (self.metals, self.roast, self.own, self.own_programme):
            part.commit_pending()
