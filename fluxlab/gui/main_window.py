"""The frame: top line, run, and one page for each place, made when it is first opened."""

from importlib import import_module
from typing import Protocol, cast

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QCloseEvent, QKeySequence, QPainter, QPaintEvent, QResizeEvent, QShortcut
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.run.facts import STOPS, run_facts
from fluxlab.gui.run.run import WIDTH, Run
from fluxlab.gui.topline import HEIGHT, TopLine

PLACES = {
    "Ore": ("fluxlab.gui.ore.place", "OrePlace"),
    "Flux": ("fluxlab.gui.flux.place", "FluxPlace"),
    "Weigh-out": ("fluxlab.gui.weigh.place", "WeighPlace"),
    "Melts": ("fluxlab.gui.melts.place", "MeltsPlace"),
    "Shelf": ("fluxlab.gui.shelf.place", "ShelfPlace"),
}


class Place(Protocol):
    """What the frame asks of a place."""

    def refresh(self) -> None:
        """Show the bench as it is now."""

    def commit_pending(self) -> None:
        """Take what an open editor holds before it is lost."""


class MainWindow(QWidget):
    """The one window. It paints its frame at once; `lay_bench` brings the work."""

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("fluxlab")
        self.setMinimumSize(640, 380)
        self.bench: Bench | None = None
        self.current = "Flux"
        self.places: dict[str, QWidget] = {}
        self.top = TopLine(self)
        self.run = Run(self)
        self.run.set_current(self.current)
        self.run.chosen.connect(self.go)
        for number, name in enumerate(STOPS, 1):
            short = QShortcut(QKeySequence(f"Ctrl+{number}"), self)
            short.activated.connect(lambda name=name: self.go(name))
        theme.notifier().theme_changed.connect(self._redress)

    def sizeHint(self) -> QSize:
        """The size the pictures are drawn for."""
        return QSize(1366, 768)

    def lay_bench(self, bench: Bench) -> None:
        """Show the work on a bench in the frame."""
        self.bench = bench
        bench.changed.connect(self.refresh)
        self.top.undo.connect(self.undo)
        self.top.redo.connect(self.redo)
        self.refresh()
        self.go(self.current)

    def go(self, name: str) -> None:
        """Open a place; an open editor is committed first."""
        self.commit_pending()
        self.current = name
        self.run.set_current(name)
        if self.bench is None:
            return
        page = self.places.get(name)
        if page is None:
            module, kind = PLACES[name]
            page = cast(QWidget, getattr(import_module(module), kind)(self.bench, self))
            self.places[name] = page
            self._lay_out()
        for other in self.places.values():
            other.setVisible(other is page)
        cast(Place, page).refresh()
        page.setFocus()

    def commit_pending(self) -> None:
        """Take over what is still being typed."""
        page = self.places.get(self.current)
        if page is not None:
            cast(Place, page).commit_pending()

    def undo(self) -> None:
        """Take the last step back."""
        self.commit_pending()
        if self.bench is not None:
            self.bench.undo()

    def redo(self) -> None:
        """Take an undone step again."""
        if self.bench is not None:
            self.bench.redo()

    def refresh(self) -> None:
        """Show the job in the run and the top line."""
        if self.bench is None:
            return
        self.run.set_facts(run_facts(self.bench.report))
        document = self.bench.document
        self.top.set_steps(document.undo_label, document.redo_label)

    def _redress(self) -> None:
        self._lay_out()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the frame out again."""
        self._lay_out()

    def _lay_out(self) -> None:
        side, head = theme.scaled(WIDTH), theme.scaled(HEIGHT)
        self.top.setGeometry(0, 0, self.width(), head)
        self.run.setGeometry(0, head, side, self.height() - head)
        for page in self.places.values():
            page.setGeometry(side, head, self.width() - side, self.height() - head)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sheet."""
        QPainter(self).fillRect(QRectF(self.rect()), theme.tokens().sheet)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing typed is lost on closing."""
        self.commit_pending()
        super().closeEvent(event)
