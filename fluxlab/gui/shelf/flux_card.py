"""The card of one flux beside the table: what it is made of, what 100 g of it give, what the rules ask of it."""

from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from fluxlab.gui.bridge import Bench
from fluxlab.gui.explain import Explanation
from fluxlab.gui.reading import reader
from fluxlab.gui.shelf import naming
from fluxlab.gui.shelf.composition import kind_of
from fluxlab.gui.shelf.made_of import AnalysisEditor, FormulaEditor, PartsEditor
from fluxlab.gui.shelf.preview import preview
from fluxlab.gui.tables.facts import FactLine, Figures, IssueWords
from fluxlab.gui.tables.label import Label
from fluxlab.gui.tables.oxide_rows import OxideTable
from fluxlab.gui.tables.page import PageColumn
from fluxlab.gui.tables.readers import above_zero, signed
from fluxlab.gui.tables.switch import Switch
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field, NumberField
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Severity
from fluxlab.materials import trade_facts
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component
from fluxlab.materials.trade_facts import MadeOf

GIVES = Explanation(
    "100 g of it give",
    "The oxides that the flux as weighed brings into the slag, and where the rest goes: gas, what the slag model does "
    "not hold, and impurity, which counts as nothing. The grey bar is the likely range from purity and, in a jar, from "
    "the ranges of its parts.",
    "oxides + gas + apart + impurity = 100 g + oxygen taken up; gas at 25 °C and 1 atm: 24.465 L/mol",
    "formulas with IUPAC standard atomic weights; gas volume by the ideal gas law",
)
EMPTY: dict[str, MadeOf] = {
    "formula": ByFormula(""),
    "analysis": ByAnalysis(()),
    "parts": ByParts(()),
}
EMPTY_WORDS = {
    "formula": "Write its formula; its oxides follow from it.",
    "analysis": "Add the oxides of its analysis.",
    "parts": "Add the components that are in the jar.",
}


class FluxCard(PageColumn):
    """Shows a component of the shelf, or a draft that is not on it yet. Every edit goes out by `edited`."""

    edited = Signal(object)
    placed = Signal(object)
    left = Signal()
    batch_wanted = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bench = bench
        self.component: Component | None = None
        self.draft = False
        self._kept: dict[str, MadeOf] = dict(EMPTY)
        self._build_head()
        self._build_yield()
        self._build_pot()
        self._build_draft()
        self.body.addStretch(1)

    def _build_head(self) -> None:
        self.head = Section("")
        self.name = Field()
        self.name.editingFinished.connect(self._rename)
        self.name_line = FactLine("Name", self.name)
        self.form = Field()
        self.form.setPlaceholderText("powder, crushed, fine …")
        self.form.editingFinished.connect(self._reform)
        self.form_line = FactLine("Form", self.form)
        self.switch = Switch("Made of", (("formula", "Formula"), ("analysis", "Analysis"), ("parts", "Parts")))
        self.switch.chosen.connect(self._switched)
        self.formula = FormulaEditor()
        self.analysis = AnalysisEditor()
        self.parts = PartsEditor(self._flux)
        self.parts.offered = self._offered
        self.parts.batch_wanted.connect(lambda: self.batch_wanted.emit(self.component))
        self.purity = NumberField(above_zero(reader("share"), "Purity"), "%", 1, 0.5)
        self.range = NumberField(reader("share"), "%", 1, 0.5)
        self.purity_line = FactLine("Purity", self.purity, Label("±"), self.range)
        self.range.setAccessibleName("Purity, plus or minus")
        self.issues = IssueWords()
        body = self.head.body
        body.addWidget(self.name_line)
        body.addSpacing(6)
        body.addWidget(self.switch, 0, Qt.AlignmentFlag.AlignLeft)
        for editor in (self.formula, self.analysis, self.parts):
            body.addWidget(editor)
            editor.edited.connect(self._made_of)
        body.addWidget(self.purity_line)
        body.addWidget(self.form_line)
        body.addWidget(self.issues)
        for field, width in ((self.purity, 84), (self.range, 84), (self.form, 180), (self.name, 240)):
            keep_width(field, width)
        self.purity.valueEdited.connect(lambda value: self._change(purity=value / 100))
        self.range.valueEdited.connect(lambda value: self._change(purity_range=value / 100))
        self.body.addWidget(self.head)
        self.body.addSpacing(14)

    def _build_yield(self) -> None:
        self.gives = Section("100 g of it give", "g, likely range")
        self.oxides = OxideTable("Oxides that 100 g give")
        self.fates = Figures("Besides")
        self.oxides.explanation = self.fates.explanation = GIVES
        self.gives.body.addWidget(self.oxides)
        self.gives.body.addWidget(self.fates)
        self.body.addWidget(self.gives)
        self.body.addSpacing(14)

    def _build_pot(self) -> None:
        self.pot = Section("In the pot")
        self.swell = NumberField(above_zero(reader("number", hi=20), "The swell factor"), "", 1, 0.1)
        self.power = NumberField(signed(reader("number", hi=100)), "", 1, 0.5)
        for field in (self.swell, self.power):
            keep_width(field, 84)
        self.swell.valueEdited.connect(lambda value: self._change(swell=value))
        self.power.valueEdited.connect(lambda value: self._change(lead_power=value, lead_power_range=None))
        self.by_formula = Button("", "text")
        self.by_formula.setAccessibleName("Take the lead power that follows from the formula")
        self.by_formula.clicked.connect(self._power_by_formula)
        self.facts = Button("", "text", after="chevron")
        self.facts.clicked.connect(self._open_facts)
        self.power_line = FactLine("Lead per g, g", self.by_formula, self.power)
        self.power_line.setToolTip("Lead that a gram makes; with a minus the lead that a gram of an oxidiser burns.")
        self.swell_line = FactLine("Swell factor", self.swell)
        self.swell_line.setToolTip("How many times its loose volume the flux takes at its highest, before it melts.")
        self.facts_line = FactLine("What it is", self.facts)
        for line in (self.swell_line, self.power_line, self.facts_line):
            self.pot.body.addWidget(line)
        self.source = Words("", 12, tone="ink2")
        self.pot.body.addSpacing(4)
        self.pot.body.addWidget(self.source)
        self.body.addWidget(self.pot)

    def _build_draft(self) -> None:
        self.buttons = QWidget()
        row = QHBoxLayout(self.buttons)
        row.setContentsMargins(0, 14, 0, 4)
        row.setSpacing(10)
        self.place = Button("Put it on the shelf", "solid")
        self.leave = Button("Leave it", "quiet")
        self.place.clicked.connect(self._place)
        self.leave.clicked.connect(self.left)
        row.addWidget(self.place)
        row.addWidget(self.leave)
        row.addStretch(1)
        self.body.addWidget(self.buttons)

    def show_component(self, component: Component, draft: bool = False) -> None:
        """Show a component; `draft` offers to put it on the shelf."""
        # The texts first: a field that loses the focus must not speak for the flux that comes.
        self.form.setText(component.form)
        self.name.setText(component.name)
        if self.component is None or component.uid != self.component.uid:
            self._kept = dict(EMPTY)
        self.component, self.draft = component, draft
        self._kept[kind_of(component.made_of)] = component.made_of
        self.head.set_title(component.name or "New flux")
        self.head.set_note("not on the shelf yet" if draft else "")
        self.name_line.setVisible(draft)
        self._show_made_of(component.made_of)
        self.purity.set_value(round(100 * component.purity, 6))
        self.range.set_value(round(100 * component.purity_range, 6))
        self.buttons.setVisible(draft)
        self.source.set_words(component.source)
        self._show_yield(component)

    def _show_made_of(self, made_of: MadeOf) -> None:
        kind = kind_of(made_of)
        self.switch.set_way(kind)
        for key, editor in (("formula", self.formula), ("analysis", self.analysis), ("parts", self.parts)):
            editor.setVisible(key == kind)
        self.purity_line.setVisible(kind != "parts")
        if isinstance(made_of, ByFormula):
            self.formula.show_made_of(made_of)
        elif isinstance(made_of, ByAnalysis):
            self.analysis.show_made_of(made_of)
        else:
            self.parts.show_made_of(made_of)

    def _show_yield(self, component: Component) -> None:
        empty = component.made_of in EMPTY.values()
        found = preview(component, self._bench.work.shelf.flux)
        broken = any(issue.severity is Severity.ERROR for issue in found.issues)
        self.gives.setVisible(not empty and not broken)
        self.oxides.show_rows(found.oxides)
        self.fates.set_lines(found.fates)
        if empty:
            self.issues.set_words(EMPTY_WORDS[kind_of(component.made_of)], "ink2")
            self.issues.show()
        else:
            self.issues.show_issues(found.issues)
        self.place.setEnabled(not empty and not broken)
        jar = isinstance(component.made_of, ByParts)
        self.pot.set_note("follows from the parts" if jar else "")
        for line in (self.swell_line, self.power_line, self.facts_line):
            line.setVisible(not jar)
        self.swell.set_value(component.swell)
        self.power.set_value(component.lead_power)
        self.facts.set_words(trade_facts.in_words(component.tags))
        self._offer_power(component, empty or broken or jar)

    def _offer_power(self, component: Component, unknown: bool) -> None:
        found = 0.0 if unknown else round(trade_facts.power_by_formula(component, self._bench.work.shelf.flux), 1)
        self.by_formula.setVisible(abs(found) >= 0.1 and component.lead_power == 0.0)
        self.by_formula.set_words(f"Take {found:g}")
        self.by_formula.setToolTip(f"{found:g} g of lead per g if all its oxygen takes part")

    def _power_by_formula(self) -> None:
        if self.component is not None:
            found = trade_facts.power_by_formula(self.component, self._bench.work.shelf.flux)
            self._change(lead_power=round(found, 1), lead_power_range=None)

    def _change(self, **changes: Any) -> None:
        if self.component is None:
            return
        changed = replace(self.component, **changes)
        if self.draft:
            self.show_component(changed, draft=True)
        else:
            self.component = changed
            self.edited.emit(changed)

    def _made_of(self, made_of: MadeOf) -> None:
        if self.component is not None:
            self._change(made_of=made_of, tags=trade_facts.carried_over(self.component, made_of))

    def _switched(self, kind: str) -> None:
        made_of = self._kept[kind]
        if self.draft or made_of != EMPTY[kind]:
            self._made_of(made_of)
            return
        # A flux on the shelf keeps what it is made of until the other description has something in it.
        self._show_made_of(made_of)
        self.gives.hide()
        self.issues.set_words(EMPTY_WORDS[kind], "ink2")
        self.issues.show()

    def _flux(self, uid: str) -> Component | None:
        return self._bench.work.shelf.flux(uid)

    def _offered(self) -> tuple[Component, ...]:
        return tuple(c for c in self._bench.work.shelf.fluxes if self.component is None or c.uid != self.component.uid)

    def _rename(self) -> None:
        # The name of a flux on the shelf is changed in the table; here only a draft gets one.
        if self.draft and self.component is not None and self.name.text() != self.component.name:
            self._change(name=self.name.text())

    def _reform(self) -> None:
        if self.component is not None and self.form.text() != self.component.form:
            self._change(form=self.form.text().strip())

    def _open_facts(self) -> None:
        menu = Menu(self)
        for tag, words in trade_facts.TAGS.items():
            on = self.component is not None and tag in self.component.tags
            menu.tick(words[:1].upper() + words[1:], on, partial(self._tick, tag))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.facts.mapToGlobal(self.facts.rect().bottomLeft()))

    def _tick(self, tag: str, on: bool) -> None:
        if self.component is not None:
            self._change(tags=self.component.tags | {tag} if on else self.component.tags - {tag})

    def _place(self) -> None:
        self.commit_pending()
        if self.component is None:
            return
        sentence = naming.refusal(self.component.name, self._bench.work.shelf.fluxes)
        if sentence:
            whisper(self.name, sentence)
            self.name.setFocus()
            return
        self.placed.emit(self.component)

    def commit_pending(self) -> None:
        """Take what an open field or cell holds."""
        self._rename()
        self._reform()
        for editor in (self.formula, self.analysis, self.parts):
            if editor.isVisible():
                editor.commit_pending()
        for field in (self.purity, self.range, self.swell, self.power):
            field.commit()
