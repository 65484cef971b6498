"""A drawn table whose figures can be taken elsewhere: copied by key or by menu, exported as CSV."""

from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from fluxlab.gui.export import save_csv
from fluxlab.gui.tables import tsv
from fluxlab.gui.widgets.menus import Menu


class CopiedTable(QWidget):
    """The part says what it `holds` ("composition"), what the file is called, and gives its rows."""

    holds = ""
    file_name = ""

    def as_rows(self) -> list[list[str]]:
        """The figures as plain text under a line of titles."""
        raise NotImplementedError

    def copy(self) -> None:
        """Put the figures on the clipboard."""
        QGuiApplication.clipboard().setText(tsv.write(self.as_rows()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy by key."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The figures for elsewhere."""
        menu = Menu(self)
        menu.entry(f"Copy the {self.holds}", self.copy, "Ctrl+C")
        menu.entry("Export as CSV…", lambda: save_csv(self, self.file_name, self.as_rows()))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(event.globalPos())
