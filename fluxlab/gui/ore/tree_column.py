"""The left column of the Ore place: search, the tree of ore types with their recipes, and "New ore type"."""

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.book import Book
from fluxlab.gui.ore.name_panel import NamePanel
from fluxlab.gui.ore.new_ore import NewOrePanel
from fluxlab.gui.ore.tree import NO_GROUP, OreEntry, RecipeEntry, searched
from fluxlab.gui.ore.tree_model import OreTreeModel
from fluxlab.gui.ore.tree_view import OreTreeView
from fluxlab.gui.tables.page import PageColumn
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words


class TreeColumn(PageColumn):
    """Opens, begins, renames, duplicates and archives ore types and recipes."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self._shown: tuple[str, ...] = ()
        self.book = Book(bench)
        self.model = OreTreeModel(self)
        self.tree = OreTreeView(self.model)
        self.search = Field()
        self.search.setPlaceholderText("Search")
        self.search.setAccessibleName("Search ore types and recipes")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(lambda _text: self.refresh())
        self.search.installEventFilter(self)
        self.archived = Button("Archived", "text")
        self.archived.setCheckable(True)
        self.archived.setToolTip("Show what was archived, to bring it back")
        self.archived.toggled.connect(lambda _on: self.refresh())
        self.new = Button("New ore type", "quiet")
        self.new.setSizePolicy(self.tree.sizePolicy().Policy.Expanding, self.new.sizePolicy().verticalPolicy())
        self.new.clicked.connect(self.ask_new)
        self.nothing = Words("", 12, tone="ink2")
        section = Section("Ore types", tools=(self.archived,))
        section.body.setSpacing(6)
        for part in (self.search, self.nothing):
            section.body.addWidget(part)
        section.body.addWidget(self.tree, 1)
        self.body.addWidget(section, 1)
        self.body.addSpacing(6)
        self.body.addWidget(Words("Asks three things only", 12, tone="ink2"))
        self.body.addSpacing(4)
        self.body.addWidget(self.new)
        self.body.addSpacing(14)
        self.tree.opened.connect(self._open)
        self.tree.rename_wanted.connect(self.rename)
        self.tree.duplicate_wanted.connect(self.duplicate)
        self.tree.archive_wanted.connect(self.archive)
        self.tree.menu_wanted.connect(self._open_menu)
        bench.kept.connect(self._kept)

    def show_bench(self) -> None:
        """Follow the bench; the library is only read again when something in the tree has changed."""
        recipe = self._bench.work.recipe
        state = (recipe.uid, recipe.name, recipe.ore.uid, recipe.ore.name, recipe.ore.group, self._bench.status)
        if state != self._shown:
            self.refresh()
            self._shown = state

    def _kept(self) -> None:
        self._shown = ()
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the library as it is now, as far as the search finds it."""
        archived = self.archived.isChecked()
        self.model.fill(searched(self.book.groups(archived), self.search.text()))
        self.tree.show_bench(self.book.current_ore, self.book.current_recipe)
        if self.model.rowCount():
            self.nothing.set_words("")
        elif self.search.text().strip():
            self.nothing.set_words(f"Nothing is called “{self.search.text().strip()}”.")
        else:
            self.nothing.set_words("Nothing is archived.")
        self.nothing.setVisible(bool(self.nothing.words))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """From the search line, down goes into the tree and Escape empties the search."""
        if watched is self.search and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.tree.setFocus()
                return True
            if event.key() == Qt.Key.Key_Escape and self.search.text():
                self.search.clear()
                return True
        return super().eventFilter(watched, event)

    def _open(self, kind: str, uid: str) -> None:
        if self.archived.isChecked():
            return
        (self.book.open_ore if kind == "ore" else self.book.open_recipe)(uid)
        self.refresh()

    def ask_new(self) -> None:
        """Ask the three things that a new ore type needs."""
        group = self._bench.work.recipe.ore.group
        groups = [g.name for g in self.book.groups() if g.name != NO_GROUP]
        panel = NewOrePanel(group, groups, self.window())
        panel.made.connect(self.book.begin)
        panel.open_at(self.new)

    def _entry(self, kind: str, uid: str) -> tuple[OreEntry | None, RecipeEntry | None]:
        for group in self.book.groups(self.archived.isChecked()):
            for ore in group.ores:
                if kind == "ore" and ore.uid == uid:
                    return ore, None
                for recipe in ore.recipes:
                    if kind == "recipe" and recipe.uid == uid:
                        return ore, recipe
        return None, None

    def rename(self, kind: str, uid: str) -> None:
        """Ask for another name."""
        ore, recipe = self._entry(kind, uid)
        if recipe is not None:
            panel = NamePanel("Rename the recipe", recipe.name, None, self.window())
            panel.named.connect(lambda name, _group: self.rename_recipe(uid, name))
        elif ore is not None:
            panel = NamePanel("Rename the ore type", ore.name, ore.group, self.window())
            panel.named.connect(lambda name, group: self.rename_ore(uid, name, group))
        else:
            return
        rect = self.tree.visualRect(self.model.index_of("ore" if recipe is None else "recipe", uid))
        panel.open_at(self.tree.viewport(), rect)

    def duplicate(self, kind: str, uid: str) -> None:
        """Go on with a copy."""
        (self.book.duplicate_ore if kind == "ore" else self.book.duplicate_recipe)(uid)
        self.refresh()

    def archive(self, kind: str, uid: str) -> None:
        """Take it out of the tree; what is on the bench stays, and it is said why."""
        if self.archived.isChecked():
            return
        sentence = (self.book.archive_ore if kind == "ore" else self.book.archive_recipe)(uid)
        if sentence:
            rect = self.tree.visualRect(self.tree.currentIndex())
            whisper(self.tree.viewport(), sentence, rect.bottomLeft() + QPoint(0, 4))
            return
        self.refresh()

    def restore(self, kind: str, uid: str) -> None:
        """Bring it back into the tree."""
        (self.book.restore_ore if kind == "ore" else self.book.restore_recipe)(uid)
        self.refresh()

    def rename_recipe(self, uid: str, name: str) -> None:
        """Give a recipe another name."""
        self.book.rename_recipe(uid, name)
        self.refresh()

    def rename_ore(self, uid: str, name: str, group: str) -> None:
        """Give an ore type another name and group."""
        self.book.rename_ore(uid, name, group)
        self.refresh()

    def _open_menu(self, kind: str, uid: str, place: QPoint) -> None:
        menu = Menu(self.tree)
        if self.archived.isChecked():
            menu.entry("Bring back", lambda: self.restore(kind, uid))
        else:
            menu.entry("Open", lambda: self._open(kind, uid), "Return")
            if kind == "ore":
                menu.entry("New recipe", lambda: self.book.new_recipe(uid))
            menu.entry("Duplicate", lambda: self.duplicate(kind, uid), "Ctrl+D")
            menu.entry("Rename", lambda: self.rename(kind, uid), "F2")
            menu.addSeparator()
            menu.entry("Archive", lambda: self.archive(kind, uid), "Del")
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(place)
