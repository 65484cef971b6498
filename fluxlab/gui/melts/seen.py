"""What was seen, ticked group by group; a group that is folded says how many of its looks are ticked."""

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from fluxlab.gui.weigh.tick import Tick
from fluxlab.gui.widgets.section import Section

OPEN_AT_FIRST = ("slag colour",)
ONLY_WITH_LEAD = "cupel"
ONLY_WITH_ROAST = "calcine"


class Seen(QWidget):
    """The ticks. `changed` tells that one was set or taken back."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        from fluxlab.design.diagnosis import observations

        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.ticks: dict[str, Tick] = {}
        self.groups: dict[str, Section] = {}
        self._members: dict[str, list[str]] = {}
        for look in observations():
            section = self.groups.get(look.group)
            if section is None:
                section = Section(look.group[0].upper() + look.group[1:], fold=f"melts.{look.group}")
                self.groups[look.group] = section
                column.addWidget(section)
            tick = Tick(look.words, f"{look.group}: {look.words}")
            tick.toggled.connect(self._toggled)
            self.ticks[look.key] = tick
            self._members.setdefault(look.group, []).append(look.key)
            section.body.addWidget(tick)
        self.set_seen(())

    def _toggled(self) -> None:
        self._count()
        self.changed.emit()

    def _count(self) -> None:
        for place, (group, section) in enumerate(self.groups.items()):
            count = sum(self.ticks[key].isChecked() for key in self._members[group])
            section.set_note(f"{count} ticked" if count else "tick what was seen" if place == 0 else "")

    @property
    def seen(self) -> tuple[str, ...]:
        """Keys of what is ticked."""
        return tuple(key for key, tick in self.ticks.items() if tick.isChecked())

    def tick(self, keys: Iterable[str]) -> list[Tick]:
        """Tick these and no others, every group as it stands; the ticks that this has changed."""
        wanted = set(keys)
        changed = [tick for key, tick in self.ticks.items() if tick.isChecked() != (key in wanted)]
        for tick in changed:
            tick.blockSignals(True)
            tick.setChecked(not tick.isChecked())
            tick.blockSignals(False)
        self._count()
        return changed

    def set_seen(self, keys: Iterable[str], route: str = "", feed: str = "calcine") -> None:
        """Tick these; groups that have nothing to do with the melt are left out unless something in them is ticked."""
        wanted = set(keys)
        self.tick(wanted)
        for group, section in self.groups.items():
            ticked = any(key in wanted for key in self._members[group])
            fits = not (group == ONLY_WITH_LEAD and route != "lead collection")
            fits &= not (group == ONLY_WITH_ROAST and feed != "calcine")
            section.setVisible(ticked or fits)
            section.set_folded(not ticked and group not in OPEN_AT_FIRST)
