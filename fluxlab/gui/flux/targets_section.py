"""The targets with their title line: aim, route, and those switched off."""

from PySide6.QtWidgets import QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.target_editor import TargetEditor
from fluxlab.gui.flux.targets_model import TargetsModel
from fluxlab.gui.flux.targets_view import TargetsView
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.decision import Choice
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Caption

ROUTES = ["roast and melt", "nitre", "iron", "lead collection"]
GOALS = ["least flux", "least cost", "closest to house recipe", "thinnest slag"]


class Targets(Section):
    """Title with the route, then the targets in two columns."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("Targets", parent=parent, fold="targets")
        self._bench = bench
        self.model = TargetsModel(self)
        self.view = TargetsView(self.model)
        self.more = Button("", "text")
        self.more.clicked.connect(self._show_off)
        self.goal = Choice("Aim", lambda menu: self._choices(menu, GOALS, bench.work.recipe.goal, "set_goal"))
        self.route = Choice("Route", lambda menu: self._choices(menu, ROUTES, bench.work.recipe.route, "set_route"))
        for widget in (
            self.more,
            Caption("aim"),
            self.goal,
            Caption("route"),
            self.route,
        ):
            self.head.addWidget(widget)
        self.head.setSpacing(5)
        self.body.addWidget(self.view)
        self.body.addStretch(1)
        self.view.edit_wanted.connect(self.edit)
        self.editor: TargetEditor | None = None

    def _choices(self, menu: Menu, words: list[str], now: str, edit: str) -> None:
        menu.choices(words, now, lambda word: self._bench.do(edit, word))
        if edit == "set_goal":
            menu.addSeparator()
            weights = tuple((line.flux, line.grams) for line in self._bench.report.lines)
            menu.entry("Keep this as the house recipe", lambda: self._bench.do("keep_as_house", weights))

    def _show_off(self) -> None:
        self.model.show_off = not self.model.show_off
        self.refresh()

    def refresh(self) -> None:
        """Show the bench as it is now."""
        recipe = self._bench.work.recipe
        self.goal.set_words(recipe.goal[:1].upper() + recipe.goal[1:])
        self.route.set_words(recipe.route[:1].upper() + recipe.route[1:])
        self.model.refresh(self._bench.report)
        count = self.model.off_count
        self.more.setVisible(count > 0)
        self.more.set_words(f"{'Hide' if self.model.show_off else 'Show'} {count} off")

    def edit(self, key: str) -> None:
        """Open the limits of a target."""
        rect = self.view.visualRect(self.model.index_of(key))
        if not rect.isValid():
            rect = self.view.rect()
        self.editor = TargetEditor(self._bench, key, self.window())
        self.editor.closed.connect(self._forget)
        self.editor.open_at(self.view.viewport(), rect)

    def _forget(self) -> None:
        self.editor = None

    def commit_pending(self) -> None:
        """Take what an open editor holds."""
        if self.editor is not None:
            self.editor.commit_pending()
