"""The frame: top line, run, and one page for each place, made when it is first opened."""

from importlib import import_module
from typing import TYPE_CHECKING, Protocol, cast

from PySide6.QtCore import QByteArray, QEvent, QRectF, QSize, Signal
from PySide6.QtGui import QCloseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from fluxlab.gui import theme
from fluxlab.gui.run.facts import STOPS, run_facts
from fluxlab.gui.run.run import WIDTH, Run
from fluxlab.gui.topline import HEIGHT, TopLine

if TYPE_CHECKING:
    from fluxlab.gui.bridge import Bench
    from fluxlab.gui.widgets.notice import Notice

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

    painted = Signal()
    closing = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("fluxlab")
        self.setMinimumSize(640, 380)
        self.bench: Bench | None = None
        self.current = "Flux"
        self.places: dict[str, QWidget] = {}
        self.views: dict[str, str] = {}
        self.top = TopLine(self)
        self.run = Run(self)
        self.run.set_current(self.current)
        self.run.chosen.connect(self.go)
        self._notice: Notice | None = None
        self.top.undo.connect(self.undo)
        self.top.redo.connect(self.redo)
        self.top.save.connect(self.save)
        self.top.menu.connect(self.open_menu)
        theme.notifier().theme_changed.connect(self._redress)

    @property
    def notice(self) -> "Notice":
        """The sentence at the foot of the window."""
        from fluxlab.gui.widgets.notice import Notice

        if self._notice is None:
            self._notice = Notice(self)
        return self._notice

    def sizeHint(self) -> QSize:
        """The size the pictures are drawn for."""
        return QSize(1366, 768)

    def _the_bench(self) -> "Bench":
        assert self.bench is not None
        return self.bench

    def keys(self) -> None:
        """Set up the shortcuts that hold everywhere in the window."""
        from PySide6.QtGui import QKeySequence, QShortcut

        from fluxlab.gui.main_menu import main_keys

        standard = QKeySequence.StandardKey
        for sequence, do in (
            (QKeySequence(standard.Undo), self.undo),
            (QKeySequence("Ctrl+Shift+Z"), self.redo),
            (QKeySequence("Ctrl+Y"), self.redo),
            (QKeySequence(standard.Save), self.save),
            (QKeySequence("F10"), self.open_menu),
            (QKeySequence(standard.HelpContents), self.explain),
            (QKeySequence(standard.Quit), self.close),
            *main_keys(self, self._the_bench()),
        ):
            QShortcut(sequence, self).activated.connect(do)
        for number, name in enumerate(STOPS, 1):
            QShortcut(QKeySequence(f"Ctrl+{number}"), self).activated.connect(lambda name=name: self.go(name))

    # -- the work -------------------------------------------------------------------------------------------------

    def lay_bench(self, bench: "Bench") -> None:
        """Show the work on a bench in the frame."""
        self.bench = bench
        bench.changed.connect(self.refresh)
        bench.kept.connect(self.refresh)
        bench.refused.connect(self._refused)
        self.keys()
        self.refresh()
        self.go(self.current)

    def _refused(self, sentence: str) -> None:
        bench = self.bench
        if bench is not None and sentence.startswith("Another window has kept"):
            self.notice.say(sentence, "Save mine as the next", lambda: bench.save(over=True))
        else:
            self.notice.say(sentence)

    def go(self, name: str) -> None:
        """Open a place; an open editor is committed first."""
        self.commit_pending()
        self.current = name
        self.run.set_current(name)
        if self.bench is None:
            return
        self._shut_plates()
        page = self.places.get(name)
        if page is None:
            module, kind = PLACES[name]
            page = cast(QWidget, getattr(import_module(module), kind)(self.bench, self))
            self.places[name] = page
            put_back = getattr(page, "put_back", None)
            if put_back is not None:
                put_back(self.views)
            self._lay_out()
        for other in self.places.values():
            other.setVisible(other is page)
        self.top.let_lead(name != "Weigh-out")
        cast(Place, page).refresh()
        page.setFocus()
        if self._notice is not None:
            self._notice.raise_()

    def _shut_plates(self) -> None:
        """Close every plate: it belongs to the place that is left."""
        from fluxlab.gui.widgets.panel import Panel

        for plate in self.findChildren(Panel):
            plate.shut(give_back=False)

    def commit_pending(self) -> None:
        """Take over what is still being typed."""
        page = self.places.get(self.current)
        if page is not None:
            cast(Place, page).commit_pending()

    def undo(self) -> None:
        """Take the last step back; what is being typed counts as the last step."""
        self.commit_pending()
        if self.bench is not None:
            self.bench.undo()

    def redo(self) -> None:
        """Take an undone step again."""
        if self.bench is not None:
            self.bench.redo()

    def save(self) -> None:
        """Keep the recipe as its next revision, with what is still being typed."""
        self.commit_pending()
        if self.bench is not None and self.bench.document.dirty:
            self.bench.save()

    def explain(self) -> None:
        """Explain what is under the cursor."""
        page = self.places.get(self.current)
        here = getattr(page, "explain_here", None)
        if here is None or not here():
            self.notice.say("Point at a figure, a column or a target and press F1: it tells what it is and where from.")

    def open_menu(self) -> None:
        """Open the menu under its button."""
        from fluxlab.gui.main_menu import main_menu

        if self.bench is not None:
            menu = main_menu(self, self.bench)
            menu.aboutToHide.connect(menu.deleteLater)
            menu.popup(self.top.menu_button.mapToGlobal(self.top.menu_button.rect().bottomLeft()))

    def refresh(self) -> None:
        """Show the job in the run and the top line."""
        if self.bench is None:
            return
        from fluxlab.design.decimal_mark import with_mark
        from fluxlab.gui.widgets.fields import decimal_mark

        mark, document = decimal_mark(), self.bench.document
        self.run.set_facts(run_facts(self.bench.report, self.bench.melts_on_record, mark))
        undo, redo = document.undo_label, document.redo_label
        self.top.set_steps(undo and with_mark(undo, mark), redo and with_mark(redo, mark))
        self.top.title.set_parts(*self.bench.title)
        self.top.set_save(self.bench.save_words)
        self.setWindowTitle(f"{self.bench.title[0]}[*] – fluxlab")
        self.setWindowModified(document.dirty)

    def show_again(self) -> None:
        """Write every figure anew, as after a change of the decimal mark."""
        if self.bench is not None:
            self.bench.tell_again()
        self.refresh()
        page = self.places.get(self.current)
        if page is not None:
            cast(Place, page).refresh()

    def changeEvent(self, event: QEvent) -> None:
        """A window that comes to the front looks whether another one has changed the library."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow() and self.bench is not None:
            self.bench.look_around()

    # -- the frame ------------------------------------------------------------------------------------------------

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
        if self._notice is not None and not self._notice.isHidden():
            self._notice.place()

    def views_left(self) -> dict[str, str]:
        """Small states of the places (columns, folds), for the next start."""
        views = dict(self.views)
        for page in self.places.values():
            left_at = getattr(page, "left_at", None)
            if left_at is not None:
                views |= left_at()
        return views

    def left_at(self) -> str:
        """Where the window stands, for the next start."""
        return bytes(self.saveGeometry().toBase64().data()).decode("ascii")

    def put_back(self, geometry: str) -> None:
        """Stand where the window stood; on a screen that is gone, in the middle of the first."""
        if not geometry or not self.restoreGeometry(QByteArray.fromBase64(geometry.encode("ascii"))):
            self.resize(self.sizeHint())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sheet."""
        QPainter(self).fillRect(QRectF(self.rect()), theme.tokens().sheet)
        self.painted.emit()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing typed is lost on closing: an open editor is committed, the draft kept."""
        self.commit_pending()
        self.closing.emit()
        super().closeEvent(event)
