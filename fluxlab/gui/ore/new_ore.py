"""The three things that a new ore type asks: a name, what it mostly is, and its silver grade."""

from collections.abc import Sequence

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtWidgets import QCompleter, QHBoxLayout, QWidget

from fluxlab.gui.ore.grade_field import GradeField
from fluxlab.gui.tables.widths import dress_list, keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.whisper import whisper
from fluxlab.gui.widgets.words import Words

WIDE = 300


class NewOrePanel(Panel):
    """`made` carries the new ore type. Everything can be changed later on the page."""

    made = Signal(object)

    def __init__(self, group: str, groups: Sequence[str], window: QWidget) -> None:
        super().__init__("New ore type", window)
        from fluxlab.ore.mostly import choices

        self._choices = choices()
        self.mostly = self._choices[-1].key
        self.name = Field(self)
        self.name.setAccessibleName("Name of the ore type")
        self.name.setPlaceholderText("Name")
        keep_width(self.name, WIDE)
        self.group = Field(self)
        self.group.setAccessibleName("Place or group, may stay empty")
        self.group.setPlaceholderText("Place or group, may stay empty")
        self.group.setText(group)
        completer = QCompleter(sorted(set(groups)), self.group)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        dress_list(completer)
        self.group.setCompleter(completer)
        self.kind = Button("", "quiet", after="chevron", parent=self)
        self.kind.clicked.connect(self._open_kinds)
        self.silver = GradeField("Silver grade", self)
        self.silver.show_grade(None)
        self.take = Button("Begin with it", "solid", parent=self)
        self.take.clicked.connect(self._take)
        add = self.body.addWidget
        add(Words("1  What is it called?", 13, bold=True))
        add(self.name)
        add(self.group)
        self.body.addSpacing(6)
        add(Words("2  What is it mostly?", 13, bold=True))
        add(self.kind, 0, Qt.AlignmentFlag.AlignLeft)
        self.hint = Words("", 12, tone="ink2", room=WIDE)
        add(self.hint)
        self.body.addSpacing(6)
        add(Words("3  How much silver does it hold?", 13, bold=True))
        add(self.silver)
        add(Words("Leave it empty when it is unknown.", 12, tone="ink2"))
        self.body.addSpacing(6)
        row = QHBoxLayout()
        row.addWidget(self.take)
        row.addStretch(1)
        self.body.addLayout(row)
        self.name.returnPressed.connect(self._take)
        self.choose(self.mostly)

    def choose(self, key: str) -> None:
        """Choose what the ore mostly is."""
        chosen = next(c for c in self._choices if c.key == key)
        self.mostly = key
        self.kind.set_words(chosen.label)
        self.kind.setAccessibleName(f"What it mostly is: {chosen.label}")
        main = sorted(chosen.minerals, key=lambda share: -share.likely)[:4]
        parts = ", ".join(f"{share.what.split(',')[0].lower()} {share.low:g} to {share.high:g} %" for share in main)
        self.hint.set_words(f"Begins with {parts}. Correct it on the page.")

    def _open_kinds(self) -> None:
        menu = Menu(self)
        by_label = {c.label: c.key for c in self._choices}
        menu.choices(list(by_label), self.kind.text(), lambda label: self.choose(by_label[label]))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.kind.mapToGlobal(self.kind.rect().bottomLeft()))

    def open_at(self, beside: QWidget, rect: QRect | None = None) -> None:
        """Show the plate, ready for the name."""
        super().open_at(beside, rect)
        self.name.setFocus()

    def _take(self) -> None:
        from fluxlab.design.start import new_id
        from fluxlab.ore.mostly import new_ore

        name = self.name.text().strip()
        if not name:
            whisper(self.name, "A name is needed to find the ore type again.")
            self.name.setFocus()
            return
        if not self.silver.commit():
            return
        ore = new_ore(new_id(), name, self.mostly, self.silver.grade, self.group.text().strip())
        self.shut()
        self.made.emit(ore)
