"""The targets as an item model: two columns side by side, filled down the first, then down the second."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from fluxlab.design.limit_figure import limit_figure
from fluxlab.design.recipe import Convention
from fluxlab.design.report_types import Report, TargetReport
from fluxlab.gui.widgets.fields import decimal_mark, show_number

Index = QModelIndex | QPersistentModelIndex
ACROSS = 2
_ROOT = QModelIndex()


def figure_of(target: TargetReport, value: float | None) -> str:
    """A value or limit of a target in the places that belong to it, "–" where there is none."""
    if value is not None and value == target.value and target.too_small and target.floor is not None:
        return f"< {show_number(target.floor, 1)}"
    return "–" if value is None else show_number(value, target.decimals)


def band_words(target: TargetReport) -> str:
    """The limits of a target in words: "1.2 – 1.6", "at most 9, wish"."""
    if not target.on:
        return "off"
    lo, hi = target.lo, target.hi
    low, high = limit_words(target, lo), limit_words(target, hi)
    if lo is None and hi is None:
        return "no limit"
    if hi is None:
        return f"at least {low}{', wish' if target.lo_kind == 'wish' else ''}"
    if lo is None:
        return f"at most {high}{', wish' if target.hi_kind == 'wish' else ''}"
    kinds = (target.lo_kind, target.hi_kind)
    tail = {("wish", "wish"): ", wish", ("must", "wish"): " wish", ("wish", "must"): ""}.get(kinds, "")
    head = "wish " if kinds == ("wish", "must") else ""
    return f"{head}{low} – {high}{tail}"


def _named(target: TargetReport, convention: Convention | None) -> TargetReport:
    """The degree says which convention it means."""
    if target.key != "degree" or convention is None or convention in target.label:
        return target
    return replace(target, label=f"{target.label}, {convention}")


def limit_words(target: TargetReport, value: float | None) -> str:
    """A limit as a figure, with the decimal mark in force; nothing where there is none."""
    return "" if value is None else limit_figure(value, target.decimals).replace(".", decimal_mark())


class TargetsModel(QAbstractTableModel):
    """Targets of the report; those switched off are listed when asked for."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.targets: tuple[TargetReport, ...] = ()
        self.show_off = False
        self.off_count = 0

    def refresh(self, report: Report) -> None:
        """Take over a report; only targets that differ are announced."""
        self.off_count = sum(not target.on for target in report.targets)
        meant = next((t.convention for t in report.work.recipe.targets if t.key == "degree"), None)
        targets = tuple(_named(target, meant) for target in report.targets if target.on or self.show_off)
        if [target.key for target in targets] != [target.key for target in self.targets]:
            self.beginResetModel()
            self.targets = targets
            self.endResetModel()
            return
        old, self.targets = self.targets, targets
        for k, (was, now) in enumerate(zip(old, targets, strict=True)):
            if was != now:
                at = self.place_of(k)
                self.dataChanged.emit(at, at)

    def rowCount(self, parent: Index = _ROOT) -> int:
        """Half the targets, rounded up."""
        return 0 if parent.isValid() else -(-len(self.targets) // ACROSS)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """Two."""
        return 0 if parent.isValid() else ACROSS

    def place_of(self, number: int) -> QModelIndex:
        """Where the target of this number stands."""
        rows = self.rowCount()
        return self.index(number % rows, number // rows)

    def target_at(self, index: Index) -> TargetReport | None:
        """The target in a cell, None for the empty last one."""
        if not index.isValid():
            return None
        number = index.row() + index.column() * self.rowCount()
        return self.targets[number] if number < len(self.targets) else None

    def index_of(self, key: str) -> QModelIndex:
        """Where a target stands; an invalid index when it is not listed."""
        number = next((k for k, target in enumerate(self.targets) if target.key == key), None)
        return QModelIndex() if number is None else self.place_of(number)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Every target can be chosen; the empty cell cannot."""
        if self.target_at(index) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Name, value and limits in one sentence."""
        target = self.target_at(index)
        if target is None:
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            value = f"{figure_of(target, target.value)} {target.unit}".strip()
            return f"{target.label}: {value}, {band_words(target)}"
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleDescriptionRole):
            return target.sentence or None
        return None

    def as_rows(self) -> list[list[str]]:
        """Rows for the clipboard and for a file: name, value, unit, least, most."""
        head = ["Target", "Value", "Unit", "Least", "Least is a", "Most", "Most is a"]
        return [
            head,
            *(
                [
                    target.label,
                    figure_of(target, target.value),
                    target.unit,
                    "" if target.lo is None else f"{target.lo:g}",
                    "" if target.lo is None else target.lo_kind,
                    "" if target.hi is None else f"{target.hi:g}",
                    "" if target.hi is None else target.hi_kind,
                ]
                for target in self.targets
            ),
        ]
