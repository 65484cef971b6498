"""The flux table with its title line, its total and its tools."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.add_flux import AddFlux
from fluxlab.gui.flux.columns import COLUMNS, FIRST_VIEW, Col
from fluxlab.gui.flux.limits_editor import LimitsEditor
from fluxlab.gui.flux.table_model import FluxModel
from fluxlab.gui.flux.table_view import FluxView
from fluxlab.gui.flux.total import Total
from fluxlab.gui.reading import read_mass
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.decision import Choice, Decision
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Caption

FEEDS = ("ore", "concentrate", "calcine")
FEED_WORDS = {"ore": "raw ore", "concentrate": "concentrate", "calcine": "calcine"}


class FluxTable(Section):
    """Title with today's charge, table, total."""

    shelf_wanted = Signal()
    columns_changed = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("Flux table", parent=parent, fold="table")
        self._bench = bench
        self.charge = Decision("Ore charged", read_mass, "g", 1, 1.0)
        self.charge.decided.connect(lambda value: bench.do("set_charge", value))
        self.feed = Choice("What goes into the pot", self._feeds)
        self.feed.bold = False
        self._head()
        self.model = FluxModel(bench, self)
        self.view = FluxView(self.model)
        self.total = Total(self.view)
        self.body.addSpacing(2)
        self.body.addWidget(self.view)
        self.body.addWidget(self.total)
        self.view.limits_wanted.connect(self.edit_limits)
        self.view.menu_wanted.connect(self._row_menu)

    def _head(self) -> None:
        self.free_all = Button("Free all", "text")
        self.free_all.setToolTip("Let every fixed row free")
        # it comes and goes with the first fixed row; the line must not be laid out anew for that
        keeps = self.free_all.sizePolicy()
        keeps.setRetainSizeWhenHidden(True)
        self.free_all.setSizePolicy(keeps)
        self.free_all.clicked.connect(lambda: self._bench.do("free_all"))
        self.add = Button("&Add flux", "text", "plus")
        self.add.clicked.connect(self.open_add)
        self.columns = Button("&Columns", "text", "columns")
        self.columns.clicked.connect(self._columns_menu)
        middle = Qt.AlignmentFlag.AlignVCenter
        line = (Caption("for"), self.charge, Caption("of"), self.feed)
        for k, widget in enumerate(line):
            self.head.insertWidget(1 + k, widget, 0, middle)
        self.head.setSpacing(5)
        self.head.setStretch(0, 0)
        self.head.addStretch(1)
        for tool in (self.free_all, self.add, self.columns):
            self.head.addWidget(tool, 0, middle)

    def refresh(self) -> None:
        """Show the bench as it is now."""
        recipe = self._bench.work.recipe
        self.charge.set_value(recipe.charge)
        self.feed.set_words(FEED_WORDS[recipe.pot_feed])
        resting = self._bench.document.work.recipe
        self.free_all.setVisible(any(line.grams is not None for line in resting.lines))
        self.model.refresh()
        self.view.fit()
        self.total.refresh(self._bench.report)

    def commit_pending(self) -> None:
        """Take what an open editor holds."""
        self.charge.commit()
        self.view.commit_pending()

    def _feeds(self, menu: Menu) -> None:
        now = self._bench.work.recipe.pot_feed
        for stage in FEEDS:
            menu.tick(FEED_WORDS[stage], stage == now, partial(self._set_feed, stage))

    def _set_feed(self, stage: str, _on: bool) -> None:
        self._bench.do("set_pot_feed", stage)

    def open_add(self) -> None:
        """Open the list of the shelf."""
        panel = AddFlux(self._bench, self.window())
        panel.new_wanted.connect(self.shelf_wanted)
        panel.open_at(self.add)

    def edit_limits(self, row: int) -> None:
        """Open the limits of a row."""
        rect = self.view.visualRect(self.model.index(row, Col.RAIL))
        LimitsEditor(self._bench, self.model.lines[row].flux, self.window()).open_at(self.view.viewport(), rect)

    # -- menus ----------------------------------------------------------------------------------------------------

    def _columns_menu(self) -> None:
        menu = Menu(self)
        shown = set(self.view.shown_columns())
        for col, column in COLUMNS.items():
            if column.may_hide:
                menu.tick(column.name, col in shown, partial(self._show, col))
        menu.entry("The first view", lambda: self._set_columns(frozenset(FIRST_VIEW)))
        hidden = [line.flux for line in self._bench.work.recipe.lines if line.hidden]
        if hidden:
            menu.addSeparator()
            below = menu.under("Hidden rows")
            for flux in hidden:
                component = self._bench.work.shelf.flux(flux)
                below.entry(
                    f"Show {component.name if component else flux}",
                    partial(self._bench.do, "hide_flux", flux, False),
                )
        menu.addSeparator()
        menu.entry("Copy the table", self._copy_all)
        menu.entry("Export as CSV…", self._export)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.columns.mapToGlobal(self.columns.rect().bottomLeft()))

    def _show(self, col: Col, on: bool) -> None:
        shown = set(self.view.shown_columns())
        self._set_columns(frozenset(shown | {col} if on else shown - {col}))

    def _set_columns(self, shown: frozenset[Col]) -> None:
        self.view.show_columns(shown)
        self.columns_changed.emit()

    def _copy_all(self) -> None:
        self.view.clearSelection()
        self.view.copy()

    def _export(self) -> None:
        from fluxlab.gui.export import save_csv

        rows = self.model.as_rows(range(len(self.model.lines)), list(Col))
        save_csv(self, f"{self._bench.work.recipe.name or 'flux'}.csv", rows)

    def _row_menu(self, row: int, place: QPoint) -> None:
        line = self.model.lines[row]
        work = self._bench.work
        at = next(k for k, entry in enumerate(work.recipe.lines) if entry.flux == line.flux)
        do: Callable[..., object] = self._bench.do
        menu = Menu(self)
        menu.entry("Let it free" if line.fixed else "Fix at this weight", lambda: self.model.toggle(row), "Space")
        menu.entry("Least and most…", lambda: self.edit_limits(row))
        menu.addSeparator()
        menu.entry("Move up", lambda: do("move_flux", line.flux, at - 1), "Alt+Up", at > 0)
        menu.entry("Move down", lambda: do("move_flux", line.flux, at + 1), "Alt+Down", at < len(work.recipe.lines) - 1)
        menu.entry("Hide the row", lambda: do("hide_flux", line.flux, True))
        menu.entry("Take it out", lambda: do("remove_flux", line.flux))
        menu.addSeparator()
        menu.entry("Copy", self.view.copy, "Ctrl+C")
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(place)
