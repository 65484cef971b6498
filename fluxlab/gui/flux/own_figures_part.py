"""Own figures: what the program took from memory and judgement, and what the operator knows better."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.fields import NumberField, Reader, show_exact
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

FIELD = 112
Check = Callable[[Work, str, float], str]
"""Why a figure cannot be set beside the others, in words; empty if it can."""


@dataclass(frozen=True, slots=True)
class Row:
    """One figure that may be replaced: its key, words and unit, the shipped figure with its ends, its source, and the
    heading under which it stands, if any."""

    key: str
    words: str
    unit: str
    shipped: float
    ends: tuple[float, float] | None
    source: str
    group: str = ""

    @property
    def said(self) -> str:
        """What counts without an own figure, and where that is from."""
        told = show_exact(float(f"{self.shipped:.4g}"), 0)
        if self.ends is not None and self.ends[0] != self.ends[1]:
            low, high = (show_exact(float(f"{end:.3g}"), 0) for end in self.ends)
            told = f"{told} ({low} to {high})"
        return f"Without it {told} {self.unit}".rstrip() + f": {self.source}."


@dataclass(frozen=True, slots=True)
class Kind:
    """One family of figures: where its rows come from, what the operator has set, how that is checked and set."""

    title: str
    fold: str
    rows: Callable[[Report], tuple[Row, ...]]
    own: Callable[[Work], tuple[tuple[str, float], ...]]
    check: Check
    edit: str


def _pot_rows(report: Report) -> tuple[Row, ...]:
    return tuple(
        Row(f.key, f.words, f.unit, f.shipped.value, _ends(f.shipped.low, f.shipped.high), f.shipped_source, f.group)
        for f in (report.pot.figures if report.pot is not None else ())
    )


def _ends(low: float | None, high: float | None) -> tuple[float, float] | None:
    return None if low is None or high is None else (low, high)


def _check_pot(work: Work, key: str, value: float) -> str:
    from fluxlab.design.pot_figures import refusal

    return refusal(dict(work.recipe.pot_figures), work.recipe.route, key, value)


def _crystal_rows(report: Report) -> tuple[Row, ...]:
    from fluxlab.design.crystal_figures import crystal_figures

    return tuple(Row(f.key, f.words, f.unit, f.shipped, None, f.source) for f in crystal_figures())


def _check_crystals(_work: Work, key: str, value: float) -> str:
    from fluxlab.design.crystal_figures import sensible_crystals

    _, refused = sensible_crystals({key: value})
    return f"{refused[0].sentence} {refused[0].remedy}" if refused else ""


POT = Kind(
    "Own figures of the pot", "own pot", _pot_rows, lambda work: work.recipe.pot_figures, _check_pot, "set_pot_figure"
)
CRYSTALS = Kind(
    "Own limits for crystals",
    "own crystals",
    _crystal_rows,
    lambda work: work.recipe.crystal_figures,
    _check_crystals,
    "set_crystal_figure",
)


class _RowPart(QWidget):
    """One figure: its words and field, and in grey what counts without an own one."""

    edited = Signal(str, object)

    def __init__(self, row: Row, read: Reader) -> None:
        super().__init__()
        self.field = NumberField(read, row.unit, 0, 1.0, may_be_empty=True)
        self.field.setAccessibleName(f"{row.words}, own figure")
        keep_width(self.field, FIELD)
        self.field.valueEdited.connect(partial(self.edited.emit, row.key))
        self._said = Words("", 12, tone="ink2")
        name = Words(row.words[:1].upper() + row.words[1:], 13)
        head, block = QHBoxLayout(), QVBoxLayout(self)
        block.setContentsMargins(0, 0, 0, 0)
        block.setSpacing(1)
        head.addWidget(name, 1, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.field, 0, Qt.AlignmentFlag.AlignTop)
        block.addLayout(head)
        block.addWidget(self._said)

    def show_row(self, row: Row, own: float | None) -> None:
        """Show the figure as it stands."""
        self.field.set_value(own)
        self.field.setPlaceholderText(show_exact(float(f"{row.shipped:.3g}"), 0))
        self._said.set_words(row.said)


class _Rows(QVBoxLayout):
    """The figures of one heading, made when they are first shown; one that is gone from the charge is put away."""

    def __init__(self, kind: Kind, bench: Bench) -> None:
        super().__init__()
        self.setSpacing(8)
        self.setContentsMargins(0, 2, 0, 8)
        self._kind, self._bench = kind, bench
        self.parts: dict[str, _RowPart] = {}

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show these figures, in this order."""
        own = dict(self._kind.own(self._bench.work))
        for at, row in enumerate(rows):
            if row.key not in self.parts:
                self._add(row, at)
            self.parts[row.key].show_row(row, own.get(row.key))
        keys = [row.key for row in rows]
        for key, part in self.parts.items():
            part.setVisible(key in keys)
        for before, after in pairwise(keys):
            QWidget.setTabOrder(self.parts[before].field, self.parts[after].field)

    def _add(self, row: Row, at: int) -> None:
        part = _RowPart(row, self._reader(row.key))
        part.edited.connect(partial(self._bench.do, self._kind.edit))
        self.insertWidget(at, part)
        self.parts[row.key] = part

    def _reader(self, key: str) -> Reader:
        """A reader for one figure; what makes no sense is refused in words."""
        plain = reader("number")

        def read(words: str) -> float | str:
            value = plain(words)
            return value if isinstance(value, str) else self._kind.check(self._bench.work, key, value) or value

        return read


class OwnFigures(Section):
    """One field per figure; empty, the program's own figure counts and shows in grey.

    Figures with a heading stand under it, folded away; nothing is made before it is unfolded.
    """

    def __init__(self, kind: Kind, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(kind.title, parent=parent, fold=kind.fold)
        self._kind, self._bench = kind, bench
        self._rows = {"": _Rows(kind, bench)}
        self.groups: dict[str, Section] = {}
        self.body.addLayout(self._rows[""])
        self.set_folded(True)
        self.folded.connect(lambda _fold, folded: None if folded else self.refresh())

    @property
    def fields(self) -> dict[str, NumberField]:
        """The fields made so far, by key."""
        return {key: part.field for rows in self._rows.values() for key, part in rows.parts.items()}

    def refresh(self) -> None:
        """Show the figures on the bench."""
        own = dict(self._kind.own(self._bench.work))
        self.set_note(f"{len(own)} of your own" if own else "all the program's")
        if self.is_folded:
            return
        by_group: dict[str, list[Row]] = {}
        for row in self._kind.rows(self._bench.report):
            by_group.setdefault(row.group, []).append(row)
        for group, rows in by_group.items():
            if group:
                section = self._section(group)
                mine = sum(row.key in own for row in rows)
                section.set_note(f"{mine} of your own" if mine else f"{len(rows)}")
                if section.is_folded:
                    continue
            self._rows[group].show_rows(rows)

    def _section(self, group: str) -> Section:
        """The part of one heading."""
        if group not in self.groups:
            section = Section(group[:1].upper() + group[1:], fold=f"{self._kind.fold} {group}")
            self.groups[group], self._rows[group] = section, _Rows(self._kind, self._bench)
            section.body.addLayout(self._rows[group])
            section.set_folded(True)
            section.folded.connect(lambda _fold, folded: None if folded else self.refresh())
            self.body.addWidget(section)
        return self.groups[group]

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for field in self.fields.values():
            field.commit()
