"""Widths that follow the text size, and the list under a field in the program's colours."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QCompleter, QWidget

from fluxlab.gui import theme
from fluxlab.gui.widgets.menus import scroll_style


class _Width(QObject):
    """Lives with the widget whose width it keeps."""

    def __init__(self, widget: QWidget, width: int) -> None:
        super().__init__(widget)
        self._widget, self._width = widget, width
        theme.notifier().theme_changed.connect(self.dress)
        self.dress()

    def dress(self) -> None:
        """Set the width for the text size in force."""
        self._widget.setFixedWidth(theme.scaled(self._width))


def keep_width(widget: QWidget, width: int) -> None:
    """Give a widget a fixed width [px of the grid], also after the text size was changed."""
    _Width(widget, width)


def dress_list(completer: QCompleter) -> None:
    """Show what a field offers as a list in the colours of the page."""
    t = theme.tokens()
    popup = completer.popup()
    if popup is None:
        return
    popup.setFont(theme.font(13))
    popup.setMinimumWidth(theme.scaled(150))
    popup.setStyleSheet(
        f"QListView {{ background: {t.lift.name()}; color: {t.ink.name()}; border: 1px solid {t.edge.name()}; }}"
        f"QListView::item {{ padding: {theme.scaled(4)}px 6px; }}"
        f"QListView::item:selected {{ background: {t.pick.name()}; color: {t.ink.name()}; }}" + scroll_style()
    )
