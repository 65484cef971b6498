"""The roast as a programme: what this ore warns of, then step by step heat, time and what to do."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from fluxlab.design.report_types import RoastReport, RoastStep
from fluxlab.gui.ore import explanations
from fluxlab.gui.tables.facts import IssueWords
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words


def step_words(step: RoastStep) -> str:
    """Title, heat and time of a step in one line."""
    span = f"{shown(step.low, 0)}" if step.low == step.high else f"{shown(step.low, 0)} – {shown(step.high, 0)}"
    return f"{step.title}, {span} °C, {shown(step.minutes, 0)} min"


class ProgrammePart(Section):
    """Folded away until it is wanted; the title says how much there is to mind."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Roast programme", parent=parent, fold="programme")
        self.explanation = explanations.PROGRAMME
        self.warnings = IssueWords(self)
        self._steps = QVBoxLayout()
        self._steps.setSpacing(0)
        self.words: list[tuple[Words, Words]] = []
        self.body.addWidget(self.warnings)
        self.body.addLayout(self._steps)
        self.set_folded(True)

    def show_roast(self, roast: RoastReport | None) -> None:
        """Show the programme of a roast; none hides the part."""
        self.setVisible(roast is not None)
        if roast is None:
            return
        mind = len(roast.warnings)
        self.set_note(f"{len(roast.programme)} steps" + (f", {mind} to mind" if mind else ""))
        self.warnings.show_issues(roast.warnings)
        while len(self.words) < len(roast.programme):
            title, action = Words("", 13, bold=True), Words("", 12, tone="ink2")
            for part in (title, action):
                self._steps.addWidget(part)
            self._steps.addSpacing(6)
            self.words.append((title, action))
        for (title, action), step in zip(self.words, roast.programme, strict=False):
            title.set_words(step_words(step))
            action.set_words(f"{step.action} ({step.source})")
