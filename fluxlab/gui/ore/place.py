"""The Ore place: which ore, what it is made of, and what that makes in the pot."""

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.assay_part import AssayPart
from fluxlab.gui.ore.description import ShareTable
from fluxlab.gui.ore.facts_part import STAGES, FactsPart
from fluxlab.gui.ore.lot_part import LotPart
from fluxlab.gui.ore.material_column import MaterialColumn
from fluxlab.gui.ore.share_columns import Kind
from fluxlab.gui.ore.tree_column import TreeColumn
from fluxlab.gui.tables.explaining import explain_here
from fluxlab.gui.tables.heading import Heading
from fluxlab.gui.tables.label import Label
from fluxlab.gui.tables.numbers import exact
from fluxlab.gui.tables.page import Page, PageColumn, Room
from fluxlab.gui.tables.switch import Switch
from fluxlab.gui.widgets.section import Section

OPEN_VIEW = "ore.open"
WAYS = (("minerals", "Minerals by eye"), ("oxides", "Oxide assay"), ("elements", "Element assay"))
KINDS: tuple[Kind, ...] = ("minerals", "oxides", "elements")
WORDS: dict[Kind, str] = {"minerals": "the minerals", "oxides": "the oxide assay", "elements": "the element assay"}


class OrePlace(QWidget):
    """Tree, description, material."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.tree = TreeColumn(bench)
        self.heading = Heading("")
        self.switch = Switch("Described by", WAYS)
        self.switch.chosen.connect(lambda kind: bench.do(edits.set_known_by, kind))
        self.note = Label("", 13, "ink2")
        self.tables: dict[Kind, ShareTable] = {kind: ShareTable(bench, kind) for kind in KINDS}
        self.assay = AssayPart(bench)
        self.facts = FactsPart(bench)
        self.lot = LotPart(bench)
        self.material = MaterialColumn(bench)
        self.page = Page("Ore", self)
        self.page.add(self.tree, Room(190, 214))
        self.page.add(self._middle(), Room(470, 560, 1))
        self.page.add(self.material, Room(340, 378))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.page)
        bench.changed.connect(self.refresh)

    def _middle(self) -> PageColumn:
        column = PageColumn()
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 8)
        line.setSpacing(13)
        line.addWidget(self.switch)
        line.addWidget(self.note)
        line.addStretch(1)
        column.body.addWidget(self.heading)
        column.body.addLayout(line)
        for table in self.tables.values():
            column.body.addWidget(table)
        column.body.addSpacing(12)
        column.body.addWidget(self.assay)
        column.body.addSpacing(12)
        column.body.addWidget(self.facts)
        column.body.addSpacing(12)
        column.body.addWidget(self.lot)
        column.body.addStretch(1)
        return column

    @property
    def table(self) -> ShareTable:
        """The table of the description that counts."""
        return self.tables[self.bench.work.recipe.ore.known_by]

    def refresh(self) -> None:
        """Show the ore on the bench as it is now."""
        if not self.isVisible():
            return
        recipe = self.bench.work.recipe
        ore = recipe.ore
        self.tree.show_bench()
        self.heading.set_title(ore.name[:1].upper() + ore.name[1:])
        self.heading.note.set_words(f"{exact(recipe.charge)} g of {STAGES[recipe.pot_feed]} in the pot")
        self.switch.set_way(ore.known_by)
        self.note.set_words(self._kept_words())
        for kind, table in self.tables.items():
            table.setVisible(kind == ore.known_by)
        self.table.show_ore(ore)
        self.assay.setVisible(ore.known_by != "minerals")
        if ore.known_by != "minerals":
            self.assay.show_ore(ore)
        self.facts.show_ore(ore)
        self.lot.show_ore(ore)
        self.material.refresh()
        self.setFocusProxy(self.table.view)

    def _kept_words(self) -> str:
        ore = self.bench.work.recipe.ore
        others = [WORDS[kind] for kind in KINDS if kind != ore.known_by and getattr(ore, kind)]
        return (
            f"{' and '.join(others)} {'are' if len(others) > 1 or 'min' in others[0] else 'is'} kept"
            if others
            else "one of them is enough"
        )

    def left_at(self) -> dict[str, str]:
        """The parts that were opened, for the next start."""
        return {OPEN_VIEW: ",".join(part.fold for part in self._foldable() if not part.is_folded)}

    def put_back(self, views: dict[str, str]) -> None:
        """Open the parts that were left open."""
        opened = views.get(OPEN_VIEW, "").split(",")
        for part in self._foldable():
            part.set_folded(part.fold not in opened)

    def _foldable(self) -> tuple[Section, ...]:
        return self.material.programme, self.material.own, self.material.own_programme, self.lot.own

    def new_ore_type(self) -> None:
        """Ask the three things that a new ore type needs."""
        self.tree.ask_new()

    def explain_here(self) -> bool:
        """Explain what the operator points at."""
        return explain_here(self)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for part in (self.table, self.facts, self.lot, self.material):
            part.commit_pending()
