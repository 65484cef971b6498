"""The small editor of one target: both ends, must or wish, on or off, and the convention of the degree."""

from collections.abc import Callable
from dataclasses import replace
from typing import cast

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from fluxlab.design.recipe import Convention, Kind, Target
from fluxlab.design.report_types import TargetReport
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader_for_unit
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import NumberField
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.segments import Segments
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Caption, Words

CONVENTIONS = (("S", "S"), ("SB", "SB"), ("SBA base", "SBA, alumina a base"), ("SBA acid", "SBA, alumina an acid"))
KINDS = (("must", "must"), ("wish", "wish"))
WIDTH = 330
CROSSED = "The least cannot be more than the most. Change the other end first, or empty it."


class TargetEditor(Panel):
    """Changes apply as they are made; Escape or a click elsewhere closes."""

    def __init__(self, bench: Bench, key: str, window: QWidget) -> None:
        super().__init__("Target", window)
        self._bench, self.key = bench, key
        report = self._report()
        self.setAccessibleName(f"Target {report.label}")
        unit = f", {report.unit}" if report.unit else ""
        self.body.addWidget(Words(report.label + unit, 14, bold=True))
        self._sentence = Words("", 12, tone="ink2", room=WIDTH)
        self.body.addWidget(self._sentence)
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(6)
        self._lo, self._lo_kind = self._end(grid, 0, "at least", self._set_lo, self._set_lo_kind)
        self._hi, self._hi_kind = self._end(grid, 1, "at most", self._set_hi, self._set_hi_kind)
        self.body.addLayout(grid)
        self._convention: Segments | None = None
        if key == "degree":
            self._convention = Segments("Degree counted as", CONVENTIONS)
            self._convention.chosen.connect(self._set_convention)
            self.body.addWidget(self._convention)
        foot = QHBoxLayout()
        self._on = Button("", "quiet")
        self._on.clicked.connect(self._turn)
        self._as_route = Button("As the route has it", "text")
        self._as_route.clicked.connect(self._reset)
        foot.addWidget(self._on)
        foot.addStretch(1)
        foot.addWidget(self._as_route)
        self.body.addLayout(foot)
        bench.changed.connect(self.refresh)
        self.refresh()

    def _end(
        self,
        grid: QGridLayout,
        row: int,
        words: str,
        take: Callable[[object], None],
        kind: Callable[[str], None],
    ) -> tuple[NumberField, Segments]:
        report = self._report()
        step = 10.0**-report.decimals
        field = NumberField(reader_for_unit(report.unit), report.unit, report.decimals, step, may_be_empty=True)
        field.setAccessibleName(f"{report.label} {words}")
        field.setPlaceholderText("open")
        field.setMaximumWidth(120)
        field.valueEdited.connect(take)
        segments = Segments(f"{words} is a", KINDS)
        segments.chosen.connect(kind)
        grid.addWidget(Caption(words, "ink"), row, 0)
        grid.addWidget(field, row, 1)
        grid.addWidget(segments, row, 2)
        return field, segments

    def _report(self) -> TargetReport:
        return next(target for target in self._bench.report.targets if target.key == self.key)

    def _target(self) -> Target:
        return next((target for target in self._bench.work.recipe.targets if target.key == self.key), Target(self.key))

    def _set(self, **changes: object) -> None:
        self._bench.do("set_target", replace(self._target(), **changes))  # type: ignore[arg-type]

    def _set_lo(self, value: object) -> None:
        self._set_ends(cast("float | None", value), self._hi.value, self._lo)

    def _set_hi(self, value: object) -> None:
        self._set_ends(self._lo.value, cast("float | None", value), self._hi)

    def _set_ends(self, lo: float | None, hi: float | None, field: NumberField) -> None:
        """Set both ends as shown, so that typing one keeps the other where the route had set it."""
        if lo is not None and hi is not None and lo > hi:
            self.refresh()
            whisper(field, CROSSED)
            return
        self._set(lo=lo, hi=hi, auto=False, on=True)

    def _set_lo_kind(self, kind: str) -> None:
        self._set(lo_kind=cast(Kind, kind))

    def _set_hi_kind(self, kind: str) -> None:
        self._set(hi_kind=cast(Kind, kind))

    def _set_convention(self, convention: str) -> None:
        self._set(convention=cast(Convention, convention))

    def _turn(self) -> None:
        self._set(on=not self._target().on)

    def _default(self) -> Target | None:
        from fluxlab.design.start import route_targets

        recipe = self._bench.work.recipe
        return next((t for t in route_targets(recipe.route) if t.key == self.key), None)

    def _reset(self) -> None:
        default = self._default()
        if default is not None:
            self._bench.do("set_target", default)

    def refresh(self) -> None:
        """Show the target as it is now."""
        if not any(target.key == self.key for target in self._bench.report.targets):
            self.shut()
            return
        report, target = self._report(), self._target()
        self._lo.set_value(report.lo if target.auto else target.lo)
        self._hi.set_value(report.hi if target.auto else target.hi)
        self._lo_kind.set_current(target.lo_kind)
        self._hi_kind.set_current(target.hi_kind)
        if self._convention is not None:
            self._convention.set_current(target.convention or "SB")
        self._on.set_words("Switch off" if target.on else "Switch on")
        words = report.sentence
        if target.auto:
            words = f"{words} The ends follow the ore by the route's rule; type to set your own.".strip()
        self._sentence.set_words(words)
        default = self._default()
        self._as_route.setVisible(default is not None and default != target)
        self.adjustSize()

    def commit_pending(self) -> None:
        """Take what the fields hold."""
        self._lo.commit()
        self._hi.commit()

    def shut(self, give_back: bool = True) -> None:
        """Take what the fields hold, then close."""
        if not self.isHidden():
            self.commit_pending()
        super().shut(give_back)
