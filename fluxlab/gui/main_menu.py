"""The menu: ore types and recipes, files, back-up, how the window looks, help."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QFileDialog

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.widgets import fields
from fluxlab.gui.widgets.menus import Menu

if TYPE_CHECKING:
    from fluxlab.gui.main_window import MainWindow

BIG = 130
MARKS = {"as the system has it": "", "point": ".", "comma": ","}
MARK_WORDS = {mark: words for words, mark in MARKS.items()}
RECIPE_FILES = "Recipes (*.fluxlab *.json)"


def main_menu(window: "MainWindow", bench: Bench) -> Menu:
    """The menu for the present state of the bench."""
    menu = Menu(window)
    document = bench.document
    menu.entry("New ore type…", partial(_new_ore, window), "Ctrl+N")
    menu.entry("Open a recipe…", partial(window.go, "Ore"), "Ctrl+O")
    menu.entry("Duplicate this recipe", partial(_after_commit, window, bench.duplicate), "Ctrl+D")
    menu.entry("What did we use last time?", partial(_last_time, window, bench))
    menu.entry("Rename this recipe…", partial(_rename, window, bench))
    _revisions(menu.under("Revisions"), bench)
    menu.entry(bench.save_words or "Save", window.save, "Ctrl+S", bool(bench.save_words))
    menu.addSeparator()
    menu.entry(f"Undo {document.undo_label or ''}".strip(), window.undo, "Ctrl+Z", document.undo_label is not None)
    menu.entry(f"Redo {document.redo_label or ''}".strip(), window.redo, "Ctrl+Y", document.redo_label is not None)
    menu.addSeparator()
    menu.entry("Export as a file…", partial(_export, window, bench), "Ctrl+E")
    menu.entry("Import a file…", partial(_import, window, bench), "Ctrl+I")
    menu.entry("Back up the library…", partial(_back_up, window, bench), enabled=bench.library is not None)
    menu.addSeparator()
    menu.under("Colours").choices(["system", "light", "dark"], theme.mode(), _set_mode)
    sizes = [f"{size} %" for size in theme.TEXT_SIZES]
    menu.under("Text size").choices(sizes, f"{theme.text_size()} %", _set_size)
    menu.tick("Big text", theme.text_size() == BIG, lambda on: theme.set_text_size(BIG if on else 100))
    marks = menu.under("Decimal mark")
    marks.choices(list(MARKS), MARK_WORDS[fields.chosen_decimal_mark()], partial(_set_mark, window))
    menu.addSeparator()
    menu.entry("Explain what I point at", window.explain, "F1")
    menu.entry("Keys", partial(_keys, window))
    menu.entry("About fluxlab", partial(_about, window))
    menu.addSeparator()
    menu.entry("Close", window.close, "Ctrl+Q")
    return menu


def main_keys(window: "MainWindow", bench: Bench) -> list[tuple[QKeySequence, Callable[[], object]]]:
    """The keys of the menu's entries, for the window that the menu belongs to."""
    return [
        (QKeySequence("Ctrl+N"), partial(_new_ore, window)),
        (QKeySequence("Ctrl+O"), partial(window.go, "Ore")),
        (QKeySequence("Ctrl+D"), partial(_after_commit, window, bench.duplicate)),
        (QKeySequence("Ctrl+E"), partial(_export, window, bench)),
        (QKeySequence("Ctrl+I"), partial(_import, window, bench)),
    ]


def _set_mode(mode: str) -> None:
    theme.set_mode(cast(theme.Mode, mode))


def _set_mark(window: "MainWindow", words: str) -> None:
    window.commit_pending()
    fields.choose_decimal_mark(MARKS[words])
    theme.notifier().theme_changed.emit()
    window.show_again()


def _set_size(words: str) -> None:
    theme.set_text_size(int(words.split()[0]))


def _after_commit(window: "MainWindow", do: Callable[[], object]) -> None:
    window.commit_pending()
    do()


def _new_ore(window: "MainWindow") -> None:
    window.go("Ore")
    page = window.places["Ore"]
    ask = getattr(page, "new_ore_type", None)
    if ask is not None:
        ask()


def _revisions(menu: Menu, bench: Bench) -> None:
    """Earlier revisions of this recipe; opening one lays it out as it was kept."""
    from fluxlab.store.problem import StoreProblem

    recipe = bench.work.recipe.uid
    try:
        found = () if bench.library is None else bench.library.revisions(recipe)
    except StoreProblem:
        found = ()
    for revision in found:
        when = revision.saved.astimezone().strftime("%d.%m.%Y %H:%M")
        words = f"{revision.number}: {when}" + (f", {revision.note}" if revision.note else "")
        menu.entry(words, partial(bench.open_recipe, recipe, revision.number))
    if not found:
        menu.entry("None saved yet", lambda: None, enabled=False)


def _last_time(window: "MainWindow", bench: Bench) -> None:
    from fluxlab.gui.last_time import LastTime

    window.commit_pending()
    LastTime(bench, window).open_at(window.top.title)


def _rename(window: "MainWindow", bench: Bench) -> None:
    from fluxlab.gui.rename import Rename

    Rename(bench, window).open_at(window.top.title)


def _export(window: "MainWindow", bench: Bench) -> None:
    window.commit_pending()
    name = bench.work.recipe.name.replace("/", "-") or "recipe"
    chosen, _ = QFileDialog.getSaveFileName(window, "Export the recipe", f"{name}.fluxlab", RECIPE_FILES)
    if chosen and bench.export_to(Path(chosen)):
        window.notice.say(f"The recipe was written to {chosen}. It holds all that another bench needs.")


def _import(window: "MainWindow", bench: Bench) -> None:
    window.commit_pending()
    chosen, _ = QFileDialog.getOpenFileName(window, "Import a recipe", "", f"{RECIPE_FILES};;All files (*)")
    if chosen:
        bench.import_from(Path(chosen))


def _back_up(window: "MainWindow", bench: Bench) -> None:
    window.commit_pending()
    folder = QFileDialog.getExistingDirectory(window, "Folder for the back-up")
    if folder:
        copy = bench.back_up(Path(folder))
        if copy is not None:
            window.notice.say(f"The library was copied to {copy}.")


def _keys(window: "MainWindow") -> None:
    from fluxlab.gui.help import KeysPanel

    KeysPanel(window).open_at(window.top.menu_button)


def _about(window: "MainWindow") -> None:
    from fluxlab.gui.about import AboutPanel

    AboutPanel(window).open_at(window.top.menu_button)
