"""How the charge is roasted, in figures of the operator's own: reckoned as, heat, time, bed, weights."""

from dataclasses import replace

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.readers import above_zero
from fluxlab.gui.widgets.decision import Choice, Decision
from fluxlab.gui.widgets.fields import Reader, show_number
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.words import Caption
from fluxlab.ore.roast_types import RoastKind, RoastPlan

KINDS: dict[RoastKind, str] = {
    "perfect": "a perfect roast",
    "planned": "the plan below",
    "weighed": "its weights",
}
STIRRED = ("yes", "no")
NOT_YET = "not yet"


class RoastPlanPart(QWidget):
    """Violet figures in three columns; a perfect roast needs none of them."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.kind = Choice("The roast is reckoned with", self._kinds, self)
        self.before = self._figure("Before", above_zero(reader("mass"), "A weight before"), "g", 1, 1.0, NOT_YET)
        self.after = self._figure("After", reader("mass"), "g", 1, 0.1, NOT_YET)
        self.error = self._figure("Balance ±", reader("mass", 0.0, 100.0), "g", 1, 0.1)
        self.start = self._figure("Start", reader("temperature", 20, 1300, "A start"), "°C", 0, 10)
        self.finish = self._figure("Finish", reader("temperature", 20, 1300, "A finish"), "°C", 0, 10)
        self.minutes = self._figure("Time", reader("time", 0, 10_000), "min", 0, 5)
        self.stirred = Choice("Stirred", self._stirred_menu, self)
        self.bed = self._figure("Bed", above_zero(reader("length"), "A bed"), "mm", 0, 1)
        self.grain = self._figure("Grain", above_zero(reader("length"), "A grain"), "mm", 1, 0.05)
        self._captions: dict[QWidget, Caption] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(0)
        grid.addLayout(self._cell("Reckon with", self.kind), 0, 0, 1, 3)
        for row, cells in enumerate(
            (
                (("Before", self.before), ("After", self.after), ("Balance ±", self.error)),
                (("Start", self.start), ("Finish", self.finish), ("Time", self.minutes)),
                (("Stirred", self.stirred), ("Bed", self.bed), ("Grain", self.grain)),
            ),
            start=1,
        ):
            for column, (words, control) in enumerate(cells):
                grid.addLayout(self._cell(words, control), row, column)
        for column in range(3):
            grid.setColumnStretch(column, 1)
        self._wire()

    def _wire(self) -> None:
        self.before.decided.connect(lambda grams: self._bench.do(edits.weigh_roast, grams, self._plan.after))
        self.after.decided.connect(lambda grams: self._bench.do(edits.weigh_roast, self._plan.before, grams))
        self.error.decided.connect(lambda grams: self._bench.do(edits.set_roast_figure, "balance_error", grams))
        self.start.decided.connect(self._begin)
        self.finish.decided.connect(lambda hot: self._bench.do(edits.plan_roast, hot, self._plan.minutes))
        self.minutes.decided.connect(lambda t: self._bench.do(edits.plan_roast, self._plan.finish_temperature, t))
        self.bed.decided.connect(lambda mm: self._lay(bed=mm))
        self.grain.decided.connect(lambda mm: self._lay(grain=mm))

    @property
    def _plan(self) -> RoastPlan:
        return self._bench.work.recipe.roast

    def _figure(self, name: str, read: Reader, unit: str, places: int, step: float, empty: str = "") -> Decision:
        return Decision(f"{name}, roast", read, unit, places, step, may_be_empty=bool(empty), empty=empty, parent=self)

    def _cell(self, words: str, control: QWidget) -> QHBoxLayout:
        cell = QHBoxLayout()
        cell.setSpacing(6)
        self._captions[control] = Caption(words)
        cell.addWidget(self._captions[control])
        cell.addWidget(control)
        cell.addStretch(1)
        return cell

    def _kinds(self, menu: Menu) -> None:
        menu.choices(list(KINDS.values()), KINDS[self._plan.kind], self.choose_kind)

    def choose_kind(self, words: str) -> None:
        """Say what the roast is reckoned with."""
        kind = next(kind for kind, name in KINDS.items() if name == words)
        self._bench.do(edits.set_roast_kind, kind)

    def _stirred_menu(self, menu: Menu) -> None:
        menu.choices(list(STIRRED), STIRRED[not self._plan.rabbled], self.choose_stirred)

    def choose_stirred(self, words: str) -> None:
        """Say whether the bed is stirred."""
        self._lay(stirred=words == STIRRED[0])

    def _begin(self, hot: float) -> None:
        label = f"Roast from {show_number(hot, 0)} °C"
        self._bench.do(edits.set_roast, replace(self._plan, start_temperature=hot), label)

    def _lay(self, bed: float | None = None, grain: float | None = None, stirred: bool | None = None) -> None:
        plan = self._plan
        self._bench.do(
            edits.lay_bed,
            plan.bed_depth if bed is None else bed,
            plan.rabbled if stirred is None else stirred,
            plan.particle_size if grain is None else grain,
        )

    def show_plan(self, plan: RoastPlan) -> None:
        """Show the plan as it is now."""
        self.kind.set_words(KINDS[plan.kind])
        self.before.set_value(plan.before)
        self.after.set_value(plan.after)
        self.error.set_value(plan.balance_error)
        self.start.set_value(plan.start_temperature)
        self.finish.set_value(plan.finish_temperature)
        self.minutes.set_value(plan.minutes)
        self.stirred.set_words(STIRRED[not plan.rabbled])
        self.bed.set_value(plan.bed_depth)
        self.grain.set_value(plan.particle_size)
        weighing = {self.before, self.after, self.error}
        for control, caption in self._captions.items():
            wanted = control is self.kind or (plan.kind == "weighed" if control in weighing else plan.kind != "perfect")
            caption.setVisible(wanted)
            control.setVisible(wanted)

    def commit_pending(self) -> None:
        """Take what an open field holds."""
        weights, heat = (self.before, self.after, self.error), (self.start, self.finish, self.minutes)
        for figure in (*weights, *heat, self.bed, self.grain):
            figure.commit()
