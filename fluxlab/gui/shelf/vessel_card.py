"""The card of one pot or mould beside its table: drawn to scale, what it holds, what is wrong with its dimensions."""

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from fluxlab.gui.explain import Explanation
from fluxlab.gui.shelf.vessel_columns import POT_MATERIALS
from fluxlab.gui.shelf.vessel_drawing import VesselDrawing
from fluxlab.gui.tables.facts import FactLine, Figures, IssueWords
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.tables.page import PageColumn
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Issue
from fluxlab.vessel.vessel_types import Crucible, Mould

MEASURE = (
    "To measure a brimful: fill the pot level with dry fine salt or sand, weigh what it took, divide by the bulk "
    "density of that salt or sand (a level cup of 100 cm³ tells it)."
)
MEASURED_MOULD = "Radii, depth and angle are inside measures; depth runs from the tip to the rim."


HOLDS = Explanation(
    "What the vessel holds",
    "The brimful follows from the inside dimensions. A brimful that you measured widens or narrows the computed shape, "
    "so that half and two-thirds marks stand where they do in the real pot.",
    "exact volumes of frustum, cap, ellipsoid, barrel, cone with a rounded tip",
    "closed formulas of solid geometry",
)


class VesselCard(PageColumn):
    """Shows one vessel. What it is made of can be changed here, its dimensions in the table."""

    edited = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.vessel: Crucible | Mould | None = None
        self.section = Section("")
        self.drawing = VesselDrawing()
        self.figures = Figures("It holds")
        self.drawing.explanation = self.figures.explanation = HOLDS
        self.material = Button("", "text", after="chevron")
        self.material.clicked.connect(self._open_materials)
        self.material_line = FactLine("Made of", self.material)
        self.metal = Field()
        self.metal.editingFinished.connect(self.commit_pending)
        self.metal_line = FactLine("Made of", self.metal)
        self.notes = Field()
        self.notes.editingFinished.connect(self.commit_pending)
        self.notes_line = FactLine("Notes", self.notes)
        keep_width(self.notes, 260)
        self.issues = IssueWords()
        self.help = Words("", 12, tone="ink2")
        for part in (self.drawing, self.issues, self.figures, self.material_line, self.metal_line, self.notes_line):
            self.section.body.addWidget(part)
        self.section.body.addSpacing(8)
        self.section.body.addWidget(self.help)
        self.body.addWidget(self.section)
        self.body.addStretch(1)

    def show_vessel(self, vessel: Crucible | Mould | None) -> None:
        """Show a vessel; None leaves the frame empty."""
        # The text first: a field that loses the focus must not speak for the vessel that comes.
        self.metal.setText(vessel.material if isinstance(vessel, Mould) else "")
        self.notes.setText(vessel.notes if vessel else "")
        self.vessel = vessel
        pot = vessel if isinstance(vessel, Crucible) else None
        mould = vessel if isinstance(vessel, Mould) else None
        self.section.set_title(vessel.name if vessel else "Nothing chosen")
        self.section.set_note("to scale, inside measures" if vessel else "")
        self.drawing.show_vessel(vessel)
        brim, issues = (None, ()) if vessel is None else _brim(vessel)
        self.issues.show_issues(issues)
        lines = [] if brim is None else [("Brimful", shown(brim, 0), "cm³")]
        if brim is not None and pot is not None:
            lines += [("Two thirds", shown(brim * 2 / 3, 0), "cm³"), ("Half", shown(brim / 2, 0), "cm³")]
        self.figures.set_lines(lines)
        self.material_line.setVisible(pot is not None)
        self.material.set_words(pot.material if pot else "")
        self.metal_line.setVisible(mould is not None)
        self.notes_line.setVisible(vessel is not None)
        self.help.set_words(MEASURE if pot else MEASURED_MOULD if mould else "")

    def _open_materials(self) -> None:
        menu = Menu(self)
        if isinstance(self.vessel, Crucible):
            menu.choices(list(POT_MATERIALS), self.vessel.material, self._set_material)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.material.mapToGlobal(self.material.rect().bottomLeft()))

    def _set_material(self, words: str) -> None:
        material = next((m for m in POT_MATERIALS if m == words), None)
        if material is not None and isinstance(self.vessel, Crucible):
            self.edited.emit(replace(self.vessel, material=material))

    def commit_pending(self) -> None:
        """Take the material and the notes typed."""
        metal, notes = self.metal.text().strip(), self.notes.text().strip()
        if isinstance(self.vessel, Mould) and metal and metal != self.vessel.material:
            self.vessel = replace(self.vessel, material=metal)
            self.edited.emit(self.vessel)
        if self.vessel is not None and notes != self.vessel.notes:
            self.vessel = replace(self.vessel, notes=notes)
            self.edited.emit(self.vessel)


def _brim(vessel: Crucible | Mould) -> tuple[float | None, tuple[Issue, ...]]:
    """Brimful [cm3] and what is wrong with the dimensions."""
    if isinstance(vessel, Crucible):
        from fluxlab.vessel.crucible import crucible_profile

        profile, issues = crucible_profile(vessel)
    else:
        from fluxlab.vessel.mould import mould_profile

        profile, issues = mould_profile(vessel)
    return (profile.brim if profile else None), issues
