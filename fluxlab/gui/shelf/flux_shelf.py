"""The fluxes on the shelf: their table, the card of the chosen one, and what can be done with them."""

from dataclasses import replace
from functools import partial

from PySide6.QtCore import QObject, QPoint
from PySide6.QtWidgets import QWidget

from fluxlab.design import edits
from fluxlab.design.batch import jar_of_lines
from fluxlab.gui.bridge import Bench
from fluxlab.gui.shelf import naming
from fluxlab.gui.shelf.batch_panel import BatchPanel
from fluxlab.gui.shelf.composition import with_densities_of_parts
from fluxlab.gui.shelf.flux_card import EMPTY, FluxCard
from fluxlab.gui.shelf.flux_columns import flux_columns
from fluxlab.gui.shelf.in_use import flux_in_use
from fluxlab.gui.tables.model import GridModel
from fluxlab.gui.tables.view import GridView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.materials.flux_types import ByParts, Component

ROW = 42
NEW = (("formula", "By its formula"), ("analysis", "By its analysis"), ("parts", "As a jar of other components"))


class FluxShelf(QObject):
    """Keeps table and card together; the draft of a new flux lives in the card until it is put on the shelf."""

    def __init__(self, bench: Bench, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bench, self._currency = bench, bench.work.shelf.currency
        self.model: GridModel[Component] = GridModel(flux_columns(bench), key=lambda r: r.uid, parent=self)
        self.table = GridView("Fluxes on the shelf", ROW)
        self.table.show_model(self.model)
        self.table.fill_menu = self._fill_menu
        self.table.removed.connect(self.remove_rows)
        self.table.may_duplicate = True
        self.table.duplicated.connect(lambda row: self.duplicate(self.model.rows[row]))
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._show_current())
        self.card = FluxCard(bench)
        self.card.edited.connect(lambda component: bench.do(edits.put_flux, component))
        self.card.placed.connect(self._place)
        self.card.left.connect(self.leave_draft)
        self.card.batch_wanted.connect(self.open_batch)
        self.add = Button("Add flux", "text", "plus")
        self.add.clicked.connect(self._open_new)
        self.tools: tuple[QWidget, ...] = (self.add,)

    def refresh(self) -> None:
        """Show the shelf of the bench."""
        fluxes = self._bench.work.shelf.fluxes
        if self._bench.work.shelf.currency != self._currency:
            self._currency = self._bench.work.shelf.currency
            self.model.set_columns(flux_columns(self._bench))
        names = [flux.name for flux in self.model.rows]
        self.model.set_rows(fluxes)
        if names != [flux.name for flux in fluxes]:
            # Jars name their parts.
            self.model.redraw()
        if self.card.draft and self.card.component is not None:
            self.card.show_component(self.card.component, draft=True)
        else:
            if not self.table.currentIndex().isValid() and fluxes:
                self.table.choose_row(0)
            self._show_current()

    def note(self) -> str:
        """How many there are, in words."""
        count = len(self.model.rows)
        return "No flux on the shelf yet" if not count else f"{count} flux{'es' if count != 1 else ''}"

    def commit_pending(self) -> None:
        """Take what is being typed."""
        self.table.commit_pending()
        self.card.commit_pending()

    def current(self) -> Component | None:
        """The flux that the table has chosen."""
        row = self.table.currentIndex().row()
        return self.model.rows[row] if 0 <= row < len(self.model.rows) else None

    def _show_current(self) -> None:
        found = self.current()
        self.card.setEnabled(found is not None)
        if found is not None:
            self.card.show_component(found)

    def choose(self, uid: str) -> None:
        """Choose a flux in the table."""
        row = next((i for i, c in enumerate(self.model.rows) if c.uid == uid), None)
        if row is not None:
            self.table.choose_row(row)

    def _fill_menu(self, menu: Menu, row: int) -> None:
        flux = self.model.rows[row] if 0 <= row < len(self.model.rows) else None
        if flux is None:
            return
        menu.entry("Duplicate", lambda: self.duplicate(flux), "Ctrl+D")
        if isinstance(flux.made_of, ByParts):
            menu.entry("Weigh out a batch", lambda: self.open_batch(flux))
        menu.entry("Remove from the shelf", lambda: self.remove_rows([row]), "Del")
        menu.addSeparator()

    def _open_new(self) -> None:
        menu = Menu(self.add)
        for kind, words in NEW:
            menu.entry(words, partial(self.begin, kind))
        menu.addSeparator()
        lines = self._bench.report.lines
        some = any(line.grams > 0 for line in lines)
        menu.entry("As the recipe on the bench, mixed in one jar", self.begin_from_recipe, enabled=some)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.add.mapToGlobal(self.add.rect().bottomLeft()))

    def begin(self, kind: str) -> None:
        """Begin a new flux, described in one of the three ways; it is not on the shelf yet."""
        tags = frozenset[str]()
        draft = Component("", "", EMPTY[kind], tags=tags, source="entered by the operator; densities judgement")
        self._begin(draft)

    def begin_from_recipe(self) -> None:
        """Begin a jar that holds the fluxes of the recipe on the bench as they are now."""
        name = naming.free_name(f"Mix for {self._bench.work.recipe.ore.name}", self._bench.work.shelf.fluxes)
        jar = jar_of_lines(self._bench.report.lines)
        self._begin(Component("", name, jar, source=f"the recipe “{self._bench.work.recipe.name}”"))

    def _begin(self, draft: Component) -> None:
        self.card.setEnabled(True)
        self.card.show_component(draft, draft=True)
        self.card.name.setFocus()

    def leave_draft(self) -> None:
        """Give the draft up and show the chosen flux again."""
        self.card.draft = False
        self._show_current()
        self.table.setFocus()

    def _place(self, draft: Component) -> None:
        fluxes = self._bench.work.shelf.fluxes
        placed = replace(draft, name=draft.name.strip(), uid=naming.free_uid(draft.name, fluxes))
        if isinstance(placed.made_of, ByParts):
            placed = with_densities_of_parts(placed, placed.made_of, self._bench.work.shelf.flux)
        self.card.draft = False
        self._bench.do(edits.put_flux, placed)
        self.refresh()
        self.choose(placed.uid)
        self.table.setFocus()

    def duplicate(self, flux: Component) -> None:
        """Put a copy of a flux on the shelf."""
        copy = naming.copied(flux, self._bench.work.shelf.fluxes)
        self._bench.do(edits.put_flux, copy)
        self.refresh()
        self.choose(copy.uid)

    def remove_rows(self, rows: list[int]) -> None:
        """Take fluxes off the shelf; one that is in use stays, and it is said what needs it."""
        for flux in [self.model.rows[row] for row in rows]:
            sentence = flux_in_use(self._bench.work, flux.uid)
            if sentence:
                cell = self.table.visualRect(self.model.index(self.model.rows.index(flux), 0))
                whisper(self.table.viewport(), sentence, cell.bottomLeft() + QPoint(0, 4))
                return
            self._bench.do(edits.remove_shelf_flux, flux.uid)
        self.refresh()

    def open_batch(self, jar: Component) -> None:
        """Open the list of what to weigh for a batch of a jar."""
        panel = BatchPanel(jar, self._bench.work.shelf, self.card.window())
        panel.open_at(self.card.parts.batch if self.card.parts.isVisible() else self.add)
