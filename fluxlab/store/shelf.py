"""The shelf as kept: the present one, and the last states before it."""

from fluxlab.design.recipe import Shelf
from fluxlab.store import document
from fluxlab.store.part import Part, now_text, sound
from fluxlab.store.shelves import merged

KEPT = 50  # states of the shelf that stay, judgement


class Shelves(Part):
    """The present shelf of the workshop."""

    def load_shelf(self) -> Shelf | None:
        """The shelf as last kept, None in a new library."""
        row = self._db.one("SELECT document FROM shelf ORDER BY number DESC LIMIT 1")
        return None if row is None else sound(document.read_shelf(row[0], ranges=False), "the shelf")

    def save_shelf(self, shelf: Shelf, since: Shelf | None = None) -> Shelf:
        """Keep the shelf and return what is kept now.

        `since` is the shelf that the changes started from: what another window has changed meanwhile stays then.
        """
        with self._db.writing("save the shelf") as connection:
            there = self.load_shelf()
            kept = shelf if since is None or there is None or there == since else merged(since, shelf, there)
            if kept != there:
                connection.execute(
                    "INSERT INTO shelf (saved, document) VALUES (?, ?)", (now_text(), document.shelf_text(kept))
                )
                connection.execute("DELETE FROM shelf WHERE number <= (SELECT max(number) FROM shelf) - ?", (KEPT,))
        return kept
