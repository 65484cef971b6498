"""Own figures of the roast: what the program took from memory and judgement, and what the operator knows better."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore import explanations
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.facts import FactLine
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.fields import NumberField
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

if TYPE_CHECKING:
    from fluxlab.design.roast_own import OwnFigure


GROUNDS = "What stands in grey is reckoned: shares and times from memory and judgement, sulphate temperatures computed."


class OwnRoastPart(Section):
    """One field per figure: empty, it shows in grey what the program reckons with."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__("Own figures of the roast", parent=parent, fold="own roast")
        self._bench = bench
        self.explanation = explanations.OWN_ROAST
        self._lines: dict[tuple[str, str], tuple[FactLine, NumberField]] = {}
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.body.addLayout(self._rows)
        self.body.addWidget(Words(GROUNDS, 12, tone="ink2"))
        self.set_folded(True)
        self.folded.connect(lambda _fold, folded: None if folded else self.refresh())

    def refresh(self) -> None:
        """Show the figures of the roast on the bench; a perfect roast has none."""
        plan, roast = self._bench.work.recipe.roast, self._bench.report.ore.roast
        self.setVisible(roast is not None and not roast.perfect)
        scalars = (plan.arsenate, plan.antimony_fumed, plan.magnetite, plan.silver_loss)
        own = len(plan.conversion) + len(plan.sulphate) + sum(1 for value in scalars if value is not None)
        self.set_note(f"{own} of your own" if own else "all the program's")
        if roast is None or roast.perfect:
            return
        from fluxlab.design.roast_own import own_figures

        figures = own_figures(self._bench.work)
        if [(f.kind, f.name) for f in figures] != list(self._lines):
            self._build(figures)
        if self.is_folded:
            return
        for figure in figures:
            field = self._lines[figure.kind, figure.name][1]
            field.set_value(figure.own)
            field.setPlaceholderText(f"about {shown(figure.reckoned, 0)}")

    def _build(self, figures: "tuple[OwnFigure, ...]") -> None:
        for line, _ in self._lines.values():
            line.hide()
            self._rows.removeWidget(line)
            line.deleteLater()
        self._lines = {}
        for figure in figures:
            field = NumberField(reader("share", 0.0, 100.0), "%", 0, 5.0, may_be_empty=True)
            field.setAccessibleName(f"{figure.words}, own figure")
            keep_width(field, 104)
            field.valueEdited.connect(partial(self._set, figure.kind, figure.name))
            line = FactLine(figure.words, field)
            self._rows.addWidget(line)
            self._lines[figure.kind, figure.name] = line, field

    def field(self, kind: str, name: str = "") -> NumberField:
        """The field of one figure."""
        return self._lines[kind, name][1]

    def _set(self, kind: str, name: str, percent: float | None) -> None:
        share = None if percent is None else percent / 100.0
        if name:
            self._bench.do(edits.set_roast_share, kind, name, share)
        else:
            self._bench.do(edits.set_roast_figure, kind, share)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for _, field in self._lines.values():
            field.commit()
