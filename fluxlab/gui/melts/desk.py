"""Where melts are entered: the tickets they belong to, the record they go into, and the recipe they are judged by."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from fluxlab.gui.bridge import Bench

if TYPE_CHECKING:
    from fluxlab.design.report_types import Report
    from fluxlab.design.ticket import Ticket
    from fluxlab.learn.melt import Beforehand, Melt
    from fluxlab.ore.ore_types import OreType
    from fluxlab.store.rows import KeptMelt, PrintedTicket

HALF_TYPED = "melt being entered"
NO_LIBRARY = "There is no library open, so no melt can be recorded."
T = TypeVar("T")


class MeltDesk:
    """What the Melts place asks of the library; whatever the disk refuses is said and changes nothing."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self._reports: dict[tuple[str, int | None], Report | None] = {}

    @property
    def ore(self) -> str:
        """The ore type on the bench."""
        return self.bench.work.recipe.ore.uid

    def _read(self, ask: Callable[[], T], otherwise: T) -> T:
        from fluxlab.store.problem import StoreProblem

        if self.bench.library is None:
            return otherwise
        try:
            return ask()
        except StoreProblem as problem:
            self.bench.refused.emit(problem.sentence)
            return otherwise

    def melts(self, everything: bool = False) -> "tuple[KeptMelt, ...]":
        """The melts on record of the ore type on the bench, or of all."""
        library = self.bench.library
        nothing: tuple[KeptMelt, ...] = ()
        if library is None:
            return nothing
        return self._read(lambda: library.melts(None if everything else self.ore), nothing)

    def whole_record(self) -> "tuple[KeptMelt, ...]":
        """Every entry of every ore type, corrected and struck ones too."""
        library = self.bench.library
        nothing: tuple[KeptMelt, ...] = ()
        return nothing if library is None else self._read(library.melt_record, nothing)

    def entries(self, melt: "Melt") -> "tuple[Melt, ...]":
        """All entries of a melt, the first first: what was corrected stays on record."""
        library = self.bench.library
        nothing: tuple[KeptMelt, ...] = ()
        if library is None:
            return ()
        return tuple(kept.melt for kept in self._read(lambda: library.melt_entries(melt.uid), nothing))

    def ore_name(self, ore: str) -> str:
        """The name of an ore type as the library has it."""
        library = self.bench.library
        return "" if library is None else self._read(lambda: library.ore(ore).name, "another ore")

    def tickets(self) -> "list[tuple[PrintedTicket, Ticket]]":
        """The tickets of this ore type that a melt can belong to, the latest first."""
        from fluxlab.store.report_document import read_ticket

        library = self.bench.library
        if library is None:
            return []
        nothing: tuple[PrintedTicket, ...] = ()
        found = []
        for each in self._read(lambda: library.tickets_of_ore(self.ore), nothing):
            ticket = read_ticket(each.document).value
            if ticket is not None and ticket.kind == "charge" and ticket.rows:
                found.append((each, ticket))
        return found

    def has_ticket(self) -> bool:
        """Whether any ticket was printed for this ore type."""
        library = self.bench.library
        return library is not None and self._read(lambda: library.last_ticket(self.ore) is not None, False)

    def blank(self, printed: "PrintedTicket", ticket: "Ticket") -> "Melt":
        """An empty entry for a ticket, poured now; the button goes on the balance that the last one was weighed on."""
        from datetime import datetime

        from fluxlab.design.start import new_id
        from fluxlab.store.beforehand import blank_melt

        made = blank_melt(new_id(), printed, ticket, self._of_ticket(printed, ticket))
        last = next((kept.melt.button_step for kept in reversed(self.melts(everything=True))), None)
        return replace(made, poured=datetime.now().replace(second=0, microsecond=0), button_step=last)

    def correction_of(self, melt: "Melt") -> "Melt":
        """A new entry that takes the place of one on record, the same until something is changed."""
        from fluxlab.design.start import new_id

        return replace(melt, uid=new_id(), replaces=melt.uid, struck=False)

    def held_today(self, melt: "Melt") -> "Beforehand | None":
        """What the charge of a melt holds by the grades that its ore type has now; None where that is no news.

        What was predicted stays as it was said.
        """
        from fluxlab.store.beforehand import beforehand_of
        from fluxlab.store.report_document import read_ticket

        library, ore = self.bench.library, self.bench.work.recipe.ore
        if library is None or melt.ore != ore.uid:
            return None
        printed = self._read(lambda: library.ticket(melt.ticket), None)
        ticket = None if printed is None else read_ticket(printed.document).value
        report = None if ticket is None else self._made(melt.recipe, melt.revision, ticket, ore)
        if report is None:
            return None
        now, before = beforehand_of(report), melt.beforehand
        found = replace(before, silver=now.silver, gold=now.gold, limit=now.limit, grade_error=now.grade_error)
        return None if _alike(found.silver, before.silver) and _alike(found.gold, before.gold) else found

    def record(self, melt: "Melt") -> bool:
        """Write an entry; False if it was refused."""
        from fluxlab.store.problem import StoreProblem

        library = self.bench.library
        if library is None:
            self.bench.refused.emit(NO_LIBRARY)
            return False
        try:
            library.record_melt(melt)
        except StoreProblem as problem:
            self.bench.refused.emit(problem.sentence)
            return False
        self.forget_half_typed(melt.ore)
        self.bench.kept.emit()
        return True

    def strike(self, melt: "Melt") -> bool:
        """Say by a new entry that there was no such melt."""
        return self.record(replace(self.correction_of(melt), struck=True))

    # -- what is typed and not yet recorded -----------------------------------------------------------------------

    def keep_half_typed(self, melt: "Melt") -> None:
        """Keep an entry that is being typed, so that a crash does not take it."""
        from fluxlab.store.melt_document import melt_text

        library = self.bench.library
        if library is not None and not library.read_only:
            self._read(lambda: library.set_meta(_half_typed_of(melt.ore), melt_text(melt)), None)

    def half_typed(self) -> "Melt | None":
        """The entry of this ore type that was being typed when the program last ended, None if there was none."""
        from fluxlab.store.melt_document import read_melt

        library = self.bench.library
        text = "" if library is None else self._read(lambda: library.meta(_half_typed_of(self.ore)), "")
        melt = read_melt(text, ranges=False).value if text else None
        return melt if melt is not None and melt.ore == self.ore else None

    def forget_half_typed(self, ore: str) -> None:
        """Drop the entry of an ore type that was being typed."""
        library, key = self.bench.library, _half_typed_of(ore)
        if library is not None and not library.read_only and self._read(lambda: library.meta(key), ""):
            self._read(lambda: library.set_meta(key, ""), None)

    # -- the recipe behind a melt ---------------------------------------------------------------------------------

    def on_bench(self, melt: "Melt") -> bool:
        """Whether the recipe of a melt lies on the bench."""
        return melt.recipe == self.bench.work.recipe.uid

    def report_for(self, melt: "Melt") -> "Report | None":
        """The report that a melt is judged by: of the bench where its recipe lies there, else of the kept revision."""
        return self.bench.report if self.on_bench(melt) else self._kept(melt.recipe, melt.revision)

    def as_poured(self, melt: "Melt", report: "Report") -> "Report":
        """The report that causes are ranked by: the recipe poured as much hotter and held as much longer than planned
        as this melt was, at the weights that it has."""
        from fluxlab.design.evaluate import evaluate

        recipe, before = report.work.recipe, melt.beforehand
        hotter = _more(melt.pour_temperature, before.pour_temperature)
        longer = _more(melt.hold, before.hold)
        if not hotter and not longer:
            return report
        grams = {line.flux: line.grams for line in report.lines}
        poured = replace(
            recipe,
            pour_temperature=recipe.pour_temperature + hotter,
            hold=max(recipe.hold + longer, 0.0),
            lines=tuple(replace(line, grams=grams.get(line.flux, line.grams)) for line in recipe.lines),
        )
        return evaluate(replace(report.work, recipe=poured))

    def _kept(self, recipe: str, revision: int | None) -> "Report | None":
        key = (recipe, revision)
        if key not in self._reports:
            self._reports[key] = self._made(recipe, revision)
        return self._reports[key]

    def _made(
        self, recipe: str, revision: int | None, ticket: "Ticket | None" = None, graded: "OreType | None" = None
    ) -> "Report | None":
        """The report of a kept revision, weighed as on a ticket and with the grades of an ore type where given."""
        from fluxlab.design.evaluate import evaluate
        from fluxlab.store.beforehand import as_weighed
        from fluxlab.store.document import read_work

        library = self.bench.library
        if library is None or revision is None:
            return None
        text = self._read(lambda: library.text(recipe, revision), "")
        work = read_work(text, ranges=False).value if text else None
        if work is None:
            return None
        if graded is not None:
            ore = replace(work.recipe.ore, silver=graded.silver, gold=graded.gold)
            work = replace(work, recipe=replace(work.recipe, ore=ore))
        return evaluate(work if ticket is None else as_weighed(work, ticket))

    def _of_ticket(self, printed: "PrintedTicket", ticket: "Ticket") -> "Report | None":
        return self._made(printed.recipe, printed.revision, ticket)


def _half_typed_of(ore: str) -> str:
    return f"{HALF_TYPED} {ore}"


def _more(read: float | None, planned: float | None) -> float:
    return 0.0 if read is None or planned is None else read - planned


def _alike(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= 1e-6 * max(abs(one), abs(other))
