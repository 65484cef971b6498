"""Where a ticket is made up: confirmations, copy number, and the record of what goes out."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QLocale

from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.design.ticket import Ticket, build
from fluxlab.design.ticket_rows import Rounded
from fluxlab.gui.bridge import Bench

Put = Callable[[Ticket], bool]


def _rounded(report: Report) -> Rounded:
    from fluxlab.design.evaluate import rounded_weights

    return rounded_weights(report.work, report)


class Desk:
    """The ticket of the recipe on the bench. Confirmations hold for one ticket: an edit or an issued copy ends them."""

    def __init__(self, bench: Bench, rounded: Callable[[Report], Rounded] = _rounded) -> None:
        self.bench = bench
        self._round = rounded
        self._confirmed: frozenset[str] = frozenset()
        self._for: Work | None = None
        self._report: Report | None = None
        self._rounded: Rounded | None = None

    @property
    def confirmed(self) -> frozenset[str]:
        """The rules confirmed for the present ticket."""
        if self._for is not None and self._for != self.bench.work:
            self._confirmed, self._for = frozenset(), None
        return self._confirmed

    def confirm(self, rule: str, on: bool) -> None:
        """Note that the operator confirms a rule for this ticket, or takes it back."""
        held = self.confirmed
        self._for = self.bench.work
        self._confirmed = held | {rule} if on else held - {rule}

    @property
    def saves_first(self) -> bool:
        """Whether the recipe is kept as a new revision before it goes out."""
        return bool(self.bench.save_words)

    @property
    def revision(self) -> int | None:
        """The revision that the ticket will carry, None for a recipe that cannot be kept."""
        if self.saves_first:
            return (self.bench.revision or 0) + 1
        return None if self.bench.document.dirty else self.bench.revision

    @property
    def copy(self) -> int:
        """The number that the next copy will carry, as far as the library tells; the record has the last word."""
        from fluxlab.store.problem import StoreProblem

        library = self.bench.library
        try:
            return 1 if library is None else library.next_copy(self.bench.work.recipe.uid, self.revision)
        except StoreProblem:
            return 1

    def ticket(self, when: datetime) -> Ticket:
        """The ticket as it would go out now."""
        report = self.bench.report
        if self._rounded is None or report is not self._report:
            self._report, self._rounded = report, self._round(report)
        return build(
            report,
            revision=self.revision,
            copy=self.copy,
            when=when,
            confirmed=self.confirmed,
            rounded=self._rounded,
            mark=QLocale().decimalPoint(),
        )

    def issue(self, put: Put) -> Ticket | None:
        """Keep the recipe where it is not, record the ticket and put it out; None if any of it was refused.

        The record comes first, so that no two papers ever carry the same number.
        """
        confirmed = self.confirmed
        if self.saves_first and not self.bench.save():
            return None
        ticket = self._recorded(self.ticket(datetime.now()), confirmed)
        if ticket is None or not put(ticket):
            return None
        self._confirmed, self._for = frozenset(), None
        return ticket

    def _recorded(self, ticket: Ticket, confirmed: frozenset[str]) -> Ticket | None:
        """The ticket with the number that the library gave it; None if it could not be recorded."""
        from fluxlab.store.problem import StoreProblem
        from fluxlab.store.report_document import ticket_text

        library, recipe = self.bench.library, self.bench.work.recipe
        if library is None or library.read_only:
            return ticket
        try:
            copy = library.record_ticket(
                ticket_text(ticket),
                ore=recipe.ore.uid,
                recipe=recipe.uid,
                revision=ticket.revision,
                confirmed=confirmed,
            )
        except StoreProblem as problem:
            self.bench.refused.emit(problem.sentence)
            return None
        return ticket if copy == ticket.copy else replace(ticket, copy=copy)
