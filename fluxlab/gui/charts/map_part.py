"""The section "Slag map" of the Flux place: the map on the bench, swept anew whenever the recipe changes."""

from __future__ import annotations

import time
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QTimer
from PySide6.QtWidgets import QWidget

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.bridge import Bench
from fluxlab.gui.charts import map_sweep
from fluxlab.gui.charts.field_run import FieldRun
from fluxlab.gui.charts.fluidity_part import ore_known
from fluxlab.gui.charts.map_words import NOTHING_MOVES
from fluxlab.gui.charts.save_button import SaveButton
from fluxlab.gui.charts.slag_map import SlagMap
from fluxlab.gui.widgets.buttons import icon_button
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section

if TYPE_CHECKING:
    from concurrent.futures import Future, ThreadPoolExecutor

    from fluxlab.design.map_types import MapFrame, Outline

QUIET = 0.25
"""After so long without a change the map follows at once [s], else it waits until the changes pause."""
PAUSE_MS, LOOK_MS = 70, 40


class SlagMapPart(Section):
    """The knob is the recipe: while it is dragged the whole place follows, and letting it go is one step."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        self.chart = SlagMap()
        self.axes_button = icon_button("axes", "Axes of the map")
        super().__init__("Slag map", "", (self.axes_button, SaveButton(self.chart)), parent, "map")
        self._bench = bench
        self.wanted = ""
        self.ground: map_sweep.Ground | None = None
        self._for: tuple[Work, str] | None = None
        self._placed: map_sweep.Placed = frozenset()
        self._changed_at = 0.0
        self._safe: Future[Outline] | None = None
        self._worker: ThreadPoolExecutor | None = None
        self.body.addWidget(self.chart)
        self.axes_button.clicked.connect(self._choose)
        self.chart.tried.connect(self._try)
        self.chart.moved.connect(self._move)
        self.chart.dropped.connect(bench.drop_trial)
        self.run = FieldRun(self)
        self.run.came.connect(self._came)
        self.run.done.connect(self._done)
        self._soon = QTimer(self, singleShot=True)
        self._soon.timeout.connect(self._sweep)
        self._look = QTimer(self, interval=LOOK_MS)
        self._look.timeout.connect(self._look_for_safe)
        self.folded.connect(lambda _name, folded: None if folded else self.refresh())

    # -- following the bench --------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show where the recipe stands now, and have the rest of the map worked out anew when it is the time."""
        report = self._bench.report
        words = map_sweep.note(report)
        self.set_note(words)
        self.chart.note = words
        if not ore_known(report):
            self._empty()
            return
        self._show_point(report)
        if self.chart.dragging or self.is_folded or self._for == (report.work, self.wanted):
            return
        self.run.stop()
        self._look.stop()
        self.chart.set_stale()
        now = time.monotonic()
        quiet = now - self._changed_at > QUIET
        self._changed_at = now
        self._soon.start(0 if quiet else PAUSE_MS)

    def _empty(self) -> None:
        """Nothing to show: the axes alone."""
        self.run.stop()
        self._soon.stop()
        self._look.stop()
        self._for = self.ground = None
        self.chart.show_frame(None)

    @property
    def settled(self) -> bool:
        """Whether everything on the map is that of the present recipe."""
        return not (self._soon.isActive() or self.run.running or self._look.isActive())

    def _show_point(self, report: Report) -> None:
        frame = self.chart.frame
        if frame is not None:
            here = map_sweep.place_of(report, frame.pair) or frame.here
            self.chart.show_point(here, map_sweep.broken_musts(report))

    def _sweep(self) -> None:
        work = self._bench.work
        self._for = work, self.wanted
        self.run.start(map_sweep.sweep(self._freed(work), self.wanted))

    def _freed(self, work: Work) -> Work:
        return map_sweep.freed(work, self._placed)

    def _came(self, parts: list[object]) -> None:
        from fluxlab.design.map_types import FieldRow

        rows = [part for part in parts if isinstance(part, FieldRow)]
        for part in parts:
            if isinstance(part, map_sweep.Ground):
                self._stand_on(part)
        if rows:
            self.chart.take_rows(rows)

    def _stand_on(self, made: map_sweep.Ground) -> None:
        self.ground = made
        report = self._bench.report
        self.chart.show_frame(made.frame)
        self._show_point(report)
        viscosity = next((t for t in report.targets if t.key == "viscosity" and t.on), None)
        self.chart.begin_field(None if viscosity is None else viscosity.hi)
        free = any(line.grams is None for line in self._freed(report.work).recipe.lines)
        self.chart.set_whisper("" if free or made.frame is None else NOTHING_MOVES)

    def _done(self) -> None:
        self.chart.end_field()
        frame = self.chart.frame
        if frame is None or self._for is None or not frame.cloud.points:
            return
        self._ask_for_safe(self._for[0], frame)

    def _ask_for_safe(self, work: Work, frame: MapFrame) -> None:
        """The safe region takes long: a worker finds it, one at a time, on values that nobody changes."""
        if self._worker is None:
            from concurrent.futures import ThreadPoolExecutor

            self._worker = ThreadPoolExecutor(1)
        if self._safe is not None:
            self._safe.cancel()
        self._safe = self._worker.submit(map_sweep.safe_region, self._freed(work), frame)
        self._look.start()

    def _look_for_safe(self) -> None:
        if self._safe is None or not self._safe.done():
            return
        self._look.stop()
        if self._safe.cancelled():
            return
        self.chart.add_safe(self._safe.result())

    # -- the axes -------------------------------------------------------------------------------------------------

    def _choose(self) -> None:
        menu = self.axes_menu()
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.axes_button.mapToGlobal(QPoint(0, self.axes_button.height())))

    def axes_menu(self) -> Menu:
        """The choices of axes."""
        menu = Menu(self)
        pairs = self.ground.pairs if self.ground is not None else ()
        now = None if self.chart.frame is None else map_sweep.pair_id(self.chart.frame.pair)
        for pair in pairs:
            name = map_sweep.pair_id(pair)
            words = pair.words[:1].upper() + pair.words[1:]
            menu.tick(words, name == now, partial(self._take_axes, name))
        return menu

    def _take_axes(self, name: str, _on: bool = True) -> None:
        self.wanted = name
        self.refresh()

    # -- the knob -------------------------------------------------------------------------------------------------

    def _try(self, x: float, y: float) -> None:
        if self.ground is not None and self.ground.problem is not None:
            self._bench.try_out(map_sweep.try_at, self._placed, self.ground.problem, x, y)

    def _move(self, x: float, y: float) -> None:
        start = self.chart.start
        if self.ground is not None and self.ground.problem is not None and start is not None:
            before = self._freed(self._bench.document.work)
            self._bench.do(map_sweep.put_at, self._placed, self.ground.problem, (x, y), start)
            self._placed |= map_sweep.fixed_since(before, self._bench.work)
