"""Menus and scroll bars in the colours of the page."""

from collections.abc import Callable
from functools import partial

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from fluxlab.gui import theme


def menu_style() -> str:
    """The look of a menu."""
    t = theme.tokens()
    pad, wide = theme.scaled(5), theme.scaled(24)
    return (
        f"QMenu {{ background: {t.lift.name()}; color: {t.ink.name()}; border: 1px solid {t.edge.name()};"
        f" padding: 4px 0; }}"
        f"QMenu::item {{ padding: {pad}px {wide}px {pad}px {wide + 6}px; }}"
        f"QMenu::item:selected {{ background: {t.pick.name()}; color: {t.ink.name()}; }}"
        f"QMenu::item:disabled {{ color: {t.ink3.name()}; }}"
        f"QMenu::separator {{ height: 1px; background: {t.rule.name()}; margin: 4px 0; }}"
        f"QMenu::indicator {{ left: 10px; width: 8px; height: 8px; border-radius: 4px; }}"
        f"QMenu::indicator:checked {{ background: {t.hand.name()}; }}"
    )


def scroll_style() -> str:
    """The look of a scrolling area: a slim bar without arrows, no frame."""
    t = theme.tokens()
    return (
        "QScrollArea { border: none; background: transparent; }"
        "QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }"
        "QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }"
        f"QScrollBar::handle {{ background: {t.edge.name()}; border-radius: 3px; margin: 2px; min-height: 24px; }}"
        "QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }"
        "QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }"
    )


def _chosen(do: Callable[[str], object], word: str, _on: bool) -> None:
    do(word)


class Menu(QMenu):
    """A menu in the program's colours; `entry` adds a line that does something."""

    def __init__(self, parent: QWidget | None = None, title: str = "") -> None:
        super().__init__(title, parent)
        self.setStyleSheet(menu_style())
        self.setToolTipsVisible(True)

    def entry(
        self,
        words: str,
        do: Callable[[], object],
        keys: QKeySequence | QKeySequence.StandardKey | str | None = None,
        enabled: bool = True,
    ) -> QAction:
        """Add an entry; `keys` are shown beside it (the shortcut itself lives in the window)."""
        action = self.addAction(words)
        action.triggered.connect(lambda _checked=False: do())
        action.setEnabled(enabled)
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
            action.setShortcutVisibleInContextMenu(True)
        return action

    def tick(self, words: str, on: bool, do: Callable[[bool], object]) -> QAction:
        """Add an entry that is on or off."""
        action = self.addAction(words)
        action.setCheckable(True)
        action.setChecked(on)
        action.triggered.connect(lambda checked=False: do(checked))
        return action

    def choices(self, words: list[str], current: str, do: Callable[[str], object]) -> None:
        """Add entries of which one is chosen."""
        group = QActionGroup(self)
        for word in words:
            action = self.tick(word[:1].upper() + word[1:], word == current, partial(_chosen, do, word))
            action.setActionGroup(group)

    def under(self, title: str) -> "Menu":
        """A menu under this one."""
        below = Menu(self, title)
        self.addMenu(below)
        return below
