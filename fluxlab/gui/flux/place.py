"""The Flux place: the verdict strip over the table with its targets, the slag, and the vessels."""

from collections.abc import Mapping

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCursor, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.design.report_types import Mend
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import explain
from fluxlab.gui.flux.columns import Col
from fluxlab.gui.flux.slag_column import SlagColumn
from fluxlab.gui.flux.story import Story
from fluxlab.gui.flux.table_section import FluxTable
from fluxlab.gui.flux.targets_section import Targets
from fluxlab.gui.flux.verdicts import VerdictStrip
from fluxlab.gui.tables.page import TOP, Page, PageColumn, Room
from fluxlab.gui.vessel.view import VesselView
from fluxlab.gui.widgets.scroller import Scroller
from fluxlab.gui.widgets.section import Section

SHORT = 480
LEFT, MIDDLE, RIGHT = Room(470, 528, 2), Room(300, 353, 2), Room(240, 266, 1)


class FluxPlace(QWidget):
    """Everything on it reads the bench's report; every change goes through the bench."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self._grown = False
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.strip = VerdictStrip(self)
        self.strip.mended.connect(self._mend)
        self.strip.asked.connect(self.tell)
        self.table = FluxTable(bench)
        self.targets = Targets(bench)
        self.slag = SlagColumn(bench)
        self.vessels = VesselView(bench)
        self.left = Scroller("Flux table and targets", 300)
        self.left.body.addWidget(self.table)
        self.left.body.addSpacing(6)
        self.left.body.addWidget(self.targets, 1)
        self.middle = Scroller("The slag", 300)
        self.middle.body.addWidget(self.slag)
        self.slag.holds.mended.connect(self._mend)
        self.page = Page("Flux", self)
        for part, room in ((self.left, LEFT), (self.middle, MIDDLE), (self.vessels, RIGHT)):
            column = PageColumn()
            column.body.addWidget(part)
            self.page.add(column, room)
        self.setFocusProxy(self.table.view)
        self.table.shelf_wanted.connect(self._to_shelf)
        bench.changed.connect(self._changed)
        theme.notifier().theme_changed.connect(self.lay_out)
        self.refresh()

    def _foldable(self) -> tuple[Section, ...]:
        return (self.table, self.targets, *self.slag.parts)

    def left_at(self) -> dict[str, str]:
        """The columns shown and the parts folded, for the next start."""
        folded = ",".join(part.fold for part in self._foldable() if part.is_folded)
        columns = ",".join(col.name for col in self.table.view.shown_columns())
        return {"flux columns": columns, "flux folded": folded, "flux map": self.slag.map.wanted}

    def put_back(self, views: Mapping[str, str]) -> None:
        """Show the columns and fold the parts as they were left."""
        if "flux columns" in views:
            wanted = views["flux columns"].split(",")
            self.table.view.show_columns(frozenset(col for col in Col if col.name in wanted))
        self.slag.map.wanted = views.get("flux map", "")
        if "flux folded" in views:
            folded = views["flux folded"].split(",")
            for part in self._foldable():
                part.set_folded(part.fold in folded)

    def _changed(self) -> None:
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the bench as it is now."""
        report = self.bench.report
        taller = self.strip.refresh(report.verdicts)
        self.table.refresh()
        self.targets.refresh()
        self.slag.refresh()
        self.vessels.show_report(report)
        self._grown = taller or self._grown
        if self.bench.work is not self.bench.document.work:
            return  # nothing moves under a hand that drags
        if self._grown:
            self.lay_out()
        else:
            self._fit_targets()

    def commit_pending(self) -> None:
        """Take what any open editor holds."""
        self.table.commit_pending()
        self.targets.commit_pending()
        self.slag.commit_pending()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the strip and the page out again."""
        self.lay_out()

    def lay_out(self) -> None:
        """The strip takes its height, the page the rest; where height is short the strip leaves its reasons out."""
        self.strip.set_compact(self.height() < theme.scaled(SHORT))
        tall = self.strip.heightForWidth(self.width())
        self.strip.setGeometry(0, 0, self.width(), tall)
        self.page.setGeometry(0, tall, self.width(), max(0, self.height() - tall))
        self._grown = False
        self.slag.fit(self.page.height() - TOP)
        self._fit_targets()

    def _fit_targets(self) -> None:
        """Second lines of the targets give way where that makes the left column fit."""
        view = self.targets.view
        # rows that came or went a moment ago are not yet in the heights that the layouts remember
        for part in (self.table.view, view):
            self._settle(part)
        rest = self.left.content_height(self.left.width()) - view.height()
        room = self.page.height() - TOP
        short = rest + view.height_for(tight=False) > room >= rest + view.height_for(tight=True)
        view.set_tight(short)

    def _settle(self, part: QWidget) -> None:
        """Have the layouts round a part of the left column ask it for its height anew."""
        above = part.parentWidget()
        while above is not None and above is not self.left.sheet:
            layout = above.layout()
            if layout is not None:
                layout.activate()
            above = above.parentWidget()

    def _mend(self, mend: Mend) -> None:
        self.commit_pending()
        if mend.edit == "show_cautions":
            self.tell("safe", self.strip.cells[3])
        elif mend.edit == "make_safer":
            self.tell("sure", self.strip.cells[4])
        elif mend.edit == "show_ways_out":
            self.slag.holds.ways_out_beside(self.strip.cells[0])
        else:
            self.bench.do(mend.edit, *mend.arguments)

    def tell(self, key: str, beside: QWidget) -> None:
        """Open the whole story behind a verdict."""
        story = Story(self.bench.report, key, self.window())
        story.mended.connect(self._mend)
        story.open_at(beside)

    def _to_shelf(self) -> None:
        window = self.window()
        go = getattr(window, "go", None)
        if go is not None:
            go("Shelf")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """F1 explains what is under the cursor, else what has the focus."""
        if event.key() == Qt.Key.Key_F1:
            self.explain_here()
        else:
            super().keyPressEvent(event)

    def explain_here(self) -> bool:
        """Explain the thing under the cursor, or the one that has the focus; False if there is nothing to say."""
        at = QCursor.pos()
        under = QApplication.widgetAt(at)
        if under is not None and self.isAncestorOf(under) and self._explain(under, under.mapFromGlobal(at)):
            return True
        focus = QApplication.focusWidget()
        return focus is not None and self._explain(focus, QPoint(-1, -1))

    def _explain(self, widget: QWidget, place: QPoint) -> bool:
        part: QWidget | None = widget
        while part is not None and part is not self:
            key_at = getattr(part, "key_at", None)
            if key_at is not None:
                return explain(key_at(place if place.x() < 0 else widget.mapTo(part, place)), widget)
            part = part.parentWidget()
        return False
