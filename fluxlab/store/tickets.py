"""Tickets as printed: they stay, each with its copy number and what was confirmed for it."""

import json
from collections.abc import Collection
from typing import Any

from fluxlab.store.part import Part, clean, moment, now_text
from fluxlab.store.rows import PrintedTicket

_TICKETS = "SELECT number, ore, recipe, revision, copy, printed, confirmed, document FROM ticket"


class Tickets(Part):
    """The record of what was printed."""

    def next_copy(self, recipe: str, revision: int | None) -> int:
        """The copy number that the next ticket of this revision will get, should no other window print first."""
        row = self._db.one(
            "SELECT coalesce(max(copy), 0) + 1 FROM ticket WHERE recipe = ? AND revision IS ?", (recipe, revision)
        )
        return int(row[0])

    def record_ticket(
        self, document: str, *, ore: str, recipe: str, revision: int | None, confirmed: Collection[str] = ()
    ) -> int:
        """Record a ticket that is about to be printed (its `document` as JSON text) and return its copy number."""
        with self._db.writing("record the ticket") as connection:
            copy = self.next_copy(recipe, revision)
            connection.execute(
                "INSERT INTO ticket (ore, recipe, revision, copy, printed, confirmed, document) "
                "VALUES (?, ?, ?, ?, ?, ?, ?)",
                (ore, recipe, revision, copy, now_text(), json.dumps(sorted(confirmed)), clean(document)),
            )
        return copy

    def last_ticket(self, ore: str) -> PrintedTicket | None:
        """The ticket last printed for an ore type, None if there was none."""
        row = self._db.one(f"{_TICKETS} WHERE ore = ? ORDER BY number DESC LIMIT 1", (ore,))
        return None if row is None else _printed(row)

    def ticket(self, number: int) -> PrintedTicket | None:
        """The ticket with this number in the library."""
        row = self._db.one(f"{_TICKETS} WHERE number = ?", (number,))
        return None if row is None else _printed(row)

    def tickets_of_ore(self, ore: str) -> tuple[PrintedTicket, ...]:
        """The tickets of an ore type, the latest first."""
        rows = self._db.rows(f"{_TICKETS} WHERE ore = ? ORDER BY number DESC", (ore,))
        return tuple(_printed(row) for row in rows)

    def tickets(self, recipe: str | None = None) -> tuple[PrintedTicket, ...]:
        """The tickets of a recipe, or all, the latest first."""
        rows = self._db.rows(f"{_TICKETS} WHERE recipe = coalesce(?, recipe) ORDER BY number DESC", (recipe,))
        return tuple(_printed(row) for row in rows)


def _printed(row: Any) -> PrintedTicket:
    return PrintedTicket(row[0], row[1], row[2], row[3], row[4], moment(row[5]), tuple(json.loads(row[6])), row[7])
