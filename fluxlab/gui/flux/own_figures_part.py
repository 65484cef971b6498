"""Own figures: what the program took from memory and judgement, and what the operator knows better."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.fields import NumberField, Reader, show_exact
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Issue

FIELD = 112
Check = Callable[[Mapping[str, float]], tuple[Mapping[str, float], tuple[Issue, ...]]]


@dataclass(frozen=True, slots=True)
class Row:
    """One figure that may be replaced: its key, words and unit, the shipped figure with its ends, and its source."""

    key: str
    words: str
    unit: str
    shipped: float
    ends: tuple[float, float] | None
    source: str

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
        Row(f.key, f.words, f.unit, f.shipped.value, _ends(f.shipped.low, f.shipped.high), f.shipped_source)
        for f in (report.pot.figures if report.pot is not None else ())
    )


def _ends(low: float | None, high: float | None) -> tuple[float, float] | None:
    return None if low is None or high is None else (low, high)


def _check_pot(figures: Mapping[str, float]) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    from fluxlab.design.pot_figures import sensible

    return sensible(figures)


def _crystal_rows(report: Report) -> tuple[Row, ...]:
    from fluxlab.design.crystal_figures import crystal_figures

    return tuple(Row(f.key, f.words, f.unit, f.shipped, None, f.source) for f in crystal_figures())


def _check_crystals(figures: Mapping[str, float]) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    from fluxlab.design.crystal_figures import sensible_crystals

    return sensible_crystals(figures)


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


class OwnFigures(Section):
    """One field per figure; empty, the program's own figure counts and shows in grey."""

    def __init__(self, kind: Kind, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(kind.title, parent=parent, fold=kind.fold)
        self._kind, self._bench = kind, bench
        self.fields: dict[str, NumberField] = {}
        self._said: dict[str, Words] = {}
        self._rows = QVBoxLayout()
        self._rows.setSpacing(8)
        self.body.addLayout(self._rows)
        self.set_folded(True)
        self.folded.connect(lambda _fold, folded: None if folded else self.refresh())

    def refresh(self) -> None:
        """Show the figures on the bench."""
        own = dict(self._kind.own(self._bench.work))
        self.set_note(f"{len(own)} of your own" if own else "all the program's")
        if self.is_folded:
            return
        rows = self._kind.rows(self._bench.report)
        for row in rows:
            if row.key not in self.fields:
                self._add(row)
            field = self.fields[row.key]
            field.set_value(own.get(row.key))
            field.setPlaceholderText(show_exact(float(f"{row.shipped:.3g}"), 0))
            self._said[row.key].set_words(row.said)

    def _add(self, row: Row) -> None:
        field = NumberField(self._reader(row.key), row.unit, 0, 1.0, may_be_empty=True)
        field.setAccessibleName(f"{row.words}, own figure")
        keep_width(field, FIELD)
        field.valueEdited.connect(partial(self._set, row.key))
        said, name = Words("", 12, tone="ink2"), Words(row.words[:1].upper() + row.words[1:], 13)
        head, block = QHBoxLayout(), QVBoxLayout()
        block.setSpacing(1)
        head.addWidget(name, 1, Qt.AlignmentFlag.AlignTop)
        head.addWidget(field, 0, Qt.AlignmentFlag.AlignTop)
        block.addLayout(head)
        block.addWidget(said)
        self._rows.addLayout(block)
        self.fields[row.key], self._said[row.key] = field, said

    def _reader(self, key: str) -> Reader:
        """A reader for one figure; what makes no sense is refused in words."""
        plain = reader("number")

        def read(words: str) -> float | str:
            value = plain(words)
            if isinstance(value, str):
                return value
            _, refused = self._kind.check({key: value})
            return f"{refused[0].sentence} {refused[0].remedy}" if refused else value

        return read

    def _set(self, key: str, value: float | None) -> None:
        self._bench.do(self._kind.edit, key, value)

    def commit_pending(self) -> None:
        """Take what is being typed."""
        for field in self.fields.values():
            field.commit()
